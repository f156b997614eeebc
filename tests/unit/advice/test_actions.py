"""What to do, for each way in which an answer can turn out, with the cautions beside it."""

from __future__ import annotations

import pytest

from ohmsworth.advice import (
    CLEANER,
    HIGH_CURRENT,
    SOLDERING,
    UNPOWERED,
    Action,
    Compared,
    check_rows,
    for_comparisons,
    for_nothing,
    for_specimens,
    for_uncompared,
    for_uses,
    settle_contacts,
)

SMALL, ENOUGH, CANNOT = "too small to matter", "enough to matter", "cannot tell yet"


def compared(
    verdict: str,
    of: str = "worn",
    worse: str | None = None,
    settle: tuple[int, int] | None = None,
    margin: bool = True,
) -> Compared:
    return Compared(of, "new", verdict, of if worse is None else worse, margin, settle)


def words(actions: list[Action]) -> list[str]:
    return [action.words for action in actions]


def test_rows_to_look_at() -> None:
    assert check_rows((5,), "odd.", False) == Action(
        "Check line 5 of readings.csv against the bench sheet.", "Odd."
    )
    many = check_rows(tuple(range(2, 30)), "odd.", False).words
    assert many == "Check lines 2, 3, 4, 5, 6, 7, 8, 9 … of readings.csv against the bench sheet."
    assert check_rows((), "odd.", True).words.startswith("Before you use this answer, check every reading")


@pytest.mark.parametrize(("powerful", "cautions"), [(False, 1), (True, 2)])
def test_contacts_to_settle(powerful: bool, cautions: int) -> None:
    action = settle_contacts([f"ch {i}" for i in range(1, 10)], powerful)
    assert action.words.startswith(
        "Read ch 1, ch 2, ch 3, ch 4, ch 5, ch 6 and 3 more again on a fresh mating"
    )
    assert action.cautions == (UNPOWERED, HIGH_CURRENT)[:cautions]


def test_specimens_over_close_and_unknown_each_have_their_step() -> None:
    held, close, unknown = for_specimens("A", "B", "C", "")
    assert held.words.startswith("Hold back A:")
    assert held.cautions == (UNPOWERED, CLEANER, SOLDERING)
    assert close.words.startswith("Measure B again")
    assert "reaches across the limit" in close.why
    assert "read C several times" in unknown.words
    assert "reaches across" not in unknown.why
    assert for_specimens("", "", "", "") == []


def test_a_harmless_excess_is_said_to_be_one_and_still_not_passed() -> None:
    (action,) = for_specimens("A", "", "", "in the uses named")
    assert action.words.startswith("Do not pass A as meeting the limit.")
    assert action.why == "Judged over the limit, yet too small to matter in the uses named."


def test_comparisons_that_do_not_matter_make_one_step() -> None:
    found = [compared(SMALL, "b"), compared(SMALL, "c"), compared(SMALL, "d"), compared(SMALL, "e", "")]
    (action,) = for_comparisons(found, "as far as the stated margin goes")
    assert action.words == "Leave 'b', 'c' and 'd' contacts as they are, as far as the stated margin goes."
    (alike,) = for_comparisons([compared(SMALL, worse="")], "here")
    assert alike == Action(
        "Leave all these contacts as they are, here.", "The difference is too small to matter."
    )


def test_what_is_worse_is_brought_to_the_better_state_whichever_is_the_reference() -> None:
    found = [compared(ENOUGH, "b"), compared(ENOUGH, "c"), compared(ENOUGH, "cleaned", worse="new")]
    first, second = for_comparisons(found, "")
    assert first.words.startswith("Bring 'b' and 'c' contacts to the state of 'new' ones")
    assert second.words.startswith("Bring 'new' contacts to the state of 'cleaned' ones")
    assert first.cautions == (UNPOWERED, CLEANER)


def test_open_comparisons_ask_once_for_the_most_that_any_needs() -> None:
    found = [
        compared(CANNOT, "b", settle=(12, 2)),
        compared(CANNOT, "c", settle=(30, 1)),
        compared(CANNOT, "d"),
    ]
    more, never = for_comparisons(found, "")
    assert more.words == "Measure 30 specimens a condition in all, 1 mating each, and ask again."
    assert more.why.startswith("'b' against 'new' and 'c' against 'new': the readings so far cannot tell")
    assert never.words == "Do not decide between 'd' and 'new' on these readings."
    two = for_comparisons([compared(CANNOT, settle=(3, 2))], "")
    assert "2 matings each" in two[0].words


def test_without_a_margin_it_is_asked_for_once() -> None:
    found = [compared(CANNOT, name, margin=False) for name in "bcd"]
    assert words(for_comparisons(found, "")) == [
        "Say what change would matter: add a margin or a [[use]] to study.toml."
    ]


def test_steps_without_a_comparison() -> None:
    assert for_uses(False).words.startswith("Leave the contacts as they are")
    assert for_uses(True).cautions == (UNPOWERED, CLEANER, SOLDERING)
    assert for_uses(None).words.startswith("Measure more specimens")
    assert for_uncompared().words.startswith("Read each specimen several times")
    assert for_nothing(True).words == "Nothing: these contacts may be passed."
    assert "add a limit" in for_nothing(False).words


@pytest.mark.parametrize("caution", [UNPOWERED, HIGH_CURRENT, CLEANER, SOLDERING])
def test_a_caution_is_a_whole_sentence(caution: str) -> None:
    assert caution[0].isupper()
    assert caution.endswith(".")
