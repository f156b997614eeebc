"""Cells and headings of the report's pages."""

import pytest

from ohmsworth.report.use_answers import BandAnswer, CurveAnswer, EffectAnswer, UseAnswer
from ohmsworth.report.use_figures import curve_blocks
from ohmsworth.report.use_pages import band_tables, use_blocks, use_tables, with_ends


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


# ------------------------------------------------------------ many conditions


def use(names: list[str], known: bool = False, banded: bool = False) -> UseAnswer:
    effects = tuple(
        EffectAnswer(
            "level", "change of level", "dB", 1e3, "every contact", name, 0.0, -1.0 - i, -2.0 if known else None,
            -0.5 if known else None, -0.1,
        )
        for i, name in enumerate(names)
    )  # fmt: skip
    frequency = (20.0, 1000.0, 20000.0)
    bands = tuple(
        BandAnswer(
            name, "all", (-1.0, -2.0, -3.0), *((((-4.0,) * 3, (-0.5,) * 3)) if banded else (None, None))
        )
        for name in names
    )
    curve = CurveAnswer("level", "change of level", "dB", frequency, (0.0, 0.0, 0.0), bands)
    return UseAnswer("kind", "mine", {}, effects, (), (curve,))


@pytest.mark.parametrize(
    ("number", "groups"), [(1, [1]), (3, [3]), (4, [2, 2]), (5, [3, 2]), (6, [3, 3]), (7, [3, 3, 1])]
)
def test_no_more_conditions_stand_side_by_side_than_fit(number: int, groups: list[int]) -> None:
    names = [f"{i} mΩ" for i in range(1, number + 1)]
    *effects, _ = use_tables(use(names), names)
    assert [len(table.header) - 4 for table in effects] == groups
    assert [name for table in effects for name in table.header[3:-1]] == names
    bands = band_tables(use(names, banded=True), names)
    assert [name for table in bands for name in table.header[3:]] == names


def test_brackets_are_explained_where_there_are_any() -> None:
    for known in (False, True):
        table, _ = use_tables(use(["a"], known=known), ["a"])
        assert bool(table.note) == known
        assert ("(" in table.rows[0][3]) == known


def test_bands_as_numbers_at_both_ends_and_the_middle() -> None:
    (table,) = band_tables(use(["a"], banded=True), ["a"])
    cells = [tuple(cell.replace("\u00a0", " ") for cell in row) for row in table.rows]
    assert cells == [
        ("change of level", "20 Hz", "0 dB", "−1.00 dB (−4.00 to −0.500)"),
        ("change of level", "1 kHz", "0 dB", "−2.00 dB (−4.00 to −0.500)"),
        ("change of level", "20 kHz", "0 dB", "−3.00 dB (−4.00 to −0.500)"),
    ]
    assert band_tables(use(["a"]), ["a"]) == []
    assert band_tables(use(["a"], banded=True), []) == []


def test_a_circuit_is_shown_with_what_is_asked_or_with_the_mildest_and_the_worst_of_many() -> None:
    names = list("abcdef")
    for asked, told in ((names, names), ([], ["a", "f"])):
        tables = [block for block in use_blocks(use(names), asked) if hasattr(block, "rows")]
        assert [name for table in tables[:-1] for name in table.header[3:-1]] == told


def test_a_curve_in_words_for_who_cannot_see_it() -> None:
    (figure,) = curve_blocks(use(["3 mΩ"]), ["3 mΩ"])
    assert getattr(figure, "alt", "") == (
        "change of level in mine from 20 Hz to 20 kHz: ideal contacts 0 dB to 0 dB; 3 mΩ −1.00 dB to −3.00 dB."
    )
