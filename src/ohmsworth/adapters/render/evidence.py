"""The evidence: readings as dots in columns, with estimates, limit and what became of each specimen."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.evidence_dots import (
    condition_names,
    dot_offsets,
    drawn_dots,
    flags_of,
    specimen_offsets,
)
from ohmsworth.adapters.render.layers import Rows, Spec, paths, picture, points, rules, texts
from ohmsworth.adapters.render.legend import FLAG_SHAPES, legend
from ohmsworth.adapters.render.measure import cut_pixels, text_width, wrap_pixels
from ohmsworth.adapters.render.scales import (
    Ruler,
    even_ruler,
    interval_words,
    log_ruler,
    plain,
    ruler_ticks,
    tick_axis,
    unbroken,
)
from ohmsworth.report.document import ConditionMark, EvidenceFigure
from ohmsworth.report.words import estimate
from ohmsworth.units import show

LEFT, RIGHT, HEIGHT = 62, 74, 300
INNER_WIDTH = palette.WIDTH - LEFT - RIGHT - 12
#: Shares of a column: the dots stand left of its middle, the estimate right of them.
DOTS_AT, DOTS_WIDE, ESTIMATE_AT = 0.42, 0.5, 0.8
#: More conditions than this have their names turned where they are too wide; and how long those may be, in pixels.
MOST_LEVEL, LONGEST_UPRIGHT = 4, 260


@dataclass(frozen=True, slots=True)
class Frame:
    """The axes: conditions as columns of equal width, resistance (ohm) upward in pixels from the top."""

    conditions: tuple[str, ...]
    ruler: Ruler

    @property
    def column(self) -> float:
        """Width of one column."""
        return INNER_WIDTH / max(len(self.conditions), 1)

    def x(self, condition: str, share: float) -> float:
        """The place at `share` of a condition's column."""
        return round((self.conditions.index(condition) + share) * self.column, 2)

    def y(self, value: float) -> float:
        """Pixels below the top at which `value` is drawn."""
        return round(HEIGHT - self.ruler.pixel(value), 2)


def draw_evidence(figure: EvidenceFigure) -> Spec:
    """The Vega-Lite drawing of readings; positions are pixels, the axis carries the readable values."""
    frame = Frame(tuple(condition_names(figure)), _ruler(figure))
    legend, legend_height = _legend(figure)
    names, names_height = _names(figure, frame)
    layers = [
        *_columns(frame),
        *_pairs(figure, frame),
        *_dots(figure, frame),
        *_limit(figure, frame),
        *_estimates(figure, frame),
        *legend,
        *names,
    ]
    ticks = ruler_ticks(frame.ruler)
    axis = tick_axis(
        [frame.y(t) for t in ticks], [plain(t, "Ω") for t in ticks], grid=True, domain=False, ticks=False
    )
    y = {
        "scale": {"domain": [-legend_height, HEIGHT + names_height], "reverse": True, "nice": False},
        "axis": axis,
    }
    x = {"scale": {"domain": [0, INNER_WIDTH], "nice": False}, "axis": None}
    spec = picture(layers, x, y, INNER_WIDTH, HEIGHT + names_height + legend_height)
    return {
        **spec,
        "padding": {"left": LEFT, "right": RIGHT, "top": 6, "bottom": 6},
        "autosize": {"type": "none"},
    }


def _ruler(figure: EvidenceFigure) -> Ruler:
    values = [dot.value for dot in figure.dots if math.isfinite(dot.value)]
    values += [v for mark in figure.marks for v in (mark.value, mark.low, mark.high)]
    values += [v for pair in figure.pairs for v in pair.values]
    if figure.logarithmic:
        return log_ruler([*values, *_given(figure.limit)], HEIGHT)
    finite = [v for v in values if math.isfinite(v)] or [0.0]
    low, high = min(finite), max(finite)
    near = [v for v in _given(figure.limit) if low - 3 * (high - low) <= v <= high + 3 * (high - low)]
    return even_ruler([*finite, *near], HEIGHT)


def _given(value: float | None) -> list[float]:
    return [] if value is None else [value]


def _columns(frame: Frame) -> list[Spec]:
    """A frame line at the bottom, and a thin line between columns."""
    rows: Rows = [{"x": 0, "x2": INNER_WIDTH, "y": HEIGHT, "y2": HEIGHT}]
    rows += [
        {"x": i * frame.column, "x2": i * frame.column, "y": 0, "y2": HEIGHT}
        for i in range(1, len(frame.conditions))
    ]
    return rules(rows, palette.RULE)


def _pairs(figure: EvidenceFigure, frame: Frame) -> list[Spec]:
    offsets = specimen_offsets(figure)
    rows: Rows = [
        {
            "x": frame.x(condition, DOTS_AT + DOTS_WIDE * offsets[pair.specimen]),
            "y": frame.y(value),
            "path": pair.specimen,
            "order": frame.conditions.index(condition),
        }
        for pair in figure.pairs
        for condition, value in zip(pair.conditions, pair.values, strict=True)
        if math.isfinite(value)
    ]
    return paths(rows, palette.MUTED, 1.1, opacity=0.65)


def _dots(figure: EvidenceFigure, frame: Frame) -> list[Spec]:
    """Plain readings as discs, each kind of flag in a shape of its own."""
    dots = drawn_dots(figure)
    many = len(dots) > 200
    shapes = flag_shapes(figure)
    places: dict[str, Rows] = {flag: [] for flag in ("", *shapes)}
    for dot, offset in zip(dots, dot_offsets(dots, specimen_offsets(figure)), strict=True):
        places[dot.flag].append(
            {"x": frame.x(dot.condition, DOTS_AT + DOTS_WIDE * offset), "y": frame.y(dot.value)}
        )
    layers = points(places[""], "circle", palette.CONTACT, 26 if many else 52, opacity=0.45 if many else 0.75)
    for flag, shape in shapes.items():
        layers += points(places[flag], shape, palette.FLAG, 60, filled=False)
    return layers


def flag_shapes(figure: EvidenceFigure) -> dict[str, str]:
    """The shape that stands for each flag; shapes repeat after four."""
    return {flag: FLAG_SHAPES[index % len(FLAG_SHAPES)] for index, flag in enumerate(flags_of(figure))}


def _limit(figure: EvidenceFigure, frame: Frame) -> list[Spec]:
    """The limit as a dashed line named at its right end; an arrow when it lies far outside."""
    if figure.limit is None:
        return []
    y, inside = frame.y(figure.limit), frame.ruler.holds(figure.limit)
    arrow = "" if inside else ("↑ " if figure.limit > frame.ruler.high else "↓ ")
    name: Rows = [
        {
            "x": INNER_WIDTH + 6,
            "y": y - 7,
            "text": [f"{arrow}limit", unbroken(plain(figure.limit, "Ω"))],
        }
    ]
    line: Rows = [{"x": 0, "x2": INNER_WIDTH + 2, "y": y, "y2": y}] if inside else []
    return [
        *rules(line, palette.LIMIT, 1.8, (6, 3)),
        *texts(name, color=palette.LIMIT, fontWeight="bold"),
    ]


def _estimates(figure: EvidenceFigure, frame: Frame) -> list[Spec]:
    """Each condition's estimate as a wide tick on its interval bar."""
    bars: Rows = []
    ends: Rows = []
    middles: Rows = []
    for mark in figure.marks:
        x, y = frame.x(mark.condition, ESTIMATE_AT), frame.y(mark.value)
        middles.append({"x": x, "y": y})
        if math.isnan(mark.low) or math.isnan(mark.high):
            continue
        low, high = frame.y(mark.low), frame.y(mark.high)
        bars.append({"x": x, "x2": x, "y": low, "y2": high})
        ends += [{"x": x - 5, "x2": x + 5, "y": end, "y2": end} for end in (low, high)]
    return [
        *rules(bars, palette.INK, 2.2),
        *rules(ends, palette.INK, 1.6),
        *points(middles, "diamond", palette.INK, 110),
    ]


def _names(figure: EvidenceFigure, frame: Frame) -> tuple[list[Spec], float]:
    """Below each column its condition, estimate and interval; and the height all that takes."""
    width, size = frame.column - 10, palette.TEXT_SIZE
    marks = {mark.condition: mark for mark in figure.marks}
    if _too_narrow(frame, marks, width):
        return _upright_names(frame, marks)
    wrapped = {name: wrap_pixels(name, width, size, bold=True) for name in frame.conditions}
    deepest = max((len(lines) for lines in wrapped.values()), default=0) * palette.LINE_HEIGHT
    names: Rows = [{"x": frame.x(c, 0.5), "y": HEIGHT + 16, "text": lines} for c, lines in wrapped.items()]
    values: Rows = [
        {"x": frame.x(c, 0.5), "y": HEIGHT + 18 + deepest, "text": _estimate_words(marks[c], width)}
        for c in frame.conditions
        if c in marks
    ]
    lines = max((len(row["text"]) for row in values), default=0)
    height = 14 + deepest + lines * palette.LINE_HEIGHT
    return [*texts(names, "center", fontWeight="bold"), *texts(values, "center")], height


def _too_narrow(frame: Frame, marks: Mapping[str, ConditionMark], width: float) -> bool:
    """Whether many columns cut words in pieces, or push the estimates into one another."""
    words = [(word, True) for name in frame.conditions for word in name.split()]
    words += [(unbroken(show(mark.value, "Ω")), False) for mark in marks.values()]
    widest = max((text_width(word, palette.TEXT_SIZE, bold) for word, bold in words), default=0.0)
    return len(frame.conditions) > MOST_LEVEL and widest > width


def _upright_names(frame: Frame, marks: Mapping[str, ConditionMark]) -> tuple[list[Spec], float]:
    """Below each of many narrow columns its condition, and beside that its estimate, to be read upward."""
    size, half = palette.TEXT_SIZE, palette.LINE_HEIGHT / 2
    named = {c: cut_pixels(c, LONGEST_UPRIGHT, size, bold=True) for c in frame.conditions}
    told = {c: estimate(mark.value, mark.low, mark.high) for c, mark in marks.items()}
    names: Rows = [
        {"x": frame.x(c, 0.5) - half, "y": HEIGHT + 8, "text": [name]} for c, name in named.items()
    ]
    values: Rows = [
        {"x": frame.x(c, 0.5) + half, "y": HEIGHT + 8, "text": [words]} for c, words in told.items()
    ]
    lengths = [text_width(name, size, bold=True) for name in named.values()]
    lengths += [text_width(words, size) for words in told.values()]
    layers = [
        *texts(names, "right", fontWeight="bold", angle=270),
        *texts(values, "right", angle=270),
    ]
    return layers, 16 + max(lengths, default=0.0)


def _estimate_words(mark: ConditionMark, width: float) -> list[str]:
    value = unbroken(show(mark.value, "Ω"))
    return [value, *wrap_pixels(interval_words(mark.low, mark.high, "Ω"), width, palette.TEXT_SIZE)]


def _legend(figure: EvidenceFigure) -> tuple[list[Spec], float]:
    """What each shape means, in a row above the picture, wrapped where it must; and its height."""
    entries = [("circle", "reading", palette.CONTACT, True)] if figure.dots else []
    entries += [(shape, flag, palette.FLAG, False) for flag, shape in flag_shapes(figure).items()]
    entries += [("diamond", figure.mark_words, palette.INK, True)] if figure.marks else []
    entries += [("stroke", "same specimen", palette.MUTED, False)] if figure.pairs else []
    return legend(entries, INNER_WIDTH + RIGHT)
