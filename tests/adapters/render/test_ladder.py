"""The ladder: a lane a use, every mark where its logarithm is, nothing in the way of anything else."""

import math
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.adapters.render.drawn import SVG, Box, boxes, overlaps, words_of
from tests.adapters.render.sample import LADDER, THRESHOLDS
from tests.adapters.render.test_html import luminance
from tests.adapters.render.twelve_uses import CONTACTS, TWELVE, USES, WIRES, uses_ladder

from ohmsworth.adapters.render import to_svg, to_vega
from ohmsworth.adapters.render.ladder_frame import Scale, open_spans
from ohmsworth.adapters.render.ladder_uses import MOST_SPELLED
from ohmsworth.adapters.render.measure import text_width
from ohmsworth.adapters.render.palette import (
    CONTACT,
    CONTACT_BAND,
    DARK,
    LIMIT,
    MUTED,
    PAPER,
    THRESHOLD_ZONES,
)
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.document import LadderFigure, LadderMark

KINDS = ("contact", "wire", "threshold")
LONG = "hum rejection at 50 Hz of the long line to the balcony falls to 60 dB when it is cold outside"
MANY = LadderFigure(
    "many",
    "Thirty marks.",
    "Thirty marks over ten decades",
    (
        *(
            LadderMark(
                KINDS[i % 3],
                f"{LONG if i % 4 == 0 else 'mark'} {i}",
                f"group {i % 5}",
                10 ** (-7 + 0.37 * i),
                10 ** (-8 + 0.33 * i) if i % 3 == 0 else None,
                10 ** (-5 + 0.38 * i) if i % 3 == 0 else None,
            )
            for i in range(30)
        ),
        LadderMark("limit", "limit of the maker", "", 0.003),
        LadderMark("limit", "limit of the hall", "", 900.0),
    ),
)
ONE = LadderFigure("one", "One mark.", "One mark", (LadderMark("contact", "only one", "", 0.002),))


def drawn(figure: LadderFigure, kind: str, **look: object) -> list[dict[str, float]]:
    """The rows of all layers of one `kind` of mark with this `look`."""
    return [
        row
        for layer in to_vega(figure)["layer"]
        if layer["mark"]["type"] == kind and all(layer["mark"].get(key) == v for key, v in look.items())
        for row in layer["data"]["values"]
    ]


def scale_of_picture(figure: LadderFigure) -> tuple[float, float]:
    """Pixels a decade, and the decade at the left end, from the axis as it is drawn."""
    axis = to_vega(figure)["encoding"]["x"]["axis"]
    places = axis["values"]
    low = {"1 µΩ": -6, "100 µΩ": -4, "1 mΩ": -3, "10 mΩ": -2}[axis["labelExpr"].split('"')[1]]
    step = (places[-1] - places[0]) / (len(places) - 1)
    assert all(b - a == pytest.approx(step, abs=0.02) for a, b in pairwise(places))
    return step, low - places[0] / step


def in_order(svg: str, names: list[str]) -> list[Box]:
    """Where each of the `names` stands, bold and whole."""
    found = {box.text: box for box in boxes(svg)}
    return [found[name] for name in names]


FIGURES = [LADDER, MANY, ONE, *(uses_ladder(count, f"uses-{count}") for count in (1, 2, 3, 5, 8, 12))]


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_no_two_words_overlap_and_none_leaves_the_picture(figure: LadderFigure) -> None:
    svg = to_svg(figure)
    found = boxes(svg)
    _, _, width, height = map(float, ElementTree.fromstring(svg).get("viewBox", "").split())
    assert width == pytest.approx(720)
    assert len(found) > 3
    assert not overlaps(found)
    assert not [b for b in found if b.left < -1 or b.right > width + 1 or not 0 < b.middle < height]


SIZES = st.floats(-7, 7).map(lambda power: 10**power)
NAMES = st.text("abcdefg hijk", min_size=1, max_size=40)
MARKS = st.lists(
    st.one_of(
        st.builds(
            LadderMark,
            st.just("threshold"),
            NAMES,
            st.sampled_from(["loudspeaker", "feed", "line to the balcony, over the long way round"]),
            SIZES,
            harm=st.sampled_from(["", "hum", "crosstalk", "level"]),
            serious=st.booleans(),
        ),
        st.builds(LadderMark, st.sampled_from(["limit", "wire", "contact"]), NAMES, st.just(""), SIZES),
        st.builds(
            lambda name, value, out: LadderMark("contact", name, "", value, value / out, value * out),
            NAMES,
            SIZES,
            st.floats(1.001, 1e4),
        ),
    ),
    min_size=1,
    max_size=25,
)


@settings(max_examples=40, deadline=None)
@given(MARKS)
def test_no_words_overlap_whatever_is_marked(marks: list[LadderMark]) -> None:
    svg = to_svg(LadderFigure("any", "a", "c", tuple(marks)))
    found = boxes(svg)
    assert not overlaps(found)
    assert not [box for box in found if box.left < -1 or box.right > 721]


def test_a_dozen_uses_fill_a_column_and_not_a_page() -> None:
    # A4 at the width of a column of text is about as tall as one and a half times its width.
    spec = to_vega(TWELVE)
    assert len([m for m in TWELVE.marks if m.kind == "threshold"]) >= 45
    assert spec["height"] < 750
    assert spec["height"] / len(USES) < 65


def test_a_lane_stands_for_a_use_and_the_first_to_suffer_on_top() -> None:
    names = sorted(USES, key=lambda name: USES[name][0][0])
    svg = to_svg(TWELVE)
    whole = [name for name in names if name != "lighting control (DMX512)"]  # takes two lines
    heights = [box.middle for box in in_order(svg, whole)]
    assert heights == sorted(heights)
    assert len({box.left for box in in_order(svg, whole)}) == 1


def test_the_first_threshold_of_each_use_is_told_in_words_where_there_are_many() -> None:
    words = words_of(to_svg(TWELVE))
    for steps in USES.values():
        assert steps[0][1] in words
    assert "phantom voltage at the microphone falls to 24 V" not in words
    assert "noise, phantom" in words


@pytest.mark.parametrize("count", [1, 2])
def test_few_thresholds_are_all_told_in_words(count: int) -> None:
    figure = uses_ladder(count)
    thresholds = [mark for mark in figure.marks if mark.kind == "threshold"]
    assert len(thresholds) <= MOST_SPELLED
    words = words_of(to_svg(figure))
    assert all(mark.label in words for mark in thresholds)


def test_the_ladder_has_a_label_for_each_decade_and_each_mark() -> None:
    words = words_of(to_svg(LADDER))
    for decade in ("1 mΩ", "10 mΩ", "100 mΩ", "1 Ω", "10 Ω", "100 Ω", "1 kΩ"):
        assert decade in words
    shown = [mark for mark in LADDER.marks if mark.label != "1 cm of 0.22 mm² copper"]
    assert len(shown) == len(LADDER.marks) - 1
    for mark in shown:
        assert mark.label in words
    for heading in {group for group, _, _ in THRESHOLDS} | {"2.61 mΩ (2.41 to 2.88 mΩ)"}:
        assert heading in words


def test_wires_stretch_no_scale_unless_they_are_alone() -> None:
    long = LadderMark("wire", "1000 km", "0.22 mm² wire", 79e3)
    without, given = uses_ladder(2), replace(uses_ladder(2), marks=(*uses_ladder(2).marks, long))
    assert to_vega(given)["encoding"]["x"] == to_vega(without)["encoding"]["x"]
    assert "1000 km" not in words_of(to_svg(given))
    alone = words_of(to_svg(replace(given, marks=(*WIRES, long))))
    assert "1000 km" in alone
    assert all(wire.label in alone for wire in WIRES)


@pytest.mark.parametrize("figure", [TWELVE, LADDER, uses_ladder(2)], ids=["twelve", "sample", "two"])
def test_a_mark_stands_at_its_logarithm(figure: LadderFigure) -> None:
    step, low = scale_of_picture(figure)

    def places(kind: str) -> list[float]:
        values = [mark.value for mark in figure.marks if mark.kind == kind]
        return sorted((math.log10(value) - low) * step for value in values)

    rows = [row["x"] for row in drawn(figure, "point", shape="circle", size=95)]
    assert sorted(rows) == pytest.approx(places("contact"), abs=0.05)
    first = [row["x"] for row in drawn(figure, "point", shape="triangle-right")]
    alarms = [row["x"] for row in drawn(figure, "point", shape="diamond")]
    strokes = [row["x"] for row in drawn(figure, "rule", strokeWidth=2)]
    assert all(
        any(abs(place - at) < 0.05 for at in (*first, *alarms, *strokes)) for place in places("threshold")
    )
    limits = {row["x"] for row in drawn(figure, "rule", color=LIMIT)}
    assert sorted(limits) == pytest.approx(places("limit"), abs=0.05)


def test_a_bar_begins_at_its_threshold_and_deepens_at_the_next() -> None:
    step, low = scale_of_picture(TWELVE)
    width = to_vega(TWELVE)["width"]
    zones = [drawn(TWELVE, "rect", color=colour) for colour in THRESHOLD_ZONES]
    for steps in USES.values():
        places = [(math.log10(ohm) - low) * step for ohm, *_ in steps] + [width]
        (bar,) = [row for row in zones[0] if row["x"] == pytest.approx(places[0], abs=0.05)][:1]
        assert bar["x2"] == pytest.approx(places[1], abs=0.05)
    assert len(zones[0]) == len(zones[1]) == len(USES)
    assert max(row["x2"] for row in zones[2]) == pytest.approx(width)


def test_zones_differ_in_grey_on_paper_and_on_a_dark_page() -> None:
    light = [luminance(colour) for colour in (PAPER, *THRESHOLD_ZONES)]
    dark = [luminance(DARK[colour]) for colour in (PAPER, *THRESHOLD_ZONES)]
    assert all((a + 0.05) / (b + 0.05) > 1.15 for a, b in pairwise(light))
    assert all((b + 0.05) / (a + 0.05) > 1.12 for a, b in pairwise(dark))


def test_how_far_a_use_is_from_the_largest_contact_stands_before_its_bar() -> None:
    found = boxes(to_svg(TWELVE))
    (lane,) = in_order(to_svg(TWELVE), ["balanced line"])
    told = [box for box in found if box.text.startswith("×\u00a0") and 0 < box.middle - lane.middle < 30]
    assert [box.text for box in told] == ["×\u00a02\u00a0300"]
    largest = max(contact.value for contact in CONTACTS)
    assert USES["balanced line"][0][0] / largest == pytest.approx(2300, rel=0.02)
    assert not [b for b in boxes(to_svg(replace(TWELVE, marks=TWELVE.marks[3:]))) if b.text.startswith("×")]


def test_a_contact_beyond_a_threshold_lies_on_the_bar() -> None:
    reached = drawn(TWELVE, "point", shape="circle", size=80)
    past = [(c, use) for use, steps in USES.items() for c in CONTACTS if c.value >= steps[0][0]]
    assert len(reached) == len(past) == 1
    worse = tuple(
        replace(m, value=50.0, low=45.0, high=55.0) if m.kind == "contact" else m for m in TWELVE.marks
    )
    # Three conditions on each of the twelve bars: all uses but one suffer from 50 ohm on, and that one from 22.
    assert len(drawn(replace(TWELVE, marks=worse), "point", shape="circle", size=80)) == 36


def test_a_hazard_has_a_shape_of_its_own_and_a_key() -> None:
    serious = [mark for mark in TWELVE.marks if mark.serious]
    assert len(drawn(TWELVE, "point", shape="diamond")) == len(serious) + 1
    assert "hazard" in words_of(to_svg(TWELVE))
    assert "hazard" not in words_of(to_svg(LADDER))


def test_heads_and_hazards_lie_over_strokes_and_discs() -> None:
    marks = [layer["mark"] for layer in to_vega(TWELVE)["layer"]]
    order = [
        mark.get("shape") or mark.get("strokeWidth") for mark in marks if mark["type"] in ("point", "rule")
    ]
    discs = [i for i, mark in enumerate(marks) if mark.get("size") == 80]
    assert max(order.index(2), order.index("circle")) < order.index("triangle-right")
    assert order.index(2) < order.index("diamond")
    assert discs[0] < next(i for i, mark in enumerate(marks) if mark.get("shape") == "diamond")


def test_measured_contacts_run_down_across_all_lanes() -> None:
    bands = drawn(TWELVE, "rect", color="#e1edf8")
    zones = drawn(TWELVE, "rect", color=THRESHOLD_ZONES[0])
    assert len(bands) == len(CONTACTS)
    assert all(band["y"] < zone["y"] and band["y2"] > zone["y2"] for band in bands for zone in zones)
    lines = drawn(TWELVE, "rule", color=CONTACT, strokeWidth=1)
    assert len({line["x"] for line in lines}) == len(CONTACTS)
    assert max(line["y2"] for line in lines) > max(zone["y2"] for zone in zones)


def test_the_ladder_stays_within_microohm_and_megohm_and_points_beyond() -> None:
    marks = (LadderMark("contact", "tiny", "", 1e-8), LadderMark("threshold", "huge", "use", math.inf))
    svg = to_svg(replace(LADDER, marks=(*marks, LadderMark("limit", "far limit", "", 5e7))))
    words = words_of(svg)
    assert "1 µΩ" in words
    assert "1 MΩ" in words
    assert "100 nΩ" not in words
    assert {"←", "→", "50 MΩ →"} <= {box.text.replace("\u00a0", " ") for box in boxes(svg)}
    assert "never reached" in words
    assert "huge" in words


def test_a_mark_without_a_number_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="lost"):
        to_vega(replace(LADDER, marks=(LadderMark("contact", "lost", "", math.nan),)))


def test_a_line_is_open_where_it_would_cross_words() -> None:
    assert open_spans(0, 100, [(10, 20), (15, 30), (90, 120)]) == [(0, 10), (30, 90)]
    assert open_spans(0, 100, []) == [(0, 100)]
    assert open_spans(0, 100, [(110, 120), (130, 140)]) == [(0, 100)]
    assert open_spans(50, 100, [(0, 60), (10, 20)]) == [(60, 100)]


def test_a_scale_holds_what_lies_beyond_its_ends() -> None:
    scale = Scale(-3, 1, 410.0)
    assert [scale.off_scale(value) for value in (1e-9, 1e-3, 10.0, math.inf)] == [-1, 0, 0, 1]
    assert scale.pixel(1e-9) == 0
    assert scale.pixel(math.inf) == 410
    assert scale.pixel(1.0) - scale.pixel(0.1) == pytest.approx(100)


@pytest.mark.parametrize("figure", [TWELVE, LADDER], ids=["twelve", "sample"])
def test_every_colour_has_a_counterpart_on_a_dark_page(figure: LadderFigure) -> None:
    root = ElementTree.fromstring(to_svg(figure))
    used = {node.get(name) for node in root.iter() for name in ("fill", "stroke")}
    assert not {colour for colour in used if colour and colour.startswith("#")} - set(DARK)
    assert len(root.findall(f".//{SVG}text")) > 20


NEAR = LadderFigure(
    "near",
    "A contact close below its limit.",
    "",
    (
        LadderMark("contact", "cleaned", "", 1.94e-3, 1.5e-3, 2.4e-3),
        LadderMark("contact", "as found", "", 4.2e-3, 3.5e-3, 7.5e-3),
        LadderMark("limit", "limit", "", 3e-3),
        *(
            LadderMark(
                "threshold", f"ripple of the response from amplifier, cable and contacts reaches {i} dB", "hall", ohm, harm="dip"
            )
            for i, ohm in enumerate((18e-3, 20e-3, 24e-3, 0.9), 1)
        ),
    ),
)  # fmt: skip


def test_headings_keep_out_of_the_scale() -> None:
    words = {"Measured", "Where", "begins", "contacts", "suffer"}
    headings = [
        row
        for row in drawn(NEAR, "text", color=MUTED, fontWeight="normal")
        if row["x"] < 0 and words & set(" ".join(row["text"]).split())
    ]
    told = [line for row in headings for line in row["text"]]
    assert " ".join(told) == "Measured contacts Where each use begins to suffer"
    assert len(told) > 2  # they would reach into the scale on one line
    assert all(row["x"] + text_width(line, 12) < 0 for row in headings for line in row["text"])


def test_a_value_begins_past_the_line_of_the_limit() -> None:
    (limit,) = {row["x"] for row in drawn(NEAR, "rule", color=LIMIT)}
    values = [row for row in drawn(NEAR, "text", fontWeight="bold") if row["text"][0].startswith("1.94")]
    assert [row["x"] > limit for row in values] == [True]


def test_bands_are_open_behind_words() -> None:
    cleared = drawn(NEAR, "rect", color=PAPER)
    bands = drawn(NEAR, "rect", color=CONTACT_BAND)
    listed = [
        row for row in drawn(NEAR, "text", color=MUTED, fontWeight="bold") if row["text"][0].endswith("mΩ")
    ]
    on_bands = [row for row in listed if any(band["x"] < row["x"] < band["x2"] for band in bands)]
    assert on_bands
    for row in on_bands:
        assert any(box["x"] < row["x"] < box["x2"] and box["y"] < row["y"] < box["y2"] for box in cleared)


def test_words_end_before_the_scale_does() -> None:
    spec = to_vega(NEAR)
    end = spec["padding"]["left"] + spec["width"]
    long = [box for box in boxes(to_svg(NEAR)) if box.text.startswith("ripple of")]
    assert long
    assert all(box.right <= end - 5 for box in long)
