"""The ladder: every resistance that matters on one logarithmic scale."""

from __future__ import annotations

import math

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.ladder_frame import (
    Block,
    Frame,
    Words,
    clearings,
    crossed,
    frame_of,
    open_spans,
    word_layers,
)
from ohmsworth.adapters.render.ladder_parts import contacts, interval_pixels, limits, wires
from ohmsworth.adapters.render.ladder_uses import uses
from ohmsworth.adapters.render.layers import Rows, Spec, boxes, merged, picture, rules, tips
from ohmsworth.adapters.render.scales import decades, plain, tick_axis
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.document import LadderFigure, LadderMark

TOP, BOTTOM, LEAST = 26, 6, 20


def draw_ladder(figure: LadderFigure) -> Spec:
    """The Vega-Lite drawing of a ladder: names left, resistance along a logarithmic scale with a tick at each decade.

    Positions are pixels from the left end and from the top of the scale.

    Raises
    ------
    ArgumentFault
        For a mark whose value is no number.
    """
    for mark in figure.marks:
        if math.isnan(mark.value):
            raise ArgumentFault("marks", mark.label, "a mark with a resistance")
    kinds = {
        kind: [m for m in figure.marks if m.kind == kind]
        for kind in ("limit", "contact", "threshold", "wire")
    }
    frame = frame_of(figure.marks, _names(figure.marks))
    limit = limits(kinds["limit"], frame, 0.0)
    dashed = tuple(frame.scale.pixel(m.value) for m in kinds["limit"] if not frame.scale.off_scale(m.value))
    measured = contacts(kinds["contact"], frame, limit.height, dashed)
    suffering = uses(kinds["threshold"], frame, measured.height, kinds["contact"])
    wire = wires(kinds["wire"], frame, suffering.height)
    blocks = [limit, measured, suffering, wire]
    height = max(wire.height, LEAST)
    words = [w for block in blocks for w in block.words]
    layers = [
        *_bands(kinds["contact"], frame, limit.height, suffering.height, words),
        *_edges(blocks, frame),
        *merged([layer for block in blocks for layer in block.under]),
        *_lines(kinds, blocks, frame),
        *merged([layer for block in blocks for layer in block.amid]),
        *merged([layer for block in blocks for layer in block.over]),
        *word_layers(w for block in blocks for w in block.words),
        *tips([tip for block in blocks for tip in block.tips]),
    ]
    return _spread(layers, frame, height)


def _names(marks: tuple[LadderMark, ...]) -> list[str]:
    return [m.label if m.kind in ("contact", "limit") else m.group for m in marks]


def _spread(layers: list[Spec], frame: Frame, height: float) -> Spec:
    scale = frame.scale
    ticks = decades(scale.low, scale.high)
    axis = tick_axis(
        [scale.pixel(t) for t in ticks], [plain(t, "Ω") for t in ticks], orient="top", domain=False
    )
    x = {"scale": {"domain": [0, scale.width], "nice": False}, "axis": axis}
    y = {"scale": {"domain": [0, height], "reverse": True, "nice": False}, "axis": None}
    padding = {
        "left": frame.left,
        "right": palette.WIDTH - frame.left - scale.width,
        "top": TOP,
        "bottom": BOTTOM,
    }
    spec = picture(layers, x, y, scale.width, height)
    return {**spec, "padding": padding, "autosize": {"type": "none"}}


def _edges(blocks: list[Block], frame: Frame) -> list[Spec]:
    """A line above each part, from the names to the end of the scale."""
    rows: Rows = [
        {"x": 6 - frame.left, "x2": frame.scale.width, "y": top, "y2": top}
        for top in (0.0, *dict.fromkeys(b.height for b in blocks[:-1]))
    ]
    return rules(rows, palette.RULE)


def _bands(
    measured: list[LadderMark], frame: Frame, top: float, bottom: float, words: list[Words]
) -> list[Spec]:
    """A tint down the picture where each measured contact may lie, open behind words, unless that is almost everywhere."""
    ends = [interval_pixels(mark, frame) for mark in measured]
    if sum(high - low for low, high in ends) > frame.scale.width / 2:
        return []
    rows: Rows = [{"x": low, "x2": high, "y": top, "y2": bottom} for low, high in ends if high > low]
    clear = clearings(words, [end for end in ends if end[1] > end[0]], top, bottom)
    return [*boxes(rows, palette.CONTACT_BAND), *boxes(clear, palette.PAPER)]


def _lines(kinds: dict[str, list[LadderMark]], blocks: list[Block], frame: Frame) -> list[Spec]:
    """A line down for each contact below its row, and a dashed one for each limit; open where they would cross words."""
    words = [w for block in blocks for w in block.words]
    measured, suffering, wire = blocks[1:]
    rows: Rows = []
    for mark in kinds["contact"]:
        rows += _open(mark, measured.height, suffering.height, words, frame)
    dashed: Rows = []
    for mark in kinds["limit"]:
        dashed += _open(mark, 3.0, wire.height, words, frame)
    return [*rules(rows, palette.CONTACT, 1), *rules(dashed, palette.LIMIT, 1.8, (6, 3))]


def _open(mark: LadderMark, top: float, bottom: float, words: list[Words], frame: Frame) -> Rows:
    if frame.scale.off_scale(mark.value):
        return []
    at = frame.scale.pixel(mark.value)
    return [{"x": at, "x2": at, "y": a, "y2": b} for a, b in open_spans(top, bottom, crossed(words, at))]
