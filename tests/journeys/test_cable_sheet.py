"""A sheet of what is left to measure at a cable: written, filled in with a spreadsheet, and taken in again."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.unit.work.builds.built import TOML, BuiltShop

from ohmsworth import wiring
from ohmsworth.cables.tested import left_to_measure
from ohmsworth.cli.app import run
from ohmsworth.errors import InputRefused
from ohmsworth.work.builds.sheet import sheet_rows

Rows = list[list[str]]
#: What somebody reads at a sound cable of that kind.
WIRE = "0.8504"


def rows_of(data: bytes) -> Rows:
    assert data.startswith(b"\xef\xbb\xbf")
    return [*csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""))]


def filled(rows: Rows, wire: str = WIRE) -> Rows:
    """Every empty cell filled in by its note: wires and the link as they read, groups as open."""
    heading, *body = rows
    reading, note = heading.index("resistance [Ω]"), heading.index("note")
    done = [heading]
    for row in map(list, body):
        if not row[reading]:
            words = row[note]
            row[reading] = wire if "wire lies" in words else "0.001" if "joined at" in words else "open"
        done.append(row)
    return done


def _decimal_commas(rows: Rows) -> Rows:
    return [[one.replace(".", ",") if k == 3 else one for k, one in enumerate(row)] for row in rows]


def semicolons(rows: Rows) -> bytes:
    """As a spreadsheet saves it where the decimal mark is a comma: semicolons, a mark of the byte order, CRLF."""
    out = io.StringIO()
    csv.writer(out, delimiter=";", lineterminator="\r\n").writerows(_decimal_commas(rows))
    return ("\ufeff" + out.getvalue()).encode()


def quoted(rows: Rows) -> bytes:
    """With every text in quotation marks, and blank rows at the end."""
    out = io.StringIO()
    csv.writer(out, delimiter=";", lineterminator="\r\n", quoting=csv.QUOTE_ALL).writerows(
        [*_decimal_commas(rows), [""] * 5, [""] * 5]
    )
    return out.getvalue().encode("utf-8")


def tabs(rows: Rows) -> bytes:
    """As a table of Unicode text: tabs, two bytes a letter."""
    out = io.StringIO()
    csv.writer(out, delimiter="\t", lineterminator="\r\n").writerows(_decimal_commas(rows))
    return out.getvalue().encode("utf-16")


def as_it_is(rows: Rows) -> bytes:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue().encode()


@pytest.mark.parametrize("saved", [semicolons, quoted, tabs, as_it_is])
def test_a_sheet_is_filled_in_and_the_cable_is_right(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], saved: Callable[[Rows], bytes]
) -> None:
    (tmp_path / "cable.toml").write_text(TOML, "utf-8")
    sheet = tmp_path / "test.csv"
    assert run(["cable", str(tmp_path), "--sheet", str(sheet)]) == 0
    assert f"Written: {sheet}. Fill it in." in capsys.readouterr().out
    rows = rows_of(sheet.read_bytes())
    assert rows[0] == ["step", "from", "to", "resistance [Ω]", "note"]
    assert rows[1][:4] == ["1", "A:1", "B:1", ""]
    assert "a good wire lies between" in rows[1][4]
    # Not filled in it passes nothing.
    assert run(["cable", str(tmp_path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["verdict"] == "cannot tell yet"
    sheet.write_bytes(saved(filled(rows)))
    assert run(["cable", str(tmp_path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["verdict"], told["unused"]) == ("right", [])
    assert told["wires"][0]["resistance"] == float(WIRE)


def test_half_a_sheet_is_kept_and_the_next_one_holds_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "cable.toml").write_text(TOML, "utf-8")
    first, second = tmp_path / "test.csv", tmp_path / "rest.csv"
    assert run(["cable", str(tmp_path), "--sheet", str(first)]) == 0
    rows = rows_of(first.read_bytes())
    half = [*filled(rows)[:3], *rows[3:]]
    first.write_bytes(semicolons(half))
    assert run(["cable", str(tmp_path), "--sheet", str(second)]) == 0
    assert "Fill it in, and save it as test.csv" in capsys.readouterr().out
    again = rows_of(second.read_bytes())
    assert [row[1:4] for row in again[1:]] == [row[1:4] for row in half[1:]]
    assert [row[0] for row in again[1:4]] == ["", "", "1"]
    first.write_bytes(as_it_is(filled(again)))
    assert run(["cable", str(tmp_path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["verdict"] == "right"


def test_no_file_is_replaced_and_nothing_left_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "cable.toml").write_text(TOML, "utf-8")
    sheet = tmp_path / "test.csv"
    assert run(["cable", str(tmp_path), "--sheet", str(tmp_path / "cable.toml")]) == 2
    assert run(["cable", str(tmp_path), "--sheet", str(sheet)]) == 0
    before = sheet.read_bytes()
    assert run(["cable", str(tmp_path), "--sheet", str(sheet)]) == 3
    assert sheet.read_bytes() == before
    sheet.write_bytes(as_it_is(filled(rows_of(before))))
    assert run(["cable", str(tmp_path), "--sheet", str(tmp_path / "more.csv")]) == 2
    assert "nothing left to measure" in capsys.readouterr().err
    assert not (tmp_path / "more.csv").exists()


def test_its_order_is_that_of_what_to_measure_next() -> None:
    """At every step of a sound cable, the rest of the sheet is what was still below."""
    built = BuiltShop()
    described, ahead = built.desk.teller.described(TOML), built.desk.teller.ahead(TOML)

    def left() -> list[tuple[str, str]]:
        rows = [built.desk.teller.row(TOML, one) for one in built.state.written]
        return [(one.one, one.other) for one in sheet_rows(described.request, rows, ahead)]

    expected = left()
    assert len(expected) == len(set(expected)) > 5
    while expected:
        after = built.desk.leading(built.state).following
        assert after is not None
        assert (" ".join(after.one), " ".join(after.other)) == expected[0]
        built.next_row()
        expected = expected[1:]
        if expected:
            assert left() == expected
    with pytest.raises(InputRefused, match="nothing left"):
        left()


def test_wires_that_do_not_reach_are_asked_for_first(tmp_path: Path) -> None:
    built = BuiltShop()
    built.row("A:1", "B:1", "open")
    built.row("A:2", "B:2", "open")
    request = built.desk.teller.described(TOML).request
    rows = [built.desk.teller.row(TOML, one) for one in built.state.written]
    purposes = [one.purpose for one in left_to_measure(request, rows)]
    assert purposes[:3] == ["exchanged", "wire", "link"]
    assert set(purposes[3:]) == {"touch"}


def test_the_demonstrations_sheet_goes_on_from_its_half(tmp_path: Path) -> None:
    wiring.write_demo_cable(tmp_path)
    lines = (tmp_path / "test.csv").read_bytes().splitlines(keepends=True)
    (tmp_path / "test.csv").write_bytes(b"".join(lines[:40]))
    assert run(["cable", str(tmp_path), "--sheet", str(tmp_path / "sheet.csv")]) == 0
    rows = rows_of((tmp_path / "sheet.csv").read_bytes())
    read = [row for row in rows[1:] if row[3]]
    assert len(read) == 39
    assert [row[0] for row in rows[40:]] == [str(k) for k in range(1, len(rows) - 39)]
