"""The scatter that a plan assumes: fitted in past studies, or guessed by the owner; always said which."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.inference.design import Level
from ohmsworth.inference.engine import Engine
from ohmsworth.readings.plan_request import PlanRequest
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import Results, find_results

LEVELS = ("specimen", "response", "mating", "reading")
GUESSED = "stated in study.toml"
#: What a level of a past study counts as, where it goes by another name.
_COUNTS_AS = {"plug": "specimen", "socket": "specimen", "contact": "specimen"}


@dataclass(frozen=True, slots=True)
class Found:
    """Variance of one level in one past study, relative to the resistance, its weight, and what it includes."""

    level: str
    variance: float
    weight: float
    includes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Past:
    """What past studies say: the scatter of each, and the resistance of each condition."""

    name: str
    found: tuple[Found, ...]
    resistance: dict[str, float]


@dataclass(frozen=True, slots=True)
class Assumed:
    """A level's relative standard deviation, and where it is from."""

    level: str
    deviation: float
    source: str


def past_study(name: str, loaded: LoadedStudy) -> Past:
    """Fit a past study and take its scatter."""
    results = find_results(loaded)
    conditions = {results.table.condition.names[c.condition]: c.value for c in results.conditions}
    engine = results.measured.engine
    return Past(name, () if engine is None else _relative(results, engine), conditions)


def _relative(results: Results, engine: Engine) -> tuple[Found, ...]:
    """Its scatter relative to the resistance."""
    found = scatter_found(engine, range(engine.design.conditions))
    if results.study.scale == "log":
        return found
    # standard deviations in ohm: relative to the middle of the conditions
    unit = float(np.median([abs(c.value) for c in results.conditions])) or 1.0
    return tuple(replace(one, variance=one.variance / unit**2) for one in found)


def scatter_found(engine: Engine, conditions: Sequence[int]) -> tuple[Found, ...]:
    """Variance of every level on the scale of analysis, averaged over `conditions`, with the groups that tell of it."""
    design = engine.design
    sums: dict[str, list[tuple[float, int, Level]]] = {}
    for level in design.levels:
        each = [engine.fit.of(level.name, c) for c in conditions]
        groups = level.size - design.conditions
        if level.name in engine.split:
            own = level.node[np.isin(design.condition, list(conditions))]
            groups = len(np.unique(own)) - len(conditions)
        sums.setdefault(_COUNTS_AS.get(level.name, level.name), []).append(
            (float(np.mean(each)), groups, level)
        )
    return tuple(
        Found(
            name,
            sum(variance for variance, _, _ in parts),
            float(max(min(groups for _, groups, _ in parts), 1)),
            tuple(inner for _, _, level in parts for inner in level.merged if inner in LEVELS),
        )
        for name, parts in sums.items()
    )


def assumed_scatter(request: PlanRequest, pasts: Sequence[Past]) -> tuple[Assumed, ...]:
    """The scatter of every level that the plan needs, from past studies first, else as guessed.

    Raises
    ------
    InputRefused
        When a level is neither in a past study nor guessed.
    """
    needed = [level for level in LEVELS if level != ("specimen" if request.paired else "response")]
    assumed = {level: _of_level(level, request, pasts) for level in needed}
    missing = [level for level, found in assumed.items() if found is None]
    if missing:
        raise InputRefused(tuple(_missing(level, bool(pasts)) for level in missing))
    return tuple(found for found in assumed.values() if found is not None)


def _of_level(level: str, request: PlanRequest, pasts: Sequence[Past]) -> Assumed | None:
    found = [(past.name, one) for past in pasts for one in past.found if one.level == level]
    if found:
        weights = [one.weight for _, one in found]
        variance = float(np.average([one.variance for _, one in found], weights=weights))
        names = " and ".join(dict.fromkeys(f"'{name}'" for name, _ in found))
        inner = dict.fromkeys(i for _, one in found for i in one.includes)
        told = f" (with {' and '.join(inner)})" if inner else ""
        return Assumed(level, float(np.sqrt(variance)), f"found in {names}{told}")
    outer = next((f"'{past.name}'" for past in pasts for one in past.found if level in one.includes), None)
    if outer is not None:  # a guess on top would count it twice
        return Assumed(level, 0.0, f"in the level above it, in {outer}")
    guess: float | None = getattr(request, level)
    return None if guess is None else Assumed(level, guess, GUESSED)


def _missing(level: str, from_past: bool) -> Fault:
    found = "no such scatter in the past studies, and no guess" if from_past else "no guess of the scatter"
    words = {
        "specimen": "how much specimens of one kind differ",
        "response": "how differently specimens take the change of condition",
        "mating": "how much one specimen differs from mating to mating",
        "reading": "how much readings of one mating differ",
    }
    mend = f'Add {level} = "10 %" or what you expect, or name a past study with --from.'
    return Fault(f"study.toml, [plan], key '{level}'", found, words[level], mend)
