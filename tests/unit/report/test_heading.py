"""The word beside the headline: never better than the contacts are."""

from __future__ import annotations

import pytest
from tests.unit.report.answers import (
    FROM_USE,
    STATED,
    answer,
    before_and_after,
    comparison,
    condition,
    falling_short,
    specimen,
)

from ohmsworth.adapters.render.content import TONE_SIGNS
from ohmsworth.report.answer import WarningAnswer
from ohmsworth.report.heading import heading

CLOSE, SMALL, ENOUGH, CANNOT = (
    "too close to call", "too small to matter", "enough to matter", "cannot tell yet",
)  # fmt: skip
PAIR = [condition("new"), condition("worn", 3.7e-3, 3.3e-3, 4.1e-3)]


@pytest.mark.parametrize(
    ("verdicts", "told"),
    [
        (["within", CLOSE, "over"], ("over", "bad")),
        (["within", CLOSE], (CLOSE, "open")),
        (["within"], ("within", "good")),
        ([None], ("", "plain")),
    ],
)
def test_a_limit_alone_goes_by_the_worst(verdicts: list[str | None], told: tuple[str, str]) -> None:
    assert heading(answer([specimen(str(i), v) for i, v in enumerate(verdicts)])) == told


@pytest.mark.parametrize(
    ("verdict", "worn", "told"),
    [
        (SMALL, "within", ("too small to matter; within the limit", "good")),
        (SMALL, "over", ("too small to matter; over the limit", "mixed")),
        (SMALL, CLOSE, ("too small to matter; too close to call", "open")),
        (ENOUGH, "within", ("enough to matter; within the limit", "bad")),
        (CANNOT, "within", ("cannot tell yet; within the limit", "open")),
        (CANNOT, "over", ("cannot tell yet; over the limit", "bad")),
    ],
)
def test_a_comparison_and_the_limit_are_both_told(verdict: str, worn: str, told: tuple[str, str]) -> None:
    both = [specimen("A", "within", "new"), specimen("B", worn, "worn")]
    found = answer(both, PAIR, [comparison(verdict, (2e-3, 1.5e-3, 2.5e-3))], margin=STATED)
    assert heading(found) == told


def test_a_change_of_the_same_contacts_is_good_or_bad_news() -> None:
    helped = "enough to matter: the change helped; over the limit before, within it now"
    assert heading(before_and_after(ENOUGH)) == (helped, "good")
    needless = heading(before_and_after(SMALL))
    assert needless == ("too small to matter; over the limit before, within it now", "good")
    assert heading(before_and_after(SMALL, "within"))[1] == "good"
    assert heading(before_and_after(ENOUGH, are="over"))[1] == "bad"
    worse = heading(before_and_after(ENOUGH, "within", "within", -2e-3))
    assert worse == ("enough to matter: made worse; within the limit", "bad")


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ((), ("check the readings", "open")),
        ((2, 3, 4, 5, 6), ("check the readings", "open")),
        ((2,), ("check the readings; within", "open")),
    ],
)
def test_nothing_is_good_that_rests_on_readings_in_grave_doubt(
    rows: tuple[int, ...], told: tuple[str, str]
) -> None:
    doubt = WarningAnswer("TWO_WIRE", "leads?", rows, "Look.", False)
    assert heading(answer([specimen("A", "within")], warnings=[doubt])) == told


def test_nothing_is_bad_that_does_either() -> None:
    doubt = WarningAnswer("SLIP_OR_FAULT", "slip?", (2,), "Look.", False)
    assert heading(answer([specimen("A", "over")], warnings=[doubt])) == ("check the readings; over", "open")


def test_a_pass_says_at_which_current() -> None:
    assert heading(answer([specimen("A", "within")], current=10.0)) == ("within at the current used", "good")
    assert heading(answer([specimen("A", "over")], current=10.0)) == ("over", "bad")


def test_contacts_of_unknown_uncertainty_are_not_close_to_the_limit() -> None:
    assert heading(answer([specimen("A", CLOSE, known=False)])) == ("each contact: not known", "open")


def test_alike_is_not_good_where_both_are_past_what_a_use_stands() -> None:
    alike = comparison(SMALL, (0.1, -0.3, 0.5), p=0.5)
    ends = [condition("new", 20.0, 19.7, 20.3), condition("worn", 20.1, 19.8, 20.4)]
    found = heading(answer((), ends, [alike], limit=None, margin=FROM_USE))
    assert found == ("too small to matter; past what matters", "mixed")


def test_a_circuit_that_falls_short_is_no_good_news() -> None:
    found = heading(answer([specimen("A", "within")], uses=[falling_short()]))
    assert found == ("within; the circuit itself falls short", "mixed")


def test_only_what_is_not_settled_carries_a_question_mark() -> None:
    both = [specimen("A", "over", "new"), specimen("B", CLOSE, "worn")]
    alike = [comparison(SMALL, (2e-4, 1e-4, 3e-4))]
    settled = answer([both[0], specimen("B", "over", "worn")], PAIR, alike, margin=STATED)
    unsettled = answer([*both, specimen("C", "within", "worn")], PAIR, alike, margin=STATED)
    perhaps = answer(both, PAIR, [comparison(CANNOT, (2e-4, -2e-3, 3e-3))], margin=STATED)
    doubt = WarningAnswer("SLIP_OR_FAULT", "slip?", (2,), "Look.", False)
    doubtful = answer([specimen("A", "over")], warnings=[doubt])
    signs = [TONE_SIGNS.get(heading(one)[1]) for one in (settled, before_and_after(SMALL), perhaps, doubtful)]
    assert signs == ["!", "✓", "✗", "?"]
    assert heading(unsettled)[1] == "mixed"  # one of them is over, whatever the other comes to
