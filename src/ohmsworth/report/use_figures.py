"""The curves of a circuit over frequency as pictures."""

from __future__ import annotations

import math

from ohmsworth.report.document import Axis, Line, LineFigure, Paragraph
from ohmsworth.report.use_answers import BandAnswer, CurveAnswer, UseAnswer
from ohmsworth.report.words import amount
from ohmsworth.units import show_stated

#: What an axis spans at least, so that a thousandth of a decibel does not look like a cliff.
_LEAST = {"dB": 1.0}
#: Part of that span below which nothing is to be seen.
_SEEN = 0.02


#: What lies within a band.
_FRESH = "95 % of sets of fresh contacts"


def curve_blocks(
    use: UseAnswer, conditions: list[str], band_words: str = _FRESH
) -> list[LineFigure | Paragraph]:
    """A picture for each curve with the bands of `conditions`, or a sentence where there is nothing to be seen."""
    return [_block(use, curve, conditions, band_words) for curve in use.curves]


def _block(
    use: UseAnswer, curve: CurveAnswer, conditions: list[str], band_words: str
) -> LineFigure | Paragraph:
    shown = [band for band in curve.bands if band.condition in conditions]
    most = max((_furthest(curve, band) for band in shown), default=math.inf)
    if most >= _SEEN * _LEAST.get(curve.unit, 0.0):
        return _figure(use, curve, shown, band_words)
    first, last = (show_stated(end, "Hz") for end in (curve.frequency[0], curve.frequency[-1]))
    return Paragraph(
        f"{use.name}: {curve.words} over frequency departs from that of ideal contacts by at most "
        f"{amount(most, curve.unit).removeprefix('under ')} from {first} to {last}: nothing that a picture would show."
    )


def _furthest(curve: CurveAnswer, band: BandAnswer) -> float:
    """How far a band goes from ideal contacts."""
    ends = (band.value, band.low or band.value, band.high or band.value)
    return max(abs(a - b) for end in ends for a, b in zip(end, curve.ideal, strict=True))


def _figure(use: UseAnswer, curve: CurveAnswer, shown: list[BandAnswer], band_words: str) -> LineFigure:
    banded = any(band.low is not None for band in shown)
    contacts = list(dict.fromkeys(band.contacts for band in shown))
    told = "; ".join(contacts)
    return LineFigure(
        f"{use.name} {curve.words}",
        _words(use, curve, shown),
        f"{use.name}: {curve.words} over frequency{f', {told}' if told else ''}.",
        Axis("frequency", "Hz", logarithmic=True),
        Axis(curve.words, curve.unit, least=_LEAST.get(curve.unit, 0.0)),
        (
            Line("ideal contacts", curve.frequency, curve.ideal, ideal=True),
            *(_line(curve, band) for band in shown),
        ),
        band_words=band_words if banded else "",
    )


def _line(curve: CurveAnswer, band: BandAnswer) -> Line:
    return Line(band.condition, curve.frequency, band.value, band.low or (), band.high or ())


def _words(use: UseAnswer, curve: CurveAnswer, shown: list[BandAnswer]) -> str:
    """The curve's ends in words."""
    first, last = (show_stated(end, "Hz") for end in (curve.frequency[0], curve.frequency[-1]))
    told = [("ideal contacts", curve.ideal), *((band.condition, band.value) for band in shown)]
    ends = [
        f"{name} {amount(values[0], curve.unit)} to {amount(values[-1], curve.unit)}".replace("  ", " ")
        for name, values in told
    ]
    return f"{curve.words} in {use.name} from {first} to {last}: {'; '.join(ends)}."
