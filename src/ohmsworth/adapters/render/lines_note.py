"""What a picture of lines shows but does not say by itself: its bands, a scale held wide, lines that fall together."""

from __future__ import annotations

import math

from ohmsworth.adapters.render.bands import band_title
from ohmsworth.adapters.render.lines import up_ruler
from ohmsworth.adapters.render.scales import Ruler, plain, unbroken
from ohmsworth.report.document import Line, LineFigure
from ohmsworth.report.words import listed

#: Pixels below which two lines are one, and a band is hidden by its line.
ALIKE = 2.0


def lines_note(figure: LineFigure) -> str:
    """What to know of the bands, the scale and the lines of `figure` in a few sentences, or ""."""
    ruler = up_ruler(figure)
    sentences = (
        _sentence(band_title(figure)),
        _open_ends(figure, ruler),
        _held_wide(figure),
        *(_together(lines, figure) for lines in _bundles(figure, ruler)),
        _hidden(figure, ruler),
        _missing(figure),
    )
    return " ".join(filter(None, sentences))


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}." if words else ""


def _open_ends(figure: LineFigure, ruler: Ruler) -> str:
    """Bands that go on beyond the picture."""
    ends = [(low, high) for line in figure.lines for low, high in zip(line.low, line.high, strict=True)]
    endless = any(
        low == -math.inf or high == math.inf or (ruler.logarithmic and low <= 0) for low, high in ends
    )
    return "A band without an edge at the top or bottom goes on beyond the picture." if endless else ""


def _held_wide(figure: LineFigure) -> str:
    """That the scale is wider than what it shows."""
    axis = figure.up
    shown = [v for line in figure.lines for part in (line.up, line.low, line.high) for v in part]
    shown = [v for v in shown if math.isfinite(v) and (v > 0 or not axis.logarithmic)]
    if figure.threshold is not None:
        shown.append(figure.threshold)
    if not shown:
        return ""
    low, high = min(shown), max(shown)
    if axis.logarithmic:
        return f"The scale spans a factor of {axis.least:g} at least." if high < axis.least * low else ""
    held = high - low < axis.least
    return (
        f"The scale spans {plain(axis.least, axis.unit)} at least, so that small differences look small."
        if held
        else ""
    )


def _bundles(figure: LineFigure, ruler: Ruler) -> list[list[Line]]:
    """Lines through the same points across that fall together everywhere in the picture."""
    bundles: list[list[Line]] = []
    for line in figure.lines:
        fitting = (b for b in bundles if all(_fall_together(line, other, ruler) for other in b))
        bundle = next(fitting, None)
        if bundle is None:
            bundles.append([line])
        else:
            bundle.append(line)
    return [bundle for bundle in bundles if len(bundle) > 1]


def _fall_together(one: Line, other: Line, ruler: Ruler) -> bool:
    there, here = ([math.isfinite(v) for v in line.up] for line in (one, other))
    same = one.across == other.across and there == here and any(there)
    return same and _pixels(one.up, other.up, ruler) < ALIKE


def _pixels(one: tuple[float, ...], other: tuple[float, ...], ruler: Ruler) -> float:
    """How far two lines are apart at most, where both have a value."""
    pairs = [(a, b) for a, b in zip(one, other, strict=True) if math.isfinite(a) and math.isfinite(b)]
    return max((abs(ruler.pixel(a) - ruler.pixel(b)) for a, b in pairs), default=math.inf)


def _together(lines: list[Line], figure: LineFigure) -> str:
    names = listed([f"'{line.label}'" for line in lines])
    apart = _widest(*(line.up for line in lines))
    if apart == 0:
        return f"{names} are the same line."
    return f"{names} cannot be told apart in this picture: they are at most {_at_most(apart, figure.up.unit)} apart."


def _hidden(figure: LineFigure, ruler: Ruler) -> str:
    """Bands that their own line covers."""
    thin = [line for line in figure.lines if line.low and _pixels(line.low, line.high, ruler) < ALIKE]
    if not thin:
        return ""
    names = listed([f"'{line.label}'" for line in thin])
    wide = _at_most(max(_widest(line.low, line.high) for line in thin), figure.up.unit)
    words = f"The bands of {names} are" if len(thin) > 1 else f"The band of {names} is"
    return f"{words} too narrow to be seen: at most {wide} wide."


def _widest(*lines: tuple[float, ...]) -> float:
    """How far the values at one point lie apart at most."""
    points = (values for values in zip(*lines, strict=True) if all(map(math.isfinite, values)))
    return max((max(values) - min(values) for values in points), default=0.0)


def _at_most(value: float, unit: str) -> str:
    """`value` to two digits, rounded up."""
    if value == 0:
        return plain(0.0, unit)
    step = 10.0 ** (math.floor(math.log10(value)) - 1)
    return unbroken(plain(math.ceil(value / step - 1e-9) * step, unit))


def _missing(figure: LineFigure) -> str:
    names = [f"'{line.label}'" for line in figure.lines if not any(map(math.isfinite, line.up))]
    return f"Not drawn, having no finite value: {listed(names)}." if names else ""
