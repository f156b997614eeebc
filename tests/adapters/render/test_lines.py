"""Lines over frequency with their bands: readable in grey, light, and never more dramatic than they are."""

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from tests.adapters.render.drawn import boxes, overlaps, words_of
from tests.adapters.render.sample import CURVES, DEPTHS, FREQUENCY

from ohmsworth.adapters.render import figure_note, to_csv, to_svg, to_text, to_vega
from ohmsworth.adapters.render.palette import DASHES, IDEAL_DASH, MUTED
from ohmsworth.report.document import Axis, Document, Line, LineFigure, Section

HERTZ, LEVEL = Axis("frequency", "Hz", logarithmic=True), Axis("level change", "dB")
MANY = tuple(np.geomspace(20, 20e3, 500).tolist())


def marks(figure: LineFigure, kind: str) -> list[dict[str, Any]]:
    """The layers of one kind of mark."""
    return [layer for layer in to_vega(figure)["layer"] if layer["mark"]["type"] == kind]


def single(up: tuple[float, ...], *band: tuple[float, ...], axis: Axis = LEVEL, **more: Any) -> LineFigure:
    """A figure of one line."""
    across = FREQUENCY[: len(up)]
    return LineFigure("one", "One.", "One line", HERTZ, axis, (Line("new", across, up, *band),), **more)


def flat(level: float) -> tuple[float, ...]:
    """The same level everywhere."""
    return (level,) * len(FREQUENCY)


def two(one: float, other: float, least: float = 1.0) -> LineFigure:
    """Two level lines of narrow bands on an axis that spans `least` dB."""
    lines = tuple(
        Line(name, FREQUENCY, flat(v), flat(v - 1e-4), flat(v + 1e-4))
        for name, v in (("new", one), ("tarnished", other))
    )
    return LineFigure("two", "Two.", "Two lines", HERTZ, replace(LEVEL, least=least), lines)


def test_each_band_reaches_from_its_low_to_its_high_end() -> None:
    spec = to_vega(CURVES)
    drawn = [layer for layer in marks(CURVES, "area") if layer["mark"]["color"] != MUTED]
    values = dict(zip(spec["encoding"]["y"]["axis"]["values"], _labels(spec, "y"), strict=True))
    pixels = {_number(text): at for at, text in values.items()}
    scale = (pixels[-1.0] - pixels[0.0]) / -1.0
    for layer, depth in zip(drawn, DEPTHS, strict=True):
        last = layer["data"]["values"][-1]
        level = -depth / (1 + 3000 / FREQUENCY[-1])
        assert [last["y"], last["y2"]] == pytest.approx(
            [pixels[0.0] + scale * k * level for k in (1.3, 0.6)], abs=0.02
        )


def _number(tick: str) -> float:
    return float(tick.split(maxsplit=1)[0].replace("−", "-"))


def _labels(spec: dict[str, Any], way: str) -> list[str]:
    return re.findall(r'"([^"]*)"', spec["encoding"][way]["axis"]["labelExpr"].partition("[indexof")[0])


def test_the_edges_of_a_band_and_its_lead_are_dashed_like_its_line() -> None:
    lines = [layer["mark"] for layer in marks(CURVES, "line")]
    thick = [mark for mark in lines if mark["strokeWidth"] == 2]
    assert [tuple(mark["strokeDash"]) for mark in thick] == list(DASHES[:4])
    for mark in thick:
        edges = [m for m in lines if m["strokeWidth"] == 1 and m["color"] == mark["color"]]
        assert [m["strokeDash"] for m in edges] == [mark["strokeDash"]] * 2
        leads = [m["mark"] for m in marks(CURVES, "rule") if m["mark"]["color"] == mark["color"]]
        assert [m["strokeDash"] for m in leads] == [mark["strokeDash"]]


def test_bands_show_through_each_other_and_lie_below_every_line() -> None:
    kinds = [layer["mark"]["type"] for layer in to_vega(CURVES)["layer"]]
    tints = marks(CURVES, "area")
    assert all(layer["mark"]["opacity"] < 0.4 for layer in tints)
    assert max(i for i, kind in enumerate(kinds) if kind == "area") < kinds.index("line")


def test_the_ideal_line_is_dotted_below_the_others_and_takes_no_look_of_theirs() -> None:
    first = replace(CURVES, lines=(CURVES.lines[-1], *CURVES.lines[:-1]))
    for figure in (CURVES, first):
        thick = [m["mark"] for m in marks(figure, "line") if m["mark"]["strokeWidth"] > 1]
        assert tuple(thick[0]["strokeDash"]) == IDEAL_DASH
        assert [tuple(m["strokeDash"]) for m in thick[1:]] == list(DASHES[:4])


def test_what_a_band_holds_is_said_in_the_picture_and_below_it() -> None:
    assert "band: 95 % of contacts" in words_of(to_svg(CURVES))
    assert figure_note(CURVES).startswith("Band: 95 % of contacts.")
    assert "Band: 95 % of contacts." in to_text(Document("t", "", "en", "", (Section("s", (CURVES,)),)))
    bare = replace(CURVES, lines=tuple(replace(line, low=(), high=()) for line in CURVES.lines))
    assert "band" not in words_of(to_svg(bare)).lower() + figure_note(bare).lower()


def test_long_words_of_a_band_take_rows_of_their_own() -> None:
    words = "what nineteen in twenty contacts of this lot would show in the circuit of the customer " * 2
    figure = replace(CURVES, band_words=words.strip())
    svg = to_svg(figure)
    assert words.strip() in words_of(svg)
    assert not overlaps(boxes(svg))
    assert to_vega(figure)["padding"]["top"] > to_vega(CURVES)["padding"]["top"]
    assert all(box.middle > 5 for box in boxes(svg))


def test_a_small_difference_on_an_axis_that_spans_more_stays_small() -> None:
    apart = {}
    for least in (0.0, 1.0):
        spec = to_vega(two(-0.0004, -0.0013, least))
        lines = [m for m in spec["layer"] if m["mark"]["type"] == "line" and m["mark"]["strokeWidth"] == 2]
        apart[least] = abs(lines[0]["data"]["values"][0]["y"] - lines[1]["data"]["values"][0]["y"])
        ticks = _labels(spec, "y")
        assert (_number(ticks[-1]) - _number(ticks[0]) >= 1) == (least == 1.0)
    assert apart[0.0] > 100
    assert 0 < apart[1.0] < 1


def test_the_note_says_what_cannot_be_seen() -> None:
    note = figure_note(two(-0.0004, -0.0013)).replace("\u00a0", " ")
    assert "The scale spans 1 dB at least" in note
    assert (
        "'new' and 'tarnished' cannot be told apart in this picture: they are at most 0.0009 dB apart."
        in note
    )
    assert "The bands of 'new' and 'tarnished' are too narrow to be seen: at most 0.0002 dB wide." in note
    assert figure_note(two(-0.4, -0.9)).count("too narrow") == 1
    assert "told apart" not in figure_note(two(-0.4, -0.9))
    assert "scale" not in figure_note(two(-0.4, -1.9))
    assert figure_note(two(-0.0004, -0.0013, 0.0)) == ""


def test_a_difference_is_rounded_up() -> None:
    assert "at most 0.0024 dB apart" in figure_note(two(0.0, -0.0023001)).replace("\u00a0", " ")


def test_lines_alike_are_called_the_same() -> None:
    assert "'new' and 'tarnished' are the same line." in figure_note(two(-0.2, -0.2))


def test_lines_of_other_points_or_other_gaps_are_not_compared() -> None:
    figure = two(-0.0004, -0.0013)
    other = figure.lines[1]
    gap = replace(other, up=(math.nan, *other.up[1:]))
    moved = replace(other, across=tuple(1.01 * f for f in FREQUENCY))
    for line in (gap, moved):
        assert "told apart" not in figure_note(replace(figure, lines=(figure.lines[0], line)))


def test_an_axis_of_ratios_spans_its_least_ratio() -> None:
    axis = Axis("impedance", "Ω", True, least=1000.0)
    ticks = _labels(to_vega(single((0.003, 0.0031), axis=axis)), "y")
    assert {"100 µΩ", "1 mΩ", "10 mΩ"} <= set(ticks)
    assert "a factor of 1000" in figure_note(single((0.003, 0.0031), axis=axis))


def test_noise_in_picovolts_has_its_scale() -> None:
    axis = Axis("noise density", "V/√Hz", True)
    assert "10 pV/√Hz" in words_of(to_svg(single((7e-12, 9e-11), axis=axis)))


def test_even_ticks_share_one_unit_and_stay_in_the_picture() -> None:
    svg = to_svg(single((-0.0005, 0.0015), axis=Axis("level", "V")))
    assert {"−0.5 mV", "0.0 mV", "1.5 mV"} <= {box.text for box in boxes(svg)}
    wide = to_svg(single((1.0e-9, 1.5e-9), axis=Axis("noise density of the whole line", "V/√Hz")))
    assert min(box.left for box in boxes(wide)) >= 0


@pytest.mark.parametrize(
    "ends", [(20.0, 20e3), (10.0, 100e3), (1e6, 3e9), (1.0, 1e10), (900.0, 1100.0), (20.0, 96e3)]
)
@pytest.mark.parametrize("name", ["new", "contacts as they came from the rack"])
def test_frequencies_are_named_without_crowding(ends: tuple[float, float], name: str) -> None:
    figure = LineFigure("f", "F.", "F", HERTZ, LEVEL, (Line(name, ends, (0.0, -1.0)),))
    svg = to_svg(figure)
    assert not overlaps(boxes(svg))
    assert len([box for box in boxes(svg) if box.text.endswith("Hz")]) >= 2


def test_where_few_labels_fit_the_ends_of_hearing_stay() -> None:
    figure = LineFigure(
        "f", "F.", "F", HERTZ, LEVEL, (Line("contacts as they came from the rack", MANY, MANY),)
    )
    shown = {box.text for box in boxes(to_svg(figure)) if box.text.endswith("Hz")}
    assert {"20 Hz", "100 Hz", "1 kHz", "20 kHz"} <= shown
    assert "50 Hz" not in shown


def test_hundreds_of_frequencies_are_light_in_the_picture_and_whole_in_the_data() -> None:
    def smooth(k: float) -> tuple[float, ...]:
        return tuple(-20 * math.log10(math.hypot(k, f / 1e6)) for f in MANY)

    lines = tuple(
        Line(f"line {i}", MANY, smooth(1e-4 * 3**i), smooth(2e-4 * 3**i), smooth(0.5e-4 * 3**i))
        for i in range(4)
    )
    figure = LineFigure("rejection", "R.", "R", HERTZ, Axis("rejection", "dB"), lines)
    assert len(to_svg(figure)) < 30_000
    assert to_csv(figure).count("\r\n") == 1 + 4 * len(MANY)


def test_noise_is_drawn_fine_and_its_band_without_edges() -> None:
    up = tuple((-60 + 6 * np.random.default_rng(3).standard_normal(len(MANY))).tolist())
    low, high = (tuple(v + d for v in up) for d in (-6, 6))
    figure = LineFigure("noise", "N.", "N", HERTZ, LEVEL, (Line("new", MANY, up, low, high),))
    (line,) = marks(figure, "line")
    assert line["mark"]["strokeWidth"] == 1
    assert len(marks(figure, "area")) == 1


def test_an_endless_end_of_a_band_runs_out_of_the_picture_without_an_edge() -> None:
    high = (0.5, 0.5, math.inf, math.inf)
    figure = single((0.0, 0.0, 0.1, 0.2), (-0.5,) * 4, high)
    (area,) = marks(figure, "area")
    assert area["data"]["values"][-1]["y2"] == 0.0
    edges = [m["data"]["values"] for m in marks(figure, "line") if m["mark"]["strokeWidth"] == 1]
    assert [len({row["x"] for row in rows}) for rows in edges] == [2, 2]
    assert edges[1][-1]["x"] < edges[0][-1]["x"]
    assert "goes on beyond the picture" in figure_note(figure)
    assert "beyond" not in figure_note(single((0.0, 0.0), (-0.5,) * 2, (0.5,) * 2))


def test_a_band_has_a_gap_where_an_end_is_missing() -> None:
    up = (0.0,) * 9
    figure = single(up, (-0.5,) * 9, (0.5,) * 4 + (math.nan,) + (0.5,) * 4)
    rows = marks(figure, "area")[0]["data"]["values"]
    assert [row["y"] is None for row in rows] == [False, False, True, False, False]


def test_no_logarithmic_axis_has_a_place_for_zero() -> None:
    axis = Axis("impedance", "Ω", True)
    figure = single((1e-3, 2e-3, 0.0, 3e-3), (1e-3, 0.0, math.nan, 2e-3), (2e-3, 4e-3, 1e-3, 5e-3), axis=axis)
    line = next(m for m in marks(figure, "line") if m["mark"]["strokeWidth"] == 2)
    assert [row["y"] is None for row in line["data"]["values"]] == [False, False, True, False]
    assert marks(figure, "area")[0]["data"]["values"][1]["y"] == 280.0
    assert "goes on beyond the picture" in figure_note(figure)


def test_a_value_alone_between_gaps_is_a_dot() -> None:
    (dot,) = marks(single((0.0, math.nan, 1.0, math.nan, 0.5, 0.6)), "point")[:1]
    assert [
        len(m["data"]["values"]) for m in marks(single((0.0, math.nan, 1.0, math.nan, 0.5, 0.6)), "point")
    ] == [2]
    assert dot["mark"]["shape"] == "circle"


def test_a_line_without_a_value_is_named_in_the_note() -> None:
    ideal = Line("perfect balance", FREQUENCY, flat(math.inf), ideal=True)
    figure = replace(CURVES, lines=(*CURVES.lines, ideal))
    assert "Not drawn, having no finite value: 'perfect balance'." in figure_note(figure)
    assert "perfect balance" not in words_of(to_svg(figure))
