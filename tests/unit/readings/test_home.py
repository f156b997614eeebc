"""Sentences about a study's readings speak of what the person has seen: lines of a file, or readings on pages."""

import pytest

from ohmsworth.readings.home import (
    FOLDER,
    Home,
    row_called,
    row_numbers,
    rows_named,
    to_ask,
    to_keep,
    where_said,
)

RECORDS = Home("records", {row: row + 5 for row in range(2, 20)})


@pytest.mark.parametrize(
    ("rows", "lines", "numbers"),
    [
        ((), "every reading", "every reading"),
        ((4,), "line 4 of readings.csv", "reading 9"),
        ((4, 6), "lines 4, 6 of readings.csv", "readings 9, 11"),
        (tuple(range(2, 12)), "lines 2, 3, 4, 5, 6, 7, 8, 9 … of readings.csv", "readings 7, 8, 9, 10, 11, 12, 13, 14 …"),
    ],
)  # fmt: skip
def test_rows_are_named_by_what_the_person_sees(rows: tuple[int, ...], lines: str, numbers: str) -> None:
    assert rows_named(FOLDER, rows) == lines
    assert rows_named(RECORDS, rows) == numbers


def test_a_reading_that_no_page_of_the_study_shows_gets_no_number() -> None:
    assert row_numbers(RECORDS, (4, 99)) == "9"
    assert rows_named(RECORDS, (99,)) == "this reading"
    assert rows_named(Home("records"), (2, 3)) == "these readings"
    assert row_called(RECORDS, 99) == "a reading"


def test_no_sentence_about_records_names_a_file() -> None:
    told = [to_keep(RECORDS), to_keep(RECORDS, True), to_ask(RECORDS, "add [[use]]", "choose a use")]
    assert told == [
        "keep the reading in spite of the warning",
        "keep the readings in spite of the warning",
        "choose a use under Question",
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("readings.csv, line 4, column 'voltage'", "reading 9, column 'voltage'"),
        ("readings.csv, line 4, 6", "readings 9, 11"),
        ("readings.csv, line 1", "the readings, line 1"),
        ("readings.csv, column 'specimen'", "the readings, column 'specimen'"),
        ("check.csv, line 4", "check.csv, line 4"),
        ("study.toml, key 'reference'", "the question, key 'reference'"),
    ],
)
def test_a_fault_stands_at_a_reading(text: str, said: str) -> None:
    assert where_said(RECORDS, text) == said
    assert where_said(FOLDER, text) == text
