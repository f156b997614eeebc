"""A refusal stays readable however many rows share a fault, and a report's name says what it is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.journeys.broken import READINGS, STUDY
from tests.journeys.test_broken_folders import write

from ohmsworth.adapters.files.template import READINGS_TEMPLATE, STUDY_TEMPLATE
from ohmsworth.cli.app import run
from ohmsworth.cli.refusals import grouped, ranges
from ohmsworth.errors import Fault

SINGLE = [i for i, line in enumerate(STUDY_TEMPLATE.splitlines()) if re.match(r"# \w+ = ", line)]


def fault(line: int, found: str = "'up'", column: str = "polarity") -> Fault:
    return Fault(f"readings.csv, line {line}, column '{column}'", found, "+ or −", "Write one of these.")


def test_faults_that_differ_by_their_line_alone_are_one_and_name_every_line() -> None:
    faults = [*(fault(n) for n in (2, 3, 4, 9)), fault(3, "'x'"), fault(5, column="time")]
    told = grouped(faults)
    assert [f.where for f in told] == [
        "readings.csv, 4 rows, lines 2–4, 9, column 'polarity'",
        "readings.csv, line 3, column 'polarity'",
        "readings.csv, line 5, column 'time'",
    ]


def test_two_alike_and_faults_without_a_line_stay_as_they_are() -> None:
    faults = [fault(2), fault(3), *[Fault("study.toml, key 'x'", "a", "b", "C.")] * 3]
    assert grouped(faults) == faults


def test_ranges_hold_every_line() -> None:
    assert ranges([7, 2, 3, 4, 9]) == "2–4, 7, 9"


def test_a_column_of_strange_words_is_one_fault_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(tmp_path / "study", STUDY, READINGS.replace(",+,", ",up,"))
    assert run(["answer", str(tmp_path / "study")]) == 2
    words = capsys.readouterr().err
    assert words.count("'up'") == 1
    assert "4 rows, lines 2, 4, 6, 8, column 'polarity'" in words
    assert "Refused: 4 faults" in words


def test_plus_and_minus_in_words_are_polarities(tmp_path: Path) -> None:
    write(tmp_path / "study", STUDY, READINGS.replace(",+,", ",Plus,").replace(",-,", ",minus,"))
    assert run(["answer", str(tmp_path / "study"), "--json"]) == 0


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--html", "report.pdf"], "--html"),
        (["--pdf", "report.html"], "--pdf"),
        (["--pdf", "nowhere/report.pdf"], "no folder"),
    ],
)
def test_a_name_that_cannot_be_meant_is_refused(
    options: list[str],
    words: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    write(tmp_path / "study", STUDY, READINGS)
    monkeypatch.chdir(tmp_path)
    before = sorted(tmp_path.rglob("*"))
    assert run(["answer", "study", *options]) == 2
    assert words in capsys.readouterr().err
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("number", SINGLE)
def test_any_line_of_the_template_may_be_uncommented(
    number: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = STUDY_TEMPLATE.splitlines()
    lines[number] = lines[number].removeprefix("# ")
    write(tmp_path / "study", "\n".join(lines), READINGS_TEMPLATE)
    assert run(["answer", str(tmp_path / "study")]) == 0, capsys.readouterr().err


def test_the_template_has_lines_to_uncomment_and_all_together_work(tmp_path: Path) -> None:
    assert len(SINGLE) >= 10
    lines = STUDY_TEMPLATE.splitlines()
    for number in SINGLE:
        lines[number] = lines[number].removeprefix("# ")
    write(tmp_path / "study", "\n".join(lines), READINGS_TEMPLATE)
    assert run(["answer", str(tmp_path / "study")]) == 0
