"""Cells and headings of the report's pages."""

import pytest

from ohmsworth.report.use_pages import with_ends


@pytest.mark.parametrize(
    ("value", "low", "high", "unit", "words"),
    [
        (88.8, 88.7, 88.9, "dB", "88.8 dB (88.7 to 88.9)"),
        (88.8, 88.799, 88.801, "dB", "88.8 dB"),
        (88.8, None, None, "dB", "88.8 dB"),
        (30.4, 30.1, 30.7, "V", "30.4 V (30.1 to 30.7)"),
        (1.0, 0.9, 1.1, "V", "1.00 V (900 mV to 1.10 V)"),
    ],
)
def test_the_unit_stands_once_where_one_serves(
    value: float, low: float | None, high: float | None, unit: str, words: str
) -> None:
    assert with_ends(value, low, high, unit).replace("\u00a0", " ") == words


def test_a_long_cell_breaks_before_its_bracket_only() -> None:
    cell = with_ends(88.8, 88.7, 88.9, "dB")
    assert cell.split(" ") == ["88.8\u00a0dB", "(88.7\u00a0to\u00a088.9)"]
