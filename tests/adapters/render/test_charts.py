"""Drawings: nothing overlaps, nothing leaves the picture, every value and word is there."""

import json
import math
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from tests.adapters.render.drawn import SVG, boxes, overlaps, words_of
from tests.adapters.render.sample import (
    CHART,
    CURVES,
    EVIDENCE,
    FIGURES,
    FREQUENCY,
    INTERVALS,
    LADDER,
    LINES,
    SHARES,
)

from ohmsworth.adapters.render import figure_note, to_png, to_svg, to_vega
from ohmsworth.adapters.render.evidence import INNER_WIDTH
from ohmsworth.adapters.render.evidence_dots import MOST_DOTS, drawn_dots
from ohmsworth.adapters.render.palette import DARK, LINE_HEIGHT
from ohmsworth.report.document import (
    Axis,
    ChartFigure,
    ConditionMark,
    Dot,
    EvidenceFigure,
    Figure,
    IntervalFigure,
    IntervalMark,
    Line,
    LineFigure,
    ShareFigure,
)


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_no_two_words_overlap_and_none_leaves_the_picture(figure: Figure) -> None:
    svg = to_svg(figure)
    found = boxes(svg)
    _, _, width, height = map(float, ElementTree.fromstring(svg).get("viewBox", "").split())
    assert len(found) > 3
    assert not overlaps(found)
    assert not [b for b in found if b.left < -1 or b.right > width + 1 or not 0 < b.middle < height]


def test_words_that_overlap_are_seen() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg">{}</svg>'
    one = '<g transform="translate(5,5)"><text transform="translate(0,0)" font-size="12px">first</text></g>'
    other = '<text transform="translate({},9)" font-size="12px">other</text>'
    assert overlaps(boxes(svg.format(one + other.format(20)))) == [("first", "other")]
    assert not overlaps(boxes(svg.format(one + other.format(200))))


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_a_drawing_is_described_and_keeps_its_text(figure: Figure) -> None:
    root = ElementTree.fromstring(to_svg(figure, "7"))
    title, description = root[0], root[1]
    assert root.get("role") == "img"
    assert (title.tag, title.text) == (f"{SVG}title", figure.caption)
    assert (description.tag, description.text) == (f"{SVG}desc", figure.alt)
    assert root.get("aria-labelledby") == title.get("id") == f"{figure.name}-7-title"
    assert root.get("aria-describedby") == description.get("id")
    assert len(root.findall(f".//{SVG}text")) > 3
    assert "clip-path" not in to_svg(figure)  # its ids would clash between pictures on one page


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_every_colour_has_a_counterpart_on_a_dark_page(figure: Figure) -> None:
    root = ElementTree.fromstring(to_svg(figure))
    used = {node.get(name) for node in root.iter() for name in ("fill", "stroke")}
    assert not {colour for colour in used if colour and colour.startswith("#")} - set(DARK)


@pytest.mark.parametrize(
    "figure",
    [
        replace(LADDER, marks=()),
        replace(EVIDENCE, dots=(), marks=(), pairs=()),
        replace(EVIDENCE, dots=(), marks=(), pairs=(), limit=None, logarithmic=False),
        ShareFigure("none", "", "", (), ()),
        LineFigure(
            "flat", "", "", Axis(""), Axis(""), (Line("one", (100.0,), (1.0,), (0.0,), (2.0,)),), (), 1.0
        ),
        LineFigure("lost", "", "", Axis(""), Axis(""), (Line("one", (1.0, 2.0), (math.inf, math.nan)),)),
        LineFigure(
            "endless",
            "",
            "",
            Axis("", "Hz", True),
            Axis("", "Ω", True),
            (Line("one", (1.0, 2.0), (1.0, -1.0), (-math.inf, 0.0), (math.inf, math.nan)),),
        ),
        LineFigure("none", "", "", Axis(""), Axis("", logarithmic=True), ()),
        ChartFigure("none", "", "", Axis(""), (), (), ()),
        IntervalFigure("none", "", "", Axis("", "", True), (), 1.0),
        IntervalFigure("wide", "", "", Axis(""), (IntervalMark("g", "m", 1.0, -1e9, math.inf),), 0.0),
        IntervalFigure("lost", "", "", Axis("", "", True), (IntervalMark("g", "m", 1.0, 1e-12, 1e15),), 1.0),
        EvidenceFigure(
            "wide", "", "", True, (Dot("c", "s", 0.002),), (ConditionMark("c", 0.002, 1e-12, 1e9),)
        ),
        EvidenceFigure(
            "open", "", "", False, (Dot("c", "s", 0.002),), (ConditionMark("c", 0.002, 0.001, math.inf),)
        ),
        EvidenceFigure("lost", "", "", True, (), (ConditionMark("c", 0.002, math.nan, math.nan),)),
    ],
    ids=lambda figure: type(figure).__name__ + figure.name,
)
def test_the_empty_and_the_extreme_are_drawn(figure: Figure) -> None:
    svg = to_svg(figure)
    ElementTree.fromstring(svg)
    assert "NaN" not in svg
    assert "Infinity" not in svg
    assert "undefined" not in svg
    assert to_png(figure).startswith(b"\x89PNG")


def crowd(number: int, **more: object) -> EvidenceFigure:
    """An evidence figure of many readings, one of them far out and one flagged."""
    dots = [Dot(f"condition {i % 3}", f"s{i % 40}", 0.002 + 0.001 * math.sin(i * i)) for i in range(number)]
    dots[77] = Dot("condition 1", "s1", 0.009)
    dots[78] = Dot("condition 1", "s1", 0.002, "still moving")
    return EvidenceFigure("crowd", "Many.", "Many readings", False, tuple(dots), (), (), None)


def test_thousands_of_readings_are_thinned_alike_each_time_and_say_so() -> None:
    figure = crowd(6000)
    drawn = drawn_dots(figure)
    assert len(drawn) == MOST_DOTS
    assert drawn == drawn_dots(crowd(6000))
    assert figure.dots[77] in drawn
    assert figure.dots[78] in drawn
    assert f"{MOST_DOTS} of 6000" in figure_note(figure)
    assert len(to_svg(figure)) < 400_000


def test_few_readings_are_all_drawn() -> None:
    assert drawn_dots(crowd(MOST_DOTS)) == crowd(MOST_DOTS).dots
    assert figure_note(crowd(MOST_DOTS)) == ""


def test_what_cannot_be_drawn_on_a_logarithmic_axis_is_marked() -> None:
    figure = replace(
        EVIDENCE, dots=(*EVIDENCE.dots, Dot("as found", "inlet 1", -0.001), Dot("x", "y", math.nan))
    )
    assert "not above zero" in words_of(to_svg(figure))
    assert "1 readings without a value" in figure_note(figure)


def test_the_evidence_is_in_a_legend_and_in_readable_units() -> None:
    words = words_of(to_svg(EVIDENCE))
    for expected in (
        "reading",
        "still moving",
        "estimate with interval",
        "same specimen",
        "2 mΩ",
        "5 mΩ",
        "10 mΩ",
    ):
        assert expected in words
    assert "2.52 mΩ 2.14 to 2.97 mΩ" in words


def kinds(number: int, name: str) -> EvidenceFigure:
    marks = tuple(ConditionMark(f"{name} {i}", 2.3e-3 + i * 1e-4, 2.05e-3, 7.62e-3) for i in range(number))
    return EvidenceFigure("kinds", "Many.", "Many kinds", True, (), marks, (), None)


def test_names_of_many_conditions_stay_whole_and_apart() -> None:
    figure = kinds(12, "silver-plated brass, supplier")
    svg = to_svg(figure)
    words = words_of(svg)
    for mark in figure.marks:
        assert mark.condition in words
    assert "3.4 mΩ (2.1 to 7.6 mΩ)" in words
    assert svg.count("rotate(270)") + svg.count("rotate(-90)") >= 24
    # Two lines of text in each column fit into it.
    assert INNER_WIDTH / 12 >= 2 * LINE_HEIGHT - 4


def test_few_conditions_keep_their_names_level() -> None:
    assert "rotate(" not in to_svg(kinds(4, "silver-plated brass, supplier")).replace("rotate(0)", "")


def test_flags_differ_in_shape() -> None:
    shapes = {
        layer["mark"]["shape"] for layer in to_vega(EVIDENCE)["layer"] if layer["mark"]["type"] == "point"
    }
    assert {"circle", "triangle-up", "diamond"} <= shapes


def test_curves_differ_in_dash_and_carry_their_names() -> None:
    lines = [layer["mark"] for layer in to_vega(CURVES)["layer"] if layer["mark"]["type"] == "line"]
    middle = [mark for mark in lines if mark["strokeWidth"] > 1]
    assert len({tuple(mark["strokeDash"]) for mark in middle}) == len(middle) == 5
    words = words_of(to_svg(CURVES))
    labels = [line.label for line in CURVES.lines]
    for expected in (*labels, "20 Hz", "1 kHz", "20 kHz", "the hall bears −0.5 dB", "level change"):
        assert expected in words


def test_lines_carry_their_names_their_axes_and_the_points_spoken_of() -> None:
    words = words_of(to_svg(LINES))
    labels = [part.label for part in (*LINES.lines, *LINES.marks)]
    for expected in (*labels, LINES.across.label, LINES.up.label, "100 %", "50 %", "20"):
        assert expected in words
    marks = [layer["data"]["values"] for layer in to_vega(LINES)["layer"] if layer["mark"]["type"] == "point"]
    width = to_vega(LINES)["width"]
    assert [mark[0]["x"] for mark in marks] == pytest.approx([4 / 25 * width, 20 / 25 * width], abs=0.01)


def test_a_curve_has_a_gap_where_a_value_is_missing() -> None:
    broken = tuple(math.nan if i == 20 else 0.1 for i in range(len(FREQUENCY)))
    svg = to_svg(replace(CURVES, lines=(Line("one", FREQUENCY, broken),)))
    root = ElementTree.fromstring(svg)
    assert max(n.get("d", "").count("M") for n in root.iter(f"{SVG}path") if "L" in n.get("d", "")) >= 2


def test_shares_are_as_long_as_they_weigh() -> None:
    bars = next(layer for layer in to_vega(SHARES)["layer"] if layer["mark"]["type"] == "rect")["data"][
        "values"
    ]
    lengths = [bar["x2"] - bar["x"] for bar in bars]
    assert lengths[1] / lengths[0] == pytest.approx(0.25 / 0.613, rel=1e-3)
    assert {"61 %", "25 %", "14 %", "under 0.1 %"} <= {
        b.text.replace("\u00a0", " ") for b in boxes(to_svg(SHARES))
    }


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_a_drawing_is_plain_json_and_fetches_nothing(figure: Figure) -> None:
    text = json.dumps(to_vega(figure), allow_nan=False)
    assert "http" not in text
    assert '"url"' not in text


def test_a_control_chart_shows_what_stands_out_by_shape() -> None:
    layers = [layer for layer in to_vega(CHART)["layer"] if layer["mark"]["type"] == "point"]
    shapes = {
        row["flag"]: layer["mark"]["shape"]
        for layer in layers
        for row in layer["data"]["values"]
        if "flag" in row
    }
    assert len(set(shapes.values())) == len(shapes) == 3
    words = words_of(to_svg(CHART))
    for expected in ("beyond its limits", "jump", "2026-02-28", "5.02 mΩ", "limits"):
        assert expected in words


def test_a_control_chart_of_many_checks_draws_the_last() -> None:
    many = replace(
        CHART,
        checks=tuple(f"check {k}" for k in range(400)),
        series=tuple(replace(s, values=(0.005,) * 400, flags=("",) * 400) for s in CHART.series),
        lines=tuple(replace(line, values=(line.values[0],) * 400) for line in CHART.lines),
    )
    assert "150 of 400" in figure_note(many)
    assert figure_note(CHART) == ""
    assert "check 399" in words_of(to_svg(many))


def test_an_interval_spans_its_ends_about_the_middle() -> None:
    spec = to_vega(INTERVALS)
    bars = [row for layer in spec["layer"] for row in layer["data"]["values"] if row.get("x2") is not None]
    line, *intervals = bars
    assert line["x"] == line["x2"]
    assert len(intervals) == len(INTERVALS.marks)
    for bar, mark in zip(intervals, INTERVALS.marks, strict=True):
        assert bar["x"] < bar["x2"]
        assert bar["y"] == bar["y2"]
        assert (bar["x"] > line["x"]) == (mark.low > INTERVALS.middle)
        assert (bar["x2"] < line["x"]) == (mark.high < INTERVALS.middle)
    # On logarithms the same ratio is the same length.
    lengths = [bar["x2"] - bar["x"] for bar in intervals]
    ratios = [math.log(mark.high / mark.low) for mark in INTERVALS.marks]
    assert [a / lengths[0] for a in lengths] == pytest.approx([r / ratios[0] for r in ratios], rel=1e-3)


def test_what_stands_out_is_said_in_words_and_by_a_shape() -> None:
    words = words_of(to_svg(INTERVALS))
    assert words.count("high") == words.count("low") == 1
    shapes = {
        layer["mark"]["shape"]: len(layer["data"]["values"])
        for layer in to_vega(INTERVALS)["layer"]
        if layer["mark"]["type"] == "point"
    }
    assert shapes == {"circle": 3, "diamond": 2}
