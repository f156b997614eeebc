"""What each shape in a picture means, in a row above it."""

from __future__ import annotations

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, points, texts
from ohmsworth.adapters.render.measure import text_width

#: Shapes of what stands out, in the order of first mention.
FLAG_SHAPES = ("triangle-up", "cross", "diamond", "triangle-down")
LEGEND_LINE = 19

#: Shape, words, colour, and whether it is filled.
Entry = tuple[str, str, str, bool]


def legend(entries: list[Entry], width: float) -> tuple[list[Spec], float]:
    """The layers of a legend `width` pixels wide, wrapped where it must be, above zero; and its height."""
    x, line = 6.0, 0
    layers: list[Spec] = []
    words: Rows = []
    placed: list[tuple[str, float, int, str, bool]] = []
    for shape, text, color, filled in entries:
        needed = text_width(text, palette.TEXT_SIZE) + 34
        if x > 6 and x + needed > width:
            x, line = 6.0, line + 1
        placed.append((shape, x, line, color, filled))
        words.append({"x": x + 11, "text": text, "line": line})
        x += needed
    height = (line + 1) * LEGEND_LINE + 8
    for word in words:
        word["y"] = word.pop("line") * LEGEND_LINE - height + 8
    for shape, at, row, color, filled in placed:
        layers += points([{"x": at, "y": row * LEGEND_LINE - height + 8}], shape, color, 70, filled)
    return [*layers, *texts(words, color=palette.MUTED)], height
