"""Axes with explicit ticks in readable units: whole decades, 1-2-5 steps, and even steps."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from ohmsworth.adapters.render.measure import text_width
from ohmsworth.adapters.render.palette import TEXT_SIZE
from ohmsworth.units import scale_for, show, show_interval

Spec = dict[str, Any]

#: The ladder never shows less than a microohm nor more than a megohm: no threshold is sought beyond these.
LOWEST_DECADE, HIGHEST_DECADE = -6, 6
NO_BREAK = "\u00a0"
#: Sizes that a logarithmic axis will stretch to.
BELIEVED = (1e-9, 1e12)
#: Pixels between two labels of an axis from left to right.
_LABEL_GAP = 6
_DECADES = frozenset(float(f"1e{exponent}") for exponent in range(-15, 16))


def plain(value: float, unit: str) -> str:
    """A round tick value without trailing zeros: ``10 mΩ``, ``0.5 dB``, ``20 kHz``.

    Examples
    --------
    >>> plain(0.01, "Ω"), plain(-2.0, ""), plain(0.0, "Ω")
    ('10 mΩ', '−2', '0 Ω')
    """
    factor, label = scale_for(value, unit)
    number = f"{float(f'{value / factor:.9g}'):.9g}".replace("-", "−")
    return f"{number} {label}".strip()


def alike(ticks: list[float], unit: str) -> list[str]:
    """Labels of even ticks, all in one unit and with the decimals that their step needs.

    Examples
    --------
    >>> alike([0.00099, 0.001, 0.00101], "Ω")
    ['0.99 mΩ', '1.00 mΩ', '1.01 mΩ']
    """
    factor, label = scale_for(max((abs(tick) for tick in ticks), default=0.0), unit)
    step = min((b - a for a, b in pairwise(ticks)), default=1.0) / factor
    decimals = next((d for d in range(7) if abs(step - round(step, d)) < 1e-6 * step), 7)
    texts = (f"{round(tick / factor, decimals) + 0.0:.{decimals}f}" for tick in ticks)
    return [f"{text} {label}".strip().replace("-", "−") for text in texts]


def readable(value: float, unit: str, digits: int = 3) -> str:
    """`value` for a label, not broken at a line's end; words where no number can stand."""
    if math.isinf(value):
        return "never reached" if value > 0 else "none"
    return unbroken(show(value, unit, digits))


def interval_words(low: float, high: float, unit: str) -> str:
    r"""``low to high`` for a label: each end in its own unit when they lie far apart.

    Examples
    --------
    >>> interval_words(0.00241, 0.00288, "Ω"), interval_words(0.0009, 5.01, "Ω")
    ('2.41 to 2.88\xa0mΩ', '900\xa0µΩ to 5.0\xa0Ω')
    """
    if math.isnan(low) or math.isnan(high):
        return "no interval"
    if math.isinf(low) or math.isinf(high):
        return f"{show(low, unit, 2)} or more" if math.isfinite(low) else "no bound"
    if low > 0 and high / low >= 50:
        return f"{unbroken(show(low, unit, 2))} to {unbroken(show(high, unit, 2))}"
    numbers, _, label = show_interval(low, high, unit).rpartition(" ")
    return f"{numbers}{NO_BREAK}{label}"


def unbroken(text: str) -> str:
    """`text` with its blanks made no-break, so that number and unit stay together."""
    return text.replace(" ", NO_BREAK)


def decade_span(values: list[float], lowest: int, highest: int) -> tuple[int, int]:
    """Exponents of the whole decades that hold `values`: two or more, within `lowest` to `highest`."""
    usable = [v for v in values if 10.0**lowest <= v <= 10.0**highest]
    if not usable:
        return lowest, highest
    low = math.floor(math.log10(min(usable)) + 1e-9)
    high = math.ceil(math.log10(max(usable)) - 1e-9)
    while high - low < 2:
        low, high = (low, high + 1) if high < highest else (low - 1, high)
    return low, high


def decades(low: int, high: int) -> list[float]:
    """The powers of ten from 10**low to 10**high, each the float nearest its decimal."""
    return [float(f"1e{exponent}") for exponent in range(low, high + 1)]


def log_ticks(low: float, high: float) -> list[float]:
    """Ticks between `low` and `high`: decades, with 2 and 5 between them when the range is short."""
    first, last = math.floor(math.log10(low)), math.ceil(math.log10(high))
    steps = (1, 2, 5) if last - first <= 4 else (1,)
    ticks = [float(f"{step}e{exponent}") for exponent in range(first, last + 1) for step in steps]
    return [tick for tick in ticks if low * (1 - 1e-9) <= tick <= high * (1 + 1e-9)]


def even_ticks(low: float, high: float, wanted: int = 6) -> list[float]:
    """Ticks at round even steps that enclose `low` to `high`."""
    if high <= low:
        low, high = (low - abs(low) / 2 or -1.0, high + abs(high) / 2 or 1.0)
    raw = (high - low) / wanted
    size = 10.0 ** math.floor(math.log10(raw))
    step = next(size * m for m in (1, 2, 2.5, 5, 10) if size * m >= raw * 0.999)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [float(f"{index * step:.12g}") for index in range(first, last + 1)]


def tick_axis(values: list[float], labels: list[str], **more: object) -> Spec:
    """A Vega-Lite axis with exactly these ticks and labels, none dropped."""
    picked = f"{json.dumps(labels, ensure_ascii=False)}[indexof({json.dumps(values)}, datum.value)]"
    return {"values": values, "labelExpr": picked, "labelOverlap": False, "title": None, **more}


@dataclass(frozen=True, slots=True)
class Ruler:
    """Where values fall on an axis of `length` pixels that runs from `low` to `high`."""

    low: float
    high: float
    length: float
    logarithmic: bool = False

    def pixel(self, value: float) -> float:
        """Distance from the low end; values beyond an end are held there."""
        held = min(max(value, self.low), self.high)
        if self.logarithmic:
            share = math.log(held / self.low) / math.log(self.high / self.low)
        else:
            span = self.high - self.low
            # Readings alike to the last bit leave an axis of no length; they stand in its middle.
            share = (held - self.low) / span if span > 0 else 0.5
        return round(share * self.length, 2)

    def holds(self, value: float) -> bool:
        """Whether `value` lies on the axis."""
        return self.low <= value <= self.high


def log_ruler(
    values: list[float],
    length: float,
    room: float = 1.12,
    least: float = 1.0,
    believed: tuple[float, float] = BELIEVED,
) -> Ruler:
    """A logarithmic axis around the `values` that are `believed`, with a little room; its ends are `least` times apart."""
    usable = [v for v in values if believed[0] <= v <= believed[1]] or [1.0]
    low, high = min(usable), max(usable)
    if high / low < 2:
        low, high = low / 1.3, high * 1.3
    wider = math.sqrt(max(least / (high / low), 1.0))
    return Ruler(low / room / wider, high * room * wider, length, logarithmic=True)


def even_ruler(values: list[float], length: float, least: float = 0.0) -> Ruler:
    """An even axis around the finite `values`, from tick to tick, that spans `least` at least."""
    usable = [v for v in values if math.isfinite(v)] or [0.0]
    low, high = min(usable), max(usable)
    wider = max(least - (high - low), 0.0) / 2
    ticks = even_ticks(low - wider, high + wider)
    return Ruler(ticks[0], ticks[-1], length)


def ruler_ticks(ruler: Ruler) -> list[float]:
    """Readable ticks of either kind of axis; at least two."""
    if not ruler.logarithmic:
        return even_ticks(ruler.low, ruler.high)
    ticks = log_ticks(ruler.low, ruler.high)
    return ticks if len(ticks) > 1 else [t for t in even_ticks(ruler.low, ruler.high) if ruler.holds(t)]


def parted_labels(ticks: list[float], labels: list[str], ruler: Ruler) -> list[str]:
    """`labels` of an axis from left to right; where they would crowd, those of its ends and of decades, the others ""."""
    wide = [text_width(label, TEXT_SIZE) + _LABEL_GAP for label in labels]
    at = [ruler.pixel(tick) for tick in ticks]

    def crowded(k: int, other: int) -> bool:
        return abs(at[k] - at[other]) < (wide[k] + wide[other]) / 2

    numbers = range(len(ticks))
    if not any(crowded(k, k + 1) for k in numbers[:-1]):
        return labels
    ends = [k for k in numbers if at[k] in (0, ruler.length)]
    placed: list[int] = []
    for k in (*ends, *(k for k in numbers if ticks[k] in _DECADES and k not in ends)):
        if not any(crowded(k, other) for other in placed):
            placed.append(k)
    return [label if k in placed else "" for k, label in enumerate(labels)]
