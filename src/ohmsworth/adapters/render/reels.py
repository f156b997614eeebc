"""Reels as bars: boxes for the pieces in their order, an open end for what is kept, a crossed one for what is scrap."""

from __future__ import annotations

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, boxes, picture, rules, texts
from ohmsworth.adapters.render.measure import cut_pixels, text_width
from ohmsworth.report.document import ReelBar, ReelFigure

INNER_WIDTH = palette.WIDTH - 12
#: Where bars begin and the longest ends, from the left; a bar, its row, a heading's row.
LEFT, RIGHT = 150.0, INNER_WIDTH - 132.0
BAR, ROW, HEAD = 20.0, 30.0, 26.0
#: Pieces narrower than this have no lines of their own; the room between two strokes of a crossed end; beside words; a
#: short line at an edge.
_NARROW, _STROKE, _EDGE, _TICK = 4.0, 6.0, 4.0, 3.0


def draw_reels(figure: ReelFigure) -> Spec:
    """The Vega-Lite drawing of reels, the longest of each wire as wide as there is room."""
    longest: dict[str, float] = {}
    for reel in figure.reels:
        longest[reel.group] = max(longest.get(reel.group, 0.0), reel.length)
    pieces: Rows = []
    lines: Rows = []
    strokes: Rows = []
    words: Rows = []
    heads: Rows = []
    names: Rows = []
    rests: Rows = []
    y, group = 0.0, None
    for reel in figure.reels:
        if reel.group != group:
            group = reel.group
            text = cut_pixels(group, INNER_WIDTH - 8, palette.TEXT_SIZE, bold=True)
            heads.append({"x": 4, "y": y + HEAD / 2 + 2, "text": [text]})
            y += HEAD
        top, middle = y + (ROW - BAR) / 2, y + ROW / 2
        label = cut_pixels(f"{reel.name} · {_metres(reel.length)}", LEFT - 14, palette.TEXT_SIZE)
        names.append({"x": LEFT - 10, "y": middle, "text": [label]})
        scale = (RIGHT - LEFT) / longest[reel.group]
        at = _pieces(reel, top, scale, pieces, lines, words)
        end = LEFT + reel.length * scale
        lines += _frame(LEFT, end, top)
        if not reel.kept:
            strokes += _crossed(at, end, top)
        rest = f"{_metres(reel.left)} {'left' if reel.kept else 'scrap'}" if reel.left else "nothing left"
        rests.append({"x": RIGHT + 8, "y": middle, "text": [rest]})
        y += ROW
    layers = [
        *boxes(pieces, palette.CONTACT_BAND),
        *rules(strokes, palette.LIMIT, 1),
        *rules(lines, palette.INK, 1),
        *texts(words, "center"),
        *texts(heads, fontWeight="bold"),
        *texts(names, "right"),
        *texts(rests),
    ]
    height = max(y, ROW)
    x = {"scale": {"domain": [0, INNER_WIDTH], "nice": False}, "axis": None}
    down = {"scale": {"domain": [0, height], "reverse": True, "nice": False}, "axis": None}
    return picture(layers, x, down, INNER_WIDTH, height)


def _pieces(reel: ReelBar, top: float, scale: float, pieces: Rows, lines: Rows, words: Rows) -> float:
    """Add the boxes of a reel's pieces with their lengths; where the last of them ends."""
    at = LEFT
    for piece in reel.pieces:
        wide = piece.length * scale
        end = at + piece.number * wide
        pieces.append({"x": at, "x2": end, "y": top, "y2": top + BAR})
        inside, whole = _lengths(piece.number, piece.length, at, wide, top + BAR / 2)
        words += inside
        lines += _cuts(piece.number, at, wide, top, ticked=whole)
        at = end
    return at


def _lengths(number: int, length: float, at: float, wide: float, middle: float) -> tuple[Rows, bool]:
    """The length in each piece where it has room, else once for all, else nowhere; and whether it stands there for all."""
    each = f"{length:.3f}".rstrip("0").rstrip(".")
    if text_width(each, palette.TEXT_SIZE) + _EDGE <= wide:
        return [{"x": at + (k + 0.5) * wide, "y": middle, "text": [each]} for k in range(number)], False
    whole = f"{number} × {each}"
    if number > 1 and text_width(whole, palette.TEXT_SIZE) + _EDGE <= number * wide:
        return [{"x": at + number * wide / 2, "y": middle, "text": [whole]}], True
    return [], False


def _cuts(number: int, at: float, wide: float, top: float, ticked: bool) -> Rows:
    """A line where each piece ends; at the edges alone where words stand between, and none between pieces too narrow for it."""
    last = {"x": at + number * wide, "x2": at + number * wide, "y": top, "y2": top + BAR}
    between = [at + k * wide for k in range(1, number)] if wide >= _NARROW else []
    spans = ((top, top + _TICK), (top + BAR - _TICK, top + BAR)) if ticked else ((top, top + BAR),)
    return [last, *({"x": x, "x2": x, "y": y, "y2": y2} for x in between for y, y2 in spans)]


def _frame(start: float, end: float, top: float) -> Rows:
    """The outline of a whole reel."""
    return [
        {"x": start, "x2": end, "y": top, "y2": top},
        {"x": start, "x2": end, "y": top + BAR, "y2": top + BAR},
        {"x": start, "x2": start, "y": top, "y2": top + BAR},
        {"x": end, "x2": end, "y": top, "y2": top + BAR},
    ]


def _crossed(start: float, end: float, top: float) -> Rows:
    """Slanting strokes from side to side."""
    number = max(int((end - start) / _STROKE), 1) if end - start > 1 else 0
    step = (end - start) / number if number else 0.0
    return [
        {"x": start + k * step, "x2": start + (k + 1) * step, "y": top + BAR, "y2": top}
        for k in range(number)
    ]


def _metres(length: float) -> str:
    """A length to the millimetre, without zeros that say nothing."""
    return f"{length:.3f}".rstrip("0").rstrip(".") + " m"
