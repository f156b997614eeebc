"""The drawing beside the bench: every resistance as a dot, a lane a condition, its interval as a bar, and the limit.

It is made of plain shapes on the server in a few milliseconds; the report's pictures are drawn with more care and time.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from ohmsworth.report.live_answer import LiveAnswer, LiveCondition, LiveDot
from ohmsworth.units import scale_for, show, show_stated

WIDTH, LANE, TOP, LEFT, RIGHT, FOOT = 440, 62, 18, 14, 14, 34
#: A limit further away than this many times the span of the dots is told and not drawn.
FAR = 4.0
TICKS = 5
#: Least distance of two labels below the scale, and of the one beside that with the unit.
APART, APART_FROM_UNIT = 34, 66


@dataclass(frozen=True, slots=True)
class Dot:
    """One resistance; `used` is False where it is left out."""

    x: float
    y: float
    used: bool
    title: str


@dataclass(frozen=True, slots=True)
class Lane:
    """One condition; `low_cut` and `high_cut` say that the interval goes on beyond that edge."""

    label: str
    y: float
    value: float | None
    low: float | None
    high: float | None
    dots: tuple[Dot, ...]
    low_cut: bool = False
    high_cut: bool = False


@dataclass(frozen=True, slots=True)
class Dots:
    """The drawing, in its own units; `limit` is None where there is none or it lies far away."""

    width: int
    height: int
    base: float
    lanes: tuple[Lane, ...]
    ticks: tuple[tuple[float, str], ...]
    limit: float | None
    limit_label: str
    limit_far: str
    left_out: bool
    cut_off: tuple[str, ...]
    alt: str


def dots_of(answer: LiveAnswer) -> Dots | None:
    """The drawing of `answer`; None before the first reading."""
    if answer.axis is None or not answer.dots:
        return None
    limit = answer.limit.resistance if answer.limit else None
    low, high, near = _ends(answer, limit)
    place = _scale(low, high, answer.scale == "log")
    names = list(dict.fromkeys(dot.condition for dot in answer.dots))
    found = {one.condition: one for one in answer.conditions}
    lanes = tuple(
        _lane(name, TOP + (i + 0.62) * LANE, found.get(name), answer.dots, place, (low, high))
        for i, name in enumerate(names)
    )
    base = TOP + len(names) * LANE + 6
    label = f"limit {show_stated(limit, 'Ω')}" if limit is not None else ""
    return Dots(
        WIDTH,
        int(base + FOOT),
        base,
        lanes,
        _ticks(low, high, place),
        place(limit) if limit is not None and near else None,
        label,
        f"The {label} is beyond the {'right' if limit > high else 'left'} edge."
        if limit is not None and not near
        else "",
        any(not dot.used for dot in answer.dots),
        tuple(_cut_off(one) for one in answer.conditions if any(_cuts(one, low, high))),
        _alt(answer, names),
    )


def _ends(answer: LiveAnswer, limit: float | None) -> tuple[float, float, bool]:
    """Ends of the scale, and whether the limit is on it."""
    assert answer.axis is not None
    low, high = answer.axis
    if high <= low:
        low, high = low * 0.9, high * 1.1 or 1e-3
    near = False
    if limit is not None:
        span = high - low
        near = low - FAR * span <= limit <= high + FAR * span
        if near:
            low, high = min(low, limit), max(high, limit)
    room = 0.06 * (high - low)
    if answer.scale == "log" and low > 0:
        return max(low - room, low / 1.3), high + room, near
    return low - room, high + room, near


def _scale(low: float, high: float, log: bool) -> Callable[[float], float]:
    log = log and low > 0
    start, end = (math.log(low), math.log(high)) if log else (low, high)

    def place(value: float) -> float:
        at = math.log(max(value, low)) if log else value
        share = (at - start) / (end - start)
        return round(LEFT + min(max(share, 0.0), 1.0) * (WIDTH - LEFT - RIGHT), 1)

    return place


def _lane(
    name: str,
    y: float,
    found: LiveCondition | None,
    dots: tuple[LiveDot, ...],
    place: Callable[[float], float],
    ends: tuple[float, float],
) -> Lane:
    own = [dot for dot in dots if dot.condition == name]
    order = list(dict.fromkeys(dot.specimen for dot in own))
    marks = tuple(
        Dot(
            place(dot.resistance),
            round(y - 11 + 22 * (order.index(dot.specimen) + 0.5) / len(order), 1),
            dot.used,
            _told(dot),
        )
        for dot in own
    )
    if found is None:
        return Lane(name, y, None, None, None, marks)
    low = place(found.low) if found.low is not None else None
    high = place(found.high) if found.high is not None else None
    return Lane(name, y, place(found.resistance), low, high, marks, *_cuts(found, *ends))


def _cuts(one: LiveCondition, low: float, high: float) -> tuple[bool, bool]:
    """Whether the interval goes on beyond the left and the right edge."""
    return one.low is not None and one.low < low, one.high is not None and one.high > high


def _cut_off(one: LiveCondition) -> str:
    """Where an interval ends that is cut off, for the line below the drawing."""
    whole = f"{show(one.low or 0.0, 'Ω')} to {show(one.high or 0.0, 'Ω')}"
    return f"The interval of '{one.condition}' goes on beyond the edge where its bar has an arrow: {whole}."


def _told(dot: LiveDot) -> str:
    mating = f", mating {dot.mating}" if dot.mating else ""
    return f"{dot.specimen}{mating}: {show(dot.resistance, 'Ω', 4)}{'' if dot.used else ', left out'}"


def _ticks(low: float, high: float, place: Callable[[float], float]) -> tuple[tuple[float, str], ...]:
    """Round values across the scale, all in one unit."""
    span = high - low
    step = 10 ** math.floor(math.log10(span / TICKS))
    step = next(step * m for m in (1, 2, 5, 10, 20) if span / (step * m) <= TICKS)
    factor, unit = scale_for(max(abs(low), abs(high)), "Ω")
    decimals = max(0, -math.floor(math.log10(step / factor) + 1e-9))
    first = math.ceil(low / step)
    values = [i * step for i in range(first, math.floor(high / step) + 1)]
    told = [
        (place(v), f"{v / factor:.{decimals}f}" + (f" {unit}" if v == values[-1] else "")) for v in values
    ]
    return _apart(told)


def _apart(told: list[tuple[float, str]]) -> tuple[tuple[float, str], ...]:
    """Those of the labels that do not run into one another, the last of them always."""
    kept = told[-1:]
    for one in reversed(told[:-1]):
        if kept[0][0] - one[0] >= (APART_FROM_UNIT if len(kept) == 1 else APART):
            kept.insert(0, one)
    return tuple(kept)


def _alt(answer: LiveAnswer, names: list[str]) -> str:
    told = []
    for name in names:
        own = [dot.resistance for dot in answer.dots if dot.condition == name]
        told.append(f"{name}: {len(own)} from {show(min(own), 'Ω')} to {show(max(own), 'Ω')}")
    return "Resistances so far, a lane a condition. " + "; ".join(told) + "."
