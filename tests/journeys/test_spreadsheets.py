"""Whatever way a spreadsheet writes the same readings down, the answer is the same.

The files in tests/adapters/files/spreadsheets were written by a spreadsheet program from one invented sheet, each with
other settings of its export: separator, quotes, encoding, decimal mark, by way of another format.
"""

from __future__ import annotations

import codecs
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from ohmsworth.cli.app import run

SAVED = sorted((Path(__file__).parents[1] / "adapters" / "files" / "spreadsheets").glob("*.csv"))
STUDY = 'question = "How much?"\nreference = "cleaned"\n'
HEADER = "specimen,condition,mating,polarity,voltage [mV],current [mA],note"
ROWS = [
    f"{specimen},{condition},{mating},{sign},{sign.strip('+')}{volt + 0.001 * mating:.4f},{sign.strip('+')}100.02,x"
    for specimen, condition, volt in (
        ("N1", "as found", 0.4718),
        ("N2", "as found", 0.3984),
        ("N1", "cleaned", 0.2513),
        ("N2", "cleaned", 0.2391),
    )
    for mating in (1, 2)
    for sign in ("+", "-")
]
PLAIN = "\n".join([HEADER, *ROWS]) + "\n"
MICRO = PLAIN.replace("[mV]", "[µV]")
OHMS = (
    "specimen,condition,resistance [mΩ]\nN1,cleaned,2.51\nN2,cleaned,2.42\nN1,as found,4.7\nN2,as found,4\n"
)
Answerer = Callable[[str | bytes], dict[str, Any]]


@pytest.fixture
def answer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Answerer:
    def ask(readings: str | bytes) -> dict[str, Any]:
        (tmp_path / "study.toml").write_text(STUDY, "utf-8")
        data = readings if isinstance(readings, bytes) else readings.encode()
        (tmp_path / "readings.csv").write_bytes(data)
        code = run(["answer", str(tmp_path), "--json"])
        printed = capsys.readouterr()
        assert code == 0, printed.err
        found: dict[str, Any] = json.loads(printed.out)
        return found

    return ask


def commas(text: str) -> str:
    """Semicolons between the cells, decimal commas in them."""
    return text.replace(",", ";").replace(".", ",")


def quoted(text: str, separator: str = ",") -> str:
    """Every cell in quotation marks."""
    lines = text.splitlines()
    return "\n".join(separator.join(f'"{cell}"' for cell in line.split(separator)) for line in lines) + "\n"


#: Each writes PLAIN down in another way.
WAYS: dict[str, str | bytes] = {
    "mark of UTF-8": codecs.BOM_UTF8 + PLAIN.encode(),
    "CRLF": PLAIN.replace("\n", "\r\n"),
    "CR alone": PLAIN.replace("\n", "\r"),
    "no end of the last line": PLAIN.rstrip("\n"),
    "semicolons and commas": commas(PLAIN),
    "semicolons and points": PLAIN.replace(",", ";"),
    "tabs": PLAIN.replace(",", "\t"),
    "tabs and commas": PLAIN.replace(",", "\t").replace(".", ","),
    "quotes": quoted(PLAIN),
    "quoted decimal commas": quoted(PLAIN.replace(",", ";"), ";").replace(".", ",").replace('";"', '","'),
    "UTF-16, little end first": PLAIN.encode("utf-16-le").join((codecs.BOM_UTF16_LE, b"")),
    "UTF-16, big end first": PLAIN.encode("utf-16-be").join((codecs.BOM_UTF16_BE, b"")),
    "sep line": "sep=;\n" + commas(PLAIN),
    "sep line, CRLF, mark": codecs.BOM_UTF8 + ("sep=;\n" + commas(PLAIN)).replace("\n", "\r\n").encode(),
    "sep line in quotes": '"sep=;"\n' + commas(PLAIN),
    "true minus": PLAIN.replace(",-", ",−"),
    "blank rows behind": PLAIN + "\n,,,,,,\n;;\n\n \n".replace(";;\n", ""),
    "blank rows between": PLAIN.replace("\nN2", "\n\n,,,,,,\nN2"),
    "blank rows before": "\n\n" + PLAIN,
    "empty columns behind": PLAIN.replace("\n", ",,,\n"),
    "empty cells left out": PLAIN.replace(",x\n", "\n"),
    "blanks": PLAIN.replace(",", " , "),
    "no-break spaces": PLAIN.replace("as found", "as\u00a0found").replace(",0.2", ",\u00a00.2"),
    "double blanks": PLAIN.replace("as found,1", "as  found,1"),
    "capitals": PLAIN.replace(HEADER, "Specimen,CONDITION, Mating ,Polarity,Voltage  [mV],Current[mA],Note"),
    "round brackets": PLAIN.replace("[mV]", "(mV)").replace("[mA]", "( mA )"),
    "signs left out": PLAIN.replace(",-0", ",0").replace(",-100", ",100"),
    "words for signs": PLAIN.replace(",+,", ",forward,").replace(",-,", ",Reversed,"),
    "exponents": PLAIN.replace("100.02", "1.0002E+02"),
    "plus signs": PLAIN.replace(",0.", ",+0."),
    "other order": "\n".join(",".join(reversed(line.split(","))) for line in PLAIN.splitlines()),
}


@pytest.fixture
def plain(answer: Answerer) -> dict[str, Any]:
    return answer(PLAIN)


@pytest.mark.parametrize("way", WAYS)
def test_the_way_of_writing_changes_nothing(way: str, answer: Answerer, plain: dict[str, Any]) -> None:
    assert WAYS[way] not in (PLAIN, PLAIN.encode())
    assert moved_lines(answer(WAYS[way])) == moved_lines(plain)


def moved_lines(found: dict[str, Any]) -> dict[str, Any]:
    """The answer without the line numbers in warnings: blank lines move them, rightly."""
    for warning in found["warnings"]:
        warning["rows"] = len(warning["rows"])
    return found


@pytest.mark.parametrize(
    "text",
    [
        MICRO.encode("cp1252"),
        MICRO.encode("latin-1"),
        MICRO.replace("µ", "\u03bc"),
        MICRO.replace("µ", "u"),
        MICRO.replace("\n", "\r\n").encode("utf-16"),
    ],
)
def test_micro_however_encoded(text: str | bytes, answer: Answerer) -> None:
    assert answer(text) == answer(MICRO)


@pytest.mark.parametrize("ohm", ["m\u2126", "mohm", "mOhm", " m\u03a9 "])
def test_ohm_however_typed(ohm: str, answer: Answerer) -> None:
    assert answer(OHMS.replace("mΩ", ohm)) == answer(OHMS)


def test_decimal_commas_are_no_thousands(answer: Answerer) -> None:
    found = answer(commas(OHMS.replace("2.51", "2.510")))
    assert [round(s["resistance"], 6) for s in found["specimens"]] == [2.51e-3, 2.42e-3, 4.7e-3, 4e-3]


@pytest.mark.parametrize("file", SAVED, ids=lambda file: file.stem)
def test_what_a_spreadsheet_program_saved(file: Path, answer: Answerer) -> None:
    usual = (file.parent / "utf8-comma.csv").read_bytes()
    assert answer(file.read_bytes()) == answer(usual)


def test_the_saved_files_are_different_ones() -> None:
    assert len({file.read_bytes() for file in SAVED}) == len(SAVED) >= 8


def test_a_reading_changed_is_an_answer_changed(answer: Answerer, plain: dict[str, Any]) -> None:
    assert answer(PLAIN.replace("0.4738", "0.4739")) != plain


@pytest.mark.parametrize(
    "where", ["10:15", "10:15:30.5", "2026-03-01 10:15", "2026-03-01T10:15:00+01:00", "9:15 AM"]
)
def test_times_as_they_are_written(where: str, answer: Answerer) -> None:
    timed = OHMS.replace("condition,", "condition,time,").replace("d,", f"d,{where},")
    assert answer(timed)["rows"] == 4


def test_a_column_without_a_heading_is_told(answer: Answerer) -> None:
    found = answer(PLAIN.replace(",note\n", ",\n"))
    told = [w["words"] for w in found["warnings"] if w["code"] == "UNUSED_COLUMN"]
    assert len(told) == 1
    assert "column 7, without a heading" in told[0]
