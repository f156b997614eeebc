"""The bands of lines: tinted so that they show through each other, edged with the dashes of their line."""

from __future__ import annotations

import math

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Spec, areas, paths, rules, texts
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.tracks import Plot, Track, band_rows, is_jagged, path_rows
from ohmsworth.report.document import LineFigure

SWATCH, SWATCH_HEIGHT, SWATCH_GAP, EDGE = 20, 10, 6, 8


def draw_bands(tracks: list[Track], plot: Plot) -> list[Spec]:
    """All tints below all edges; an edge only where the band has an end, and not where it would be a thicket."""
    banded = [track for track in tracks if track.line.low]
    tints = [
        layer
        for track in banded
        for layer in areas(band_rows(track.line, plot), track.color, palette.BAND_OPACITY)
    ]
    edges: list[Spec] = []
    for track in banded:
        for end in (track.line.low, track.line.high):
            rows = path_rows(track.line.across, end, plot)
            edges += [] if is_jagged(rows, plot) else paths(rows, track.color, 1, track.dash)
    return [*tints, *edges]


def band_title(figure: LineFigure) -> str:
    """What lies within the bands, or ""."""
    return (
        f"band: {figure.band_words}" if figure.band_words and any(line.low for line in figure.lines) else ""
    )


def band_legend(figure: LineFigure, left: float, width: float) -> tuple[list[Spec], float]:
    """A sample of a band with its words, right of the words of the axis or in rows above; and the height of the rows.

    `left` is where the picture begins, left of zero, and `width` how far it reaches.
    """
    title = band_title(figure)
    if not title:
        return [], 0.0
    axis_end = EDGE + text_width(figure.up.label, palette.TEXT_SIZE)
    swatch = SWATCH + SWATCH_GAP
    start = width - EDGE - text_width(title, palette.TEXT_SIZE) - swatch
    if start > axis_end + 3 * EDGE:
        return _sample(start - left, -14, [title]), 0.0
    lines = wrap_pixels(title, width - 2 * EDGE - swatch, palette.TEXT_SIZE)
    height = len(lines) * palette.LINE_HEIGHT + 4
    return _sample(EDGE - left, -14 - height, lines), height


def _sample(x: float, y: float, lines: list[str]) -> list[Spec]:
    top, bottom, end = y - SWATCH_HEIGHT / 2, y + SWATCH_HEIGHT / 2, x + SWATCH
    return [
        *areas(
            [{"x": at, "y": bottom, "y2": top} for at in (x, end)], palette.MUTED, 2 * palette.BAND_OPACITY
        ),
        *rules([{"x": x, "x2": end, "y": at, "y2": at} for at in (top, bottom)], palette.MUTED),
        *texts([{"x": math.ceil(end) + SWATCH_GAP, "y": y, "text": lines}], color=palette.MUTED),
    ]
