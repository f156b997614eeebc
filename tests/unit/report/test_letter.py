"""The letter says what the report says, and nothing that nobody knows."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from ohmsworth import wiring
from ohmsworth.report.answer import Answer
from ohmsworth.report.papers.letter import Sender, letter
from ohmsworth.report.particulars import MeterUsed, Particulars
from ohmsworth.work.report_study import report_study

DAY = date(2026, 3, 9)
KNOWN = Particulars(
    job="stage boxes of the hall",
    customer="The Hall",
    days=("2026-03-02", "2026-03-03"),
    people=("Ada",),
    meters=(MeterUsed("voltmeter", "bench meter", "0.05 % + 3 counts", "calibrated 2026-01-15"),),
)


@pytest.fixture(scope="module")
def answer(tmp_path_factory: pytest.TempPathFactory) -> Answer:
    folder = tmp_path_factory.mktemp("hall") / "study"
    wiring.write_demo_study(folder)
    return report_study(wiring.load_study(folder)).answer


def test_it_says_what_the_report_says(answer: Answer) -> None:
    text = letter(answer, KNOWN, Sender("The Cable Bench", "1 Mill Lane\nMillbrook"), DAY)
    paragraphs = text.split("\n\n")
    first, *advised = answer.actions
    assert first.words.startswith("Check line 164"), "a slip is planted in the demonstration"
    assert paragraphs[0] == f"[Before you send this: {first.words} {first.why}]"
    assert paragraphs[1] == "The Cable Bench\n1 Mill Lane\nMillbrook"
    assert answer.sentence in paragraphs
    assert paragraphs.index(answer.findings[0]) > paragraphs.index(answer.sentence)
    for number, action in enumerate(advised, 1):
        (step,) = (one for one in paragraphs if one.startswith(f"{number}. {action.words}"))
        assert [f"   Caution: {caution}" for caution in action.cautions] == step.splitlines()[1:]
    assert any(action.cautions for action in answer.actions)
    assert "Dear The Hall," in paragraphs
    assert "on 2 days from 2026-03-02 to 2026-03-03" in text
    assert "the voltmeter bench meter (calibrated 2026-01-15)" in text
    assert "Ada" not in text


def test_what_nobody_knows_is_left_to_be_written(answer: Answer) -> None:
    text = letter(replace(answer, actions=()), Particulars(), Sender(), DAY)
    assert text.startswith("[your shop]\n\n[customer]\n[address]\n\n2026-03-09\n\n")
    assert "What we advise" not in text
    assert f"{answer.rows_used} readings" in text


def test_a_paragraph_is_a_line(answer: Answer, tmp_path: Path) -> None:
    """A program for texts sets it anew: nothing is broken by hand."""
    place = tmp_path / "letter.txt"
    place.write_text(letter(answer, KNOWN, Sender(), DAY), "utf-8")
    assert max(map(len, place.read_text("utf-8").splitlines())) > 100
