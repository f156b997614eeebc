"""A folder that cannot be answered is refused: every fault at once, in words, and nothing is written."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest
from tests.journeys.broken import CASES, READINGS, STUDY, Case, Content, row

from ohmsworth.cli.app import run

#: What a person at a bench never has to read.
JARGON = re.compile(
    r"NoneType|\bNone\b|\bstr\b|\bint\b|\bfloat\b|\bTrue\b|\bFalse\b|\bdict\b|Traceback|Errno|Error\b|ndarray|<class|\bSI\b"
)
PLACE = re.compile(r"study\.toml|readings\.csv|\bthe study\b")


def write(folder: Path, study: Content, readings: Content) -> None:
    folder.mkdir(exist_ok=True)
    for name, content in (("study.toml", study), ("readings.csv", readings)):
        if content is not None:
            data = content if isinstance(content, bytes) else content.encode()
            (folder / name).write_bytes(data)


def refused(
    folder: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> tuple[list[dict[str, str]], str]:
    """Answer the folder with every output asked for; the faults as data and as words."""
    html, pdf = tmp_path / "report.html", tmp_path / "report.pdf"
    before = sorted(tmp_path.rglob("*"))
    code = run(["answer", str(folder), "--json", "--html", str(html), "--pdf", str(pdf)])
    out, err = capsys.readouterr()
    assert code == 2, err or out
    assert sorted(tmp_path.rglob("*")) == before
    data = json.loads(out)
    assert data["format"] == "ohmsworth refusal 1"
    return data["faults"], err


def told(fault: dict[str, str]) -> str:
    return f"{fault['where']}: found {fault['found']}; expected {fault['expected']}. {fault['mend']}"


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_a_broken_folder_is_refused_in_words(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "study"
    write(folder, case.study, case.readings)
    for name in case.folders:
        (folder / name).mkdir()
    faults, words = refused(folder, capsys, tmp_path)
    messages = [told(fault) for fault in faults]
    assert len(messages) == len(case.faults), messages
    for message, fragments in zip(messages, case.faults, strict=True):
        for fragment in fragments:
            assert fragment in message
    for fault, message in zip(faults, messages, strict=True):
        assert fault["where"] in words
        assert fault["mend"] in words
        check_quality(fault, message)


def check_quality(fault: dict[str, str], message: str) -> None:
    """A message names its place, says how to mend it, and is short and plain."""
    assert PLACE.search(fault["where"])
    assert re.match(r"[A-Z].*[.?\"\])]$", fault["mend"])
    assert fault["found"]
    assert fault["expected"]
    assert not JARGON.search(message)
    assert len(message) < 400
    assert all(letter.isprintable() for letter in message)


def test_there_are_cases_enough_and_no_name_twice() -> None:
    names = [case.name for case in CASES]
    assert len(names) == len(set(names)) >= 40


def test_the_folder_that_the_cases_break_is_answered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(tmp_path / "study", STUDY, READINGS)
    assert run(["answer", str(tmp_path / "study"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["rows"] == 8


@pytest.mark.parametrize(
    ("name", "words"), [("nowhere", "no such folder"), ("file", "a file"), ("x" * 300, "name too long")]
)
def test_what_is_no_folder(name: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("x")
    faults, _ = refused(tmp_path / name, capsys, tmp_path)
    assert words in faults[0]["found"]
    assert "ohmsworth new" in faults[0]["mend"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
@pytest.mark.parametrize("name", ["study.toml", "readings.csv"])
def test_a_file_that_may_not_be_read(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "study"
    write(folder, STUDY, READINGS)
    (folder / name).chmod(0)
    faults, _ = refused(folder, capsys, tmp_path)
    assert [fault["where"] for fault in faults] == [name]
    assert "permissions" in faults[0]["mend"]


def test_a_pipe_for_a_file_does_not_hang(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "study"
    write(folder, STUDY, None)
    os.mkfifo(folder / "readings.csv")
    faults, _ = refused(folder, capsys, tmp_path)
    assert "not a file" in faults[0]["found"]


def test_every_bad_row_is_reported(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = "".join(f"N{i},new,+,x,{i}x\n" for i in range(300))
    write(tmp_path / "study", STUDY, row(rows.rstrip()))
    faults, words = refused(tmp_path / "study", capsys, tmp_path)
    assert len(faults) == 600
    assert "600 faults" in words
    assert "300 rows, lines 2–301, column 'voltage': found 'x'" in words
    assert "and 101 more" in words


def test_an_answered_study_leaves_no_word_of_refusal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(tmp_path / "study", STUDY, READINGS)
    assert run(["answer", str(tmp_path / "study")]) == 0
    out, err = capsys.readouterr()
    assert "Do they matter?" in out
    assert err == ""
