"""What past studies expect of this one: their variances of specimens, matings, readings put together as it is laid out.

The variance of a condition's mean is Σ σ_j² × (share of level j in the mean); of a paired difference, the response and all
inside it, under both conditions. Each mean square inside the specimens is expected to be its own variance and what is left
of those inside it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.design import Design, Level
from ohmsworth.inference.history import Against, Leant, lean, pooled_expectation
from ohmsworth.inference.means import cells_of, variance_shares
from ohmsworth.inference.unequal import level_squares

#: Levels that are told apart in no past study: what they scatter is in the specimens' there.
_OUTER = ("specimen", "response")


@dataclass(frozen=True, slots=True)
class PastScatter:
    """Level -> variance found in one past study under one condition (scale of analysis), and its degrees of freedom."""

    variances: Mapping[str, float]
    freedoms: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class History:
    """Past studies of the same kind of contact.

    Parameters
    ----------
    past
        For each condition of this study the past studies' scatter; none where none has any.
    coverage
        Of this study's intervals.
    studies, specimens
        Names of the past studies that have any, and how many specimens they had together.
    namesakes
        For each condition, whether past studies have one of its name; else all of theirs stand for it.
    """

    past: tuple[tuple[PastScatter, ...], ...]
    coverage: float
    studies: tuple[str, ...] = ()
    specimens: int = 0
    namesakes: tuple[bool, ...] = ()


def lean_on(
    history: History, design: Design, variance: float, freedom: float, conditions: tuple[int, ...]
) -> Leant | None:
    """Bring the variance of an estimate of this study together with its history.

    Parameters
    ----------
    history, design
        What is leant on, and by what.
    variance, freedom
        Of the estimate.
    conditions
        The condition whose mean it is, or the two that differ by it.

    Returns
    -------
    Leant or None
        None where history says nothing of it: crossed parts, one specimen a condition, a level that no past study has.
    """
    if not design.independent or "specimen" not in [level.name for level in design.levels]:
        return None
    parts = [_of_mean(history, design, c, len(conditions) > 1) for c in conditions]
    known = [part for part in parts if part is not None]
    if len(known) < len(parts) or not known:
        return None
    expected = sum(part[0] for part in known)
    spread = sum(part[0] * part[1] for part in known) / expected if expected > 0 else 0.0
    return lean(Against(variance, freedom, expected, spread), inside_of(history, design))


def inside_of(history: History, design: Design) -> tuple[Against, ...]:
    """Mean squares of this study inside its specimens, condition by condition, beside what history expects of them."""
    chain = list(design.nest[1:])
    places = {level.name: i for i, level in enumerate(chain)}
    found = []
    for name, (square, freedom) in level_squares(design).items():
        if name not in places or name in _OUTER:
            continue
        place = places[name]
        shares = {level.name: chain[place].size / level.size for level in chain[place:]}
        for condition, past in enumerate(history.past):
            separate = [one for one in past if name in one.variances]
            if separate and freedom[condition] > 0:
                expected, spread = _pooled(separate, shares, chain, name)
                found.append(Against(float(square[condition]), float(freedom[condition]), expected, spread))
    return tuple(found)


def _of_mean(history: History, design: Design, condition: int, compared: bool) -> tuple[float, float] | None:
    """Expected variance of one condition's mean (of its part in a comparison), and its spread."""
    outermost = "response" if compared and design.paired else "specimen"
    past = [one for one in history.past[condition] if outermost in one.variances]
    if not past:
        return None
    cell, size = cells_of(design)
    mine = design.condition[np.unique(cell, return_index=True)[1]] == condition
    shares = {
        level: float(share[mine].mean()) for level, share in variance_shares(design, cell, size).items()
    }
    shares |= {"response": 1.0} if outermost == "response" else dict.fromkeys(_OUTER, 1.0)
    if outermost == "response" and any(level.name == "contact" for level in design.crossed):
        shares["contact"] = 0.0  # what a contact is under both conditions cancels
    expected, spread = _pooled(past, shares, list(design.levels), outermost)
    return expected / int(mine.sum()), spread


def _pooled(
    past: list[PastScatter], shares: dict[str, float], chain: list[Level], outermost: str
) -> tuple[float, float]:
    """Expected variance by each past study, each weighing by its degrees of freedom at the outermost level."""
    shares = dict(shares)
    for (
        level
    ) in chain:  # levels that this study cannot tell apart have the share of the one that stands for them
        for name in level.merged:
            if level.name in shares:
                shares.setdefault(name, shares[level.name])
    each = [sum(v * shares.get(name, 0.0) for name, v in one.variances.items()) for one in past]
    return pooled_expectation(np.array(each), np.array([one.freedoms[outermost] for one in past]))
