"""The pictures of a study's takes over frequency, one curve a take, before anything is averaged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ohmsworth.report.document import Axis, Block, Document, Line, LineFigure, Section
from ohmsworth.report.words import count
from ohmsworth.units import show, show_interval, show_stated

#: A picture is of no use with more curves: the last ones are drawn.
MOST_CURVES = 8
#: Bands of more curves than this hide one another.
_MOST_BANDS = 3

Pairs = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class TakeCurve:
    """R and X of one take over frequency (hertz, ohm), each with its 95 % interval at every tone."""

    label: str
    frequency: tuple[float, ...]
    resistance: tuple[float, ...]
    resistance_ends: Pairs
    reactance: tuple[float, ...]
    reactance_ends: Pairs


def takes_document(curves: Sequence[TakeCurve], limit: float | None = None) -> Document:
    """The pictures of R, with the `limit` in ohm that it must not exceed, and of X; none where no curve has two tones."""
    whole = [one for one in curves if len(one.frequency) > 1]
    shown = whole[-MOST_CURVES:]
    which = "a curve for each take that counts"
    if len(shown) < len(whole):
        which = f"the last {len(shown)} of {len(whole)} takes that count; the answer has the curve of each condition"
    blocks: tuple[Block, ...] = (_resistance(shown, which, limit), _reactance(shown)) if shown else ()
    return Document("Takes over frequency", "", "en", "", (Section("What the takes told", blocks),))


def limit_named(limit: float | None) -> str:
    """What the line of a limit is called; "" without one."""
    return "" if limit is None else f"limit {show_stated(limit, 'Ω')}"


def _resistance(curves: Sequence[TakeCurve], which: str, limit: float | None) -> LineFigure:
    every = [value for one in curves for value in one.resistance]
    ends = [low for one in curves for low, _ in one.resistance_ends]
    named = limit_named(limit)
    return LineFigure(
        "takes-resistance",
        f"Resistance R of {count(len(curves), 'take')} over frequency{f', {named}' if named else ''}: {_span(every)}.",
        f"Resistance R over frequency, {which}.",
        Axis("frequency", "Hz", logarithmic=True),
        # A limit may lie far from what was measured.
        Axis("resistance R", "Ω", logarithmic=limit is not None and min(*every, *ends) > 0),
        tuple(_line(one, one.resistance, one.resistance_ends, len(curves)) for one in curves),
        threshold=limit,
        threshold_words="limit",
        band_words=_band(curves),
    )


def _reactance(curves: Sequence[TakeCurve]) -> LineFigure:
    every = [value for one in curves for value in one.reactance]
    return LineFigure(
        "takes-reactance",
        f"Reactance X of {count(len(curves), 'take')} over frequency: {_span(every)}.",
        "Reactance X over frequency: above zero an inductance, below a capacitance.",
        Axis("frequency", "Hz", logarithmic=True),
        Axis("reactance X", "Ω"),
        tuple(_line(one, one.reactance, one.reactance_ends, len(curves)) for one in curves),
        band_words=_band(curves),
    )


def _span(values: Sequence[float]) -> str:
    low, high = min(values), max(values)
    return show(low, "Ω") if low == high else show_interval(low, high, "Ω")


def _line(curve: TakeCurve, up: tuple[float, ...], ends: Pairs, many: int) -> Line:
    if many > _MOST_BANDS:
        return Line(curve.label, curve.frequency, up)
    return Line(
        curve.label, curve.frequency, up, tuple(low for low, _ in ends), tuple(high for _, high in ends)
    )


def _band(curves: Sequence[TakeCurve]) -> str:
    return "95 % interval of each tone" if len(curves) <= _MOST_BANDS else ""
