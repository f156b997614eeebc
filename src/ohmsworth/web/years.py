"""A small drawing of resistances over the years: where each dot, tick and line stands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from ohmsworth.units import show, show_stated
from ohmsworth.work.cards.specimen_history import InStudy, Point

WIDTH, HEIGHT = 900.0, 340.0
LEFT, RIGHT, TOP, BOTTOM = 90.0, 880.0, 16.0, 290.0
#: More dots than these are thinned: no eye tells them apart.
MOST_DOTS = 2000
#: Dots of one study stand beside each other over this width at least.
STRIP = 18.0
#: Ticks nearer than this would run into each other.
_APART = 96.0
_SHORT = timedelta(days=2)

#: Outlines about the origin, so that studies are told apart without a colour.
SIGNS = (
    "M-5 0a5 5 0 1 0 10 0a5 5 0 1 0 -10 0",
    "M-4.5 -4.5h9v9h-9z",
    "M0 -6L5.5 4.5L-5.5 4.5z",
    "M0 -6L6 0L0 6L-6 0z",
    "M0 6L5.5 -4.5L-5.5 -4.5z",
    "M-5 -1.6h3.4v-3.4h3.2v3.4h3.4v3.2h-3.4v3.4h-3.2v-3.4h-3.4z",
)


@dataclass(frozen=True, slots=True)
class Dot:
    """One resistance: where it stands, its sign, and what it is."""

    x: float
    y: float
    sign: str
    words: str


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on an axis."""

    at: float
    label: str


@dataclass(frozen=True, slots=True)
class Years:
    """The drawing; `not_drawn` counts what a logarithmic scale cannot show, `thinned` says that dots were left out."""

    dots: tuple[Dot, ...]
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    limit: Tick | None
    not_drawn: int
    thinned: bool
    words: str


def sign_of(place: int) -> str:
    """The outline by which a study is told apart."""
    return SIGNS[place % len(SIGNS)]


def draw_years(studies: Sequence[InStudy], limit: float | None, *, logarithmic: bool) -> Years | None:
    """Draw the resistances (ohm) of `studies`, one sign a study; None where there is nothing to draw."""
    found = [(place, one, point) for place, one in enumerate(studies) for point in one.points]
    shown = [each for each in found if not logarithmic or each[2].resistance > 0]
    if not shown:
        return None
    step = -(-len(shown) // MOST_DOTS)
    values = [point.resistance for _, _, point in shown] + ([limit] if limit else [])
    scale = _Scale(min(values), max(values), logarithmic)
    across = _across(studies)
    dots = tuple(
        Dot(
            round(across[place, point], 1),
            round(scale.at(point.resistance), 1),
            sign_of(place),
            f"{show(point.resistance, 'Ω')}, {point.condition or 'no condition'}, {point.at:%Y-%m-%d}, study {one.study}",
        )
        for place, one, point in shown[::step]
    )
    return Years(
        dots,
        _dates(studies, across),
        scale.ticks(),
        Tick(round(scale.at(limit), 1), show_stated(limit, "Ω")) if limit else None,
        len(found) - len(shown),
        step > 1,
        _words(studies, values),
    )


def _words(studies: Sequence[InStudy], values: Sequence[float]) -> str:
    read = [one for one in studies if one.points]
    count = sum(len(one.points) for one in read)
    return (
        f"{count} resistances of {len(read)} studies from {read[0].points[0].at:%Y-%m-%d} on, "
        f"between {show(min(values), 'Ω')} and {show(max(values), 'Ω')}"
    )


class _Scale:
    """From ohm to the height in the drawing."""

    def __init__(self, low: float, high: float, logarithmic: bool) -> None:
        self.logarithmic = logarithmic
        if logarithmic:
            self.low, self.high = math.log10(low) - 0.08, math.log10(high) + 0.08
        else:
            room = 0.08 * (high - low) or abs(high) or 1.0
            self.low, self.high = min(low - room, 0.0), high + room

    def at(self, value: float) -> float:
        place = math.log10(value) if self.logarithmic else value
        return BOTTOM - (place - self.low) / (self.high - self.low) * (BOTTOM - TOP)

    def ticks(self) -> tuple[Tick, ...]:
        values = self._decades() if self.logarithmic else self._even()
        return tuple(
            Tick(round(self.at(value), 1), show_stated(value, "Ω") if value else "0") for value in values
        )

    def _decades(self) -> list[float]:
        wide = self.high - self.low > 2.2
        steps = (1,) if wide else (1, 2, 5) if self.high - self.low > 0.9 else (1, 1.5, 2, 3, 4, 5, 6, 8)
        first, last = math.floor(self.low), math.ceil(self.high)
        every = max(1, (last - first) // 8)
        found = [
            step * 10.0**power
            for power in range(first, last + 1, every)
            for step in steps
            if self.low <= math.log10(step * 10.0**power) <= self.high
        ]
        return found or [10 ** ((self.low + self.high) / 2)]

    def _even(self) -> list[float]:
        rough = (self.high - self.low) / 5
        power = 10.0 ** math.floor(math.log10(rough))
        step = next(power * size for size in (1, 2, 5, 10) if power * size >= rough)
        return [n * step for n in range(math.ceil(self.low / step), math.floor(self.high / step) + 1)]


def _across(studies: Sequence[InStudy]) -> dict[tuple[int, Point], float]:
    """Where each point stands by its time; by its order where all were read within two days."""
    points = [(place, point) for place, one in enumerate(studies) for point in one.points]
    times = [point.at.timestamp() for _, point in points]
    first, span = min(times), max(times) - min(times)
    inner = LEFT + STRIP, RIGHT - STRIP
    if span < _SHORT.total_seconds():
        apart = (inner[1] - inner[0]) / max(len(points) - 1, 1)
        middle = len(points) == 1
        return {
            each: (inner[0] + inner[1]) / 2 if middle else inner[0] + number * apart
            for number, each in enumerate(points)
        }
    found = {}
    for place, one in enumerate(studies):
        for number, point in enumerate(one.points):
            beside = (number / max(len(one.points) - 1, 1) - 0.5) * STRIP if len(one.points) > 1 else 0.0
            found[place, point] = (
                inner[0] + (point.at.timestamp() - first) / span * (inner[1] - inner[0]) + beside
            )
    return found


def _dates(studies: Sequence[InStudy], across: dict[tuple[int, Point], float]) -> tuple[Tick, ...]:
    """The day of each study's first reading, as far as there is room."""
    ticks: list[Tick] = []
    for place, one in enumerate(studies):
        if one.points:
            at = across[place, one.points[0]]
            if all(abs(at - tick.at) >= _APART for tick in ticks):
                ticks.append(Tick(round(at, 1), f"{one.points[0].at:%Y-%m-%d}"))
    return tuple(ticks)
