"""Widths estimated without drawing agree with what a typesetter measures."""

import json

import pytest
import typst

from ohmsworth.adapters.render.measure import columns, cut_pixels, pad, text_width, wrap_columns, wrap_pixels
from ohmsworth.adapters.render.palette import FONT_FOLDER

LINES = (
    "hum rejection at 50 Hz falls to 60 dB: 3.20 Ω",
    "Stage box A, after cleaning: 2.61 mΩ (2.41 to 2.88 mΩ)",
    "WWW iii [x] <b> 0123456789",
    "Écoutez Größe µΩ ± 5 °C",
)


@pytest.mark.parametrize("line", LINES)
@pytest.mark.parametrize("weight", ["regular", "bold"])
def test_a_width_is_as_the_typesetter_measures_it(line: str, weight: str) -> None:
    source = (
        '#set text(font: "Inter", size: 12pt, weight: sys.inputs.weight)\n'
        "#context [#metadata(measure(text(sys.inputs.line)).width.pt()) <width>]"
    )
    answer = typst.query(
        source.encode(),
        "<width>",
        field="value",
        one=True,
        font_paths=[str(FONT_FOLDER)],
        ignore_system_fonts=True,
        sys_inputs={"line": line, "weight": weight},
    )
    assert text_width(line, 12, weight == "bold") == pytest.approx(json.loads(answer), rel=0.06)


def test_columns_count_wide_and_combining_letters() -> None:
    assert columns("接触") == 4
    assert columns("e\u0301") == 1
    assert columns("mΩ") == 2


def test_wrapping_keeps_every_word_and_its_order() -> None:
    text = "the quick onion of the stagehand " + "x" * 50
    for lines in (wrap_columns(text, 12), wrap_pixels(text, 80, 12)):
        assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(columns(line) <= 12 for line in wrap_columns(text, 12))
    assert all(text_width(line, 12) <= 80 for line in wrap_pixels(text, 80, 12))


def test_a_number_stays_with_its_unit() -> None:
    assert wrap_columns("about 12\u00a0mΩ here", 9) == ["about", "12\u00a0mΩ", "here"]


def test_nothing_wraps_to_one_empty_line() -> None:
    assert wrap_columns("", 10) == [""]


def test_padding_aligns_by_columns() -> None:
    assert pad("接", 4) == "接  "
    assert pad("1", 3, right=True) == "  1"


def test_a_name_too_long_keeps_both_its_ends() -> None:
    name = "silver-plated brass from the supplier, kind 12"
    cut = cut_pixels(name, 120, 12)
    assert cut.startswith("silver")
    assert cut.endswith("12")
    assert "…" in cut
    assert text_width(cut, 12) <= 120
    assert cut_pixels("kind 12", 120, 12) == "kind 12"
