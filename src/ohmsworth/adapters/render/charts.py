"""A figure to its drawing: Vega-Lite, and from it SVG or PNG.

One Vega-Lite dict is the source of every picture: live page, report in HTML and PDF draw the same.
"""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape
from typing import Any

from ohmsworth.adapters.render.cable_drawing import draw_cable
from ohmsworth.adapters.render.clean import clean
from ohmsworth.adapters.render.code_drawing import draw_code
from ohmsworth.adapters.render.control_chart import chart_note, draw_chart
from ohmsworth.adapters.render.evidence import draw_evidence
from ohmsworth.adapters.render.evidence_dots import dots_note
from ohmsworth.adapters.render.intervals import draw_intervals
from ohmsworth.adapters.render.kept import Kept
from ohmsworth.adapters.render.ladder import draw_ladder
from ohmsworth.adapters.render.lines import draw_lines
from ohmsworth.adapters.render.lines_note import lines_note
from ohmsworth.adapters.render.palette import FONT_FOLDER
from ohmsworth.adapters.render.png import repacked
from ohmsworth.adapters.render.reels import draw_reels
from ohmsworth.adapters.render.shares import draw_shares
from ohmsworth.adapters.render.tips import titled
from ohmsworth.adapters.render.wiring_drawing import draw_wiring
from ohmsworth.adapters.render.worker import apart
from ohmsworth.report.document import (
    CableFigure,
    ChartFigure,
    CodeFigure,
    EvidenceFigure,
    Figure,
    IntervalFigure,
    LadderFigure,
    LineFigure,
    ReelFigure,
    ShareFigure,
    WiringFigure,
)

VEGA_LITE = "6.4"
PNG_SCALE = 2.0
#: Drawings that are kept, some 20 kB each.
KEPT_DRAWINGS = 256
_drawings: Kept[str] = Kept(KEPT_DRAWINGS)


def to_vega(figure: Figure) -> dict[str, Any]:
    """The Vega-Lite drawing of `figure`, as a plain dict with its data inside."""
    figure = clean(figure)
    if isinstance(figure, LadderFigure):
        return draw_ladder(figure)
    if isinstance(figure, EvidenceFigure):
        return draw_evidence(figure)
    if isinstance(figure, LineFigure):
        return draw_lines(figure)
    if isinstance(figure, ChartFigure):
        return draw_chart(figure)
    if isinstance(figure, IntervalFigure):
        return draw_intervals(figure)
    if isinstance(figure, WiringFigure):
        return draw_wiring(figure)
    if isinstance(figure, CableFigure):
        return draw_cable(figure)
    if isinstance(figure, CodeFigure):
        return draw_code(figure)
    if isinstance(figure, ReelFigure):
        return draw_reels(figure)
    return draw_shares(figure)


def figure_note(figure: Figure) -> str:
    """What the drawing leaves out of the data, or cannot say by itself, in a sentence or a few, or ""."""
    if isinstance(figure, ChartFigure):
        return chart_note(figure)
    if isinstance(figure, LineFigure):
        return lines_note(figure)
    return dots_note(figure) if isinstance(figure, EvidenceFigure) else ""


def to_svg(figure: Figure, key: str = "") -> str:
    """`figure` as one ``<svg>`` element with title, description and real text; marks with more to tell have titles too.

    Parameters
    ----------
    figure
        What to draw.
    key
        Makes the ids inside unique where several pictures share a page.
    """
    return _described(_drawn(figure), clean(figure), key)


def _drawn(figure: Figure) -> str:
    """The drawing without its description; drawings are kept, because to draw takes long and alike is drawn from alike."""
    found = _drawings.get(figure)
    if found is None:
        found = titled(apart(draw, figure))
        _drawings.put(figure, found)
    return found


def is_drawn(figure: Figure) -> bool:
    """Whether the drawing of `figure` is at hand."""
    return _drawings.get(figure) is not None


def draw(figure: Figure) -> str:
    """What the drawing engine makes of `figure`."""
    import vl_convert

    _know_the_typeface()
    raw: str = vl_convert.vegalite_to_svg(to_vega(figure), vl_version=VEGA_LITE, allowed_base_urls=[])
    return raw


def load_engine() -> None:
    """Load what draws, by drawing the least there is."""
    draw(ShareFigure("first", "", "", ("all",), (1.0,)))


def to_png(figure: Figure, scale: float = PNG_SCALE) -> bytes:
    """`figure` as a PNG picture, `scale` dots for each pixel of the drawing."""
    return svg_to_png(to_svg(figure), scale)


def svg_to_png(svg: str, scale: float = PNG_SCALE) -> bytes:
    """A drawing that :func:`to_svg` made, as PNG."""
    return apart(_pixels, svg, scale)


def _pixels(svg: str, scale: float) -> bytes:
    import vl_convert

    _know_the_typeface()
    return repacked(bytes(vl_convert.svg_to_png(svg, scale=scale)))


@lru_cache(maxsize=1)
def _know_the_typeface() -> None:
    import vl_convert

    vl_convert.register_font_directory(str(FONT_FOLDER))


#: Groups of marks that are announced as symbols and have no name: the picture as a whole has one.
_NAMELESS = re.compile(r' role="graphics-symbol" aria-roledescription="[a-z]+ mark container"')


def _described(svg: str, figure: Figure, key: str) -> str:
    """`svg` with role, title and description for those who cannot see it."""
    ident = re.sub(r"[^a-z0-9]+", "-", f"{figure.name}-{key}".lower()).strip("-") or "figure"
    words = (
        f'<title id="{ident}-title">{escape(figure.caption or figure.name, quote=False)}</title>'
        f'<desc id="{ident}-desc">{escape(figure.alt, quote=False)}</desc>'
    )
    opening = f'<svg role="img" aria-labelledby="{ident}-title" aria-describedby="{ident}-desc" '
    head, rest = _NAMELESS.sub("", svg).split(">", 1)
    return head.replace("<svg ", opening, 1) + ">" + words + rest
