"""Which readings the evidence figure draws, and where in its column each one stands."""

from __future__ import annotations

import math
from dataclasses import replace

from ohmsworth.report.document import Dot, EvidenceFigure

#: More dots than this make a picture heavy and no clearer.
MOST_DOTS = 1500
#: The flag of readings that stand at the edge of a logarithmic axis because they have no place on it.
NOT_POSITIVE = "not above zero, drawn at the edge"
#: Successive multiples of the golden ratio fill a slot evenly, in any number.
_GOLDEN = (math.sqrt(5) - 1) / 2


def drawn_dots(figure: EvidenceFigure) -> tuple[Dot, ...]:
    """The dots to draw: all, or an even pick that keeps each condition's extremes and the flagged."""
    dots = _with_values(figure)
    if len(dots) <= MOST_DOTS:
        return dots
    kept = _extremes(dots)
    flagged = [i for i, dot in enumerate(dots) if dot.flag and i not in kept]
    kept |= set(_every(flagged, MOST_DOTS // 2))
    rest = [i for i, dot in enumerate(dots) if i not in kept and not dot.flag]
    kept |= set(_every(rest, MOST_DOTS - len(kept)))
    return tuple(dots[i] for i in sorted(kept))


def _with_values(figure: EvidenceFigure) -> tuple[Dot, ...]:
    """The readings that have a value, those that a logarithmic axis cannot hold marked as such."""
    dots = (dot for dot in figure.dots if math.isfinite(dot.value))
    if not figure.logarithmic:
        return tuple(dots)
    return tuple(dot if dot.value > 0 or dot.flag else replace(dot, flag=NOT_POSITIVE) for dot in dots)


def flags_of(figure: EvidenceFigure) -> list[str]:
    """Every kind of flag among the readings, in the order of first mention."""
    return list(dict.fromkeys(dot.flag for dot in _with_values(figure) if dot.flag))


def _extremes(dots: tuple[Dot, ...]) -> set[int]:
    lowest: dict[str, int] = {}
    highest: dict[str, int] = {}
    for i, dot in enumerate(dots):
        if dot.value < dots[lowest.setdefault(dot.condition, i)].value:
            lowest[dot.condition] = i
        if dot.value > dots[highest.setdefault(dot.condition, i)].value:
            highest[dot.condition] = i
    return set(lowest.values()) | set(highest.values())


def _every(indices: list[int], most: int) -> list[int]:
    if len(indices) <= most:
        return indices
    return [indices[int(k * len(indices) / most)] for k in range(max(most, 0))]


def dots_note(figure: EvidenceFigure) -> str:
    """What the picture leaves out, or ""."""
    drawn, finite = len(drawn_dots(figure)), sum(math.isfinite(dot.value) for dot in figure.dots)
    words = []
    if drawn < finite:
        words.append(
            f"{drawn} of {finite} readings are drawn, picked evenly, with the extremes; the data hold all."
        )
    if finite < len(figure.dots):
        words.append(f"{len(figure.dots) - finite} readings without a value are not drawn.")
    return " ".join(words)


def condition_names(figure: EvidenceFigure) -> list[str]:
    """The conditions in the order of their first mention."""
    named = [m.condition for m in figure.marks] + [d.condition for d in figure.dots]
    named += [c for pair in figure.pairs for c in pair.conditions]
    return list(dict.fromkeys(named))


def specimen_offsets(figure: EvidenceFigure) -> dict[str, float]:
    """Each specimen's place within a column, −0.5 to 0.5: the same in every column."""
    names = list(dict.fromkeys([d.specimen for d in figure.dots] + [p.specimen for p in figure.pairs]))
    return {name: (index + 0.5) / len(names) - 0.5 for index, name in enumerate(names)}


def dot_offsets(dots: tuple[Dot, ...], specimens: dict[str, float]) -> list[float]:
    """Each dot's place within its column, −0.5 to 0.5: beside its specimen's, spread within the slot."""
    slot = 0.7 / max(len(specimens), 1)
    seen: dict[tuple[str, str], int] = {}
    offsets = []
    for dot in dots:
        key = (dot.condition, dot.specimen)
        turn = seen[key] = seen.get(key, -1) + 1
        offsets.append(specimens[dot.specimen] + slot * ((turn * _GOLDEN + 0.5) % 1.0 - 0.5))
    return offsets
