"""What is said of the specimens that carry a verdict."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.report.answers import answer

from ohmsworth.report.answer import Answer, ChangeAnswer, Interval, PartAnswer, SensitivityAnswer
from ohmsworth.report.sensitivity import sensitivity_rows, sensitivity_sentences


def about(
    verdict: str, *changes: tuple[str, str], against: str | None = "new", kept: int = 0
) -> SensitivityAnswer:
    kinds = {"P": "plug", "S": "socket"}
    changed = tuple(ChangeAnswer(kinds.get(name[0], "specimen"), name, said) for name, said in changes)
    return SensitivityAnswer("worn", against, verdict, 5, kept, changed)


def with_all(*found: SensitivityAnswer, parts: bool = False) -> Answer:
    part = PartAnswer("plug", "P1", ("all",), Interval(1.0, None, None), 3, 1, 6, None)
    return replace(answer(), sensitivity=found, parts=(part,) if parts else ())


LOST = ("T3", "cannot tell yet")


@pytest.mark.parametrize(
    ("found", "sentence"),
    [
        (
            about("enough to matter", LOST),
            ("'worn' against 'new': 'enough to matter', but without T3 it would be 'cannot tell yet'; one specimen carries "
            "the verdict."),
        ),
        (
            about("over", ("T3", "too close to call"), ("T4", "too close to call"), against=None),
            ("'worn' as a kind against the limit: 'over', but without T3 or without T4 it would be 'too close to call'; the "
            "verdict hangs on each of them."),
        ),
        (
            about("enough to matter", LOST, ("T1", "cannot tell yet"), ("T2", "cannot tell yet"), ("T4", "too small to matter")),
            ("'worn' against 'new': 'enough to matter', but without any one of T3, T1 and T2 it would be 'cannot tell yet', "
            "without T4 it would be 'too small to matter'; the verdict hangs on each of them."),
        ),
        (
            about("enough to matter", *((f"T{i}", "cannot tell yet") for i in range(5))),
            ("'worn' against 'new': 'enough to matter', but without any one of T0, T1, T2, T3 and T4 it would be 'cannot tell "
            "yet'; there are just enough of them to judge by."),
        ),
        (
            about("cannot tell yet", ("T3", "too small to matter")),
            ("'worn' against 'new': 'cannot tell yet', but without T3 it would be 'too small to matter'; one specimen keeps it "
            "open: look whether it was read right, and leave it out for no other reason."),
        ),
        (
            about("enough to matter", ("P3", "cannot tell yet")),
            ("'worn' against 'new': 'enough to matter', but without plug P3 it would be 'cannot tell yet'; one part carries the "
            "verdict."),
        ),
    ],
)  # fmt: skip
def test_a_verdict_that_hangs_on_one(found: SensitivityAnswer, sentence: str) -> None:
    assert sensitivity_sentences(with_all(found)) == [sentence]


@pytest.mark.parametrize(
    ("found", "parts", "sentence"),
    [
        (
            [about("enough to matter")],
            False,
            "No single specimen carries the verdict: each of the 5 specimens was left out in turn, and nothing changed.",
        ),
        (
            [about("enough to matter"), about("over", against=None)],
            True,
            (
                "No single plug or socket carries a verdict: each of the 5 plugs and sockets was left out in turn, and nothing "
                "changed."
            ),
        ),
        (
            [about("cannot tell yet"), about("over", against=None)],
            False,
            (
                "No single specimen carries the verdict on 'worn' as a kind against the limit: each of the 5 specimens was left "
                "out in turn, and nothing changed."
            ),
        ),
        (
            [about("enough to matter", kept=2)],
            False,
            (
                "None of the 5 specimens that could be left out in turn carries the verdict; without one of the other 2 too few "
                "would remain to judge by."
            ),
        ),
    ],
)
def test_verdicts_that_nobody_carries(found: list[SensitivityAnswer], parts: bool, sentence: str) -> None:
    assert sensitivity_sentences(with_all(*found, parts=parts)) == [sentence]


def test_nothing_is_said_of_open_verdicts_that_stay_open() -> None:
    assert (
        sensitivity_sentences(with_all(about("cannot tell yet"), about("too close to call", against=None)))
        == []
    )
    assert sensitivity_sentences(with_all()) == []


def test_the_table_has_a_row_for_each_other_verdict() -> None:
    found = about("enough to matter", LOST, ("T4", "too small to matter"))
    assert sensitivity_rows(with_all(found, about("over", against=None, kept=1))) == (
        ("'worn' against 'new'", "enough to matter", "T3", "cannot tell yet"),
        ("'worn' against 'new'", "enough to matter", "T4", "too small to matter"),
        ("'worn' as a kind against the limit", "over", "any of 5 specimens", "the same"),
    )
