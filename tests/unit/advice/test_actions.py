"""What to do, for each way in which an answer can turn out, with the cautions beside it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ohmsworth.advice import (
    CLEANER,
    HIGH_CURRENT,
    SOLDERING,
    UNPOWERED,
    Action,
    Compared,
    check_rows,
    for_circuit,
    for_comparisons,
    for_datasheet,
    for_nothing,
    for_passed,
    for_specimens,
    for_uncompared,
    for_uses,
    settle_contacts,
    with_cautions,
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


def test_contacts_to_settle() -> None:
    action = settle_contacts([f"ch {i}" for i in range(1, 10)])
    assert action.words.startswith(
        "Read ch 1, ch 2, ch 3, ch 4, ch 5, ch 6 and 3 more again on a fresh mating"
    )
    assert action.cautions == (UNPOWERED,)


@pytest.mark.parametrize(
    ("powerful", "first"), [(False, (UNPOWERED, CLEANER)), (True, (UNPOWERED, HIGH_CURRENT, CLEANER))]
)
def test_what_holds_for_every_work_on_contacts_is_said_with_the_first(
    powerful: bool, first: tuple[str, ...]
) -> None:
    paper, work = Action("Look.", "Odd."), Action("Clean.", "Dirty.", (UNPOWERED, CLEANER))
    assert with_cautions([paper, work, work], powerful) == [paper, replace(work, cautions=first), work]
    (alone,) = with_cautions([paper], powerful)
    assert alone.cautions == tuple(c for c in first if c != CLEANER)


def test_contacts_that_pass_are_told_with_what_bounds_it() -> None:
    assert for_passed(1, {}, False).words == "Nothing: this contact may be passed."
    assert for_passed(2, {}, False).words == "Nothing: these contacts may be passed."
    current, once, both = (
        for_passed(2, {"current": "10 A"}, False),
        for_passed(1, {}, True),
        for_passed(2, {"current": "1.0 A"}, True),
    )
    assert current.words == (
        "These contacts are within the limit at the current used: for a signal contact repeat at 100 mA or less."
    )
    assert current.why == "Each is judged within the limit at the current used, up to 10 A."
    assert once.words == (
        "This contact is within the limit as mated now; re-mating scatter is not in it: mate and read it again if it is to be "
        "unplugged in use."
    )
    assert "at the current used" in both.words
    assert "re-mating scatter is not in it" in both.words
    for action in (current, once, both):
        assert "may be passed" not in action.words
        assert action.cautions == (UNPOWERED,)


def changed(verdict: str, worse: str, last: str, present: bool = True) -> Compared:
    return replace(compared(verdict, "after", worse), against="before", read_last=last, present=present)


def test_a_change_that_helped_is_passed_on_to_others() -> None:
    (action,) = for_comparisons([changed(ENOUGH, "before", "after")], "")
    assert action.words.startswith("Bring other contacts that are still 'before' to the state of 'after' too")
    assert action.why == "The change helped: the difference is enough to matter."


def test_a_change_that_did_harm_is_spared_others_and_mended() -> None:
    (action,) = for_comparisons([changed(ENOUGH, "after", "after")], "")
    assert action.words.startswith("Spare other contacts what made these 'after'; exercise these or clean")
    assert action.cautions == (UNPOWERED, CLEANER, SOLDERING)
    (past,) = for_comparisons([changed(ENOUGH, "after", "after", present=False)], "")
    assert past.words == "Spare other contacts what made these 'after'."


def test_a_change_that_does_not_matter_leaves_these_and_others() -> None:
    (action,) = for_comparisons([changed(SMALL, "before", "after")], "here")
    assert action.words == (
        "Leave these contacts as they are, and others like them that are still 'before', here."
    )
    (mixed,) = for_comparisons([changed(SMALL, "before", "after"), compared(SMALL, "b")], "here")
    assert mixed.words.startswith(
        "Leave 'b' contacts as they are, and others like them that are still 'before'"
    )
    datasheet = for_datasheet("before", "after", "3 of 4 were")
    assert datasheet.why == "3 of 4 were over the limit as they were ('before')."


def test_a_circuit_that_falls_short_is_not_blamed_on_contacts() -> None:
    action = for_circuit("tie line", "the circuit itself does not meet 80 dB")
    assert "'tie line'" in action.words
    assert action.why == "The circuit itself does not meet 80 dB: no contact can mend that."


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
    assert "add a limit" in for_nothing().words


@pytest.mark.parametrize("caution", [UNPOWERED, HIGH_CURRENT, CLEANER, SOLDERING])
def test_a_caution_is_a_whole_sentence(caution: str) -> None:
    assert caution[0].isupper()
    assert caution.endswith(".")


def versus(of: str, against: str, verdict: str, settle: tuple[int, int] | None = None) -> Compared:
    return Compared(of, against, verdict, of if verdict == ENOUGH else "", True, settle)


def test_of_all_pairs_each_that_is_worse_is_brought_to_the_best() -> None:
    found = [
        versus("b", "a", SMALL),
        versus("c", "a", ENOUGH),
        versus("d", "a", ENOUGH),
        versus("c", "b", ENOUGH),
        versus("d", "b", ENOUGH),
        versus("d", "c", ENOUGH),
    ]
    left, *rest = for_comparisons(found, "as far as the stated margin goes")
    # What is brought elsewhere is not left as it is in the same breath.
    assert left.words.startswith("Leave 'b' and 'a' contacts as they are")
    assert [step.words.split(", then")[0] for step in rest] == [
        "Bring 'c' and 'd' contacts to the state of 'a' ones"
    ]


def test_what_is_worse_elsewhere_is_not_left_as_it_is() -> None:
    found = [versus("b", "a", ENOUGH), Compared("c", "b", SMALL, "b", True, None)]
    assert [step.words.split(",")[0] for step in for_comparisons(found, "so far")] == [
        "Bring 'b' contacts to the state of 'a' ones"
    ]


def test_many_open_comparisons_are_told_together() -> None:
    found = [versus(f"k{i}", "a", CANNOT, (10 + i, 2)) for i in range(6)]
    found += [versus(f"k{i}", "b", CANNOT) for i in range(6)]
    more, hopeless = for_comparisons(found, "so far")
    assert more.words.startswith("Measure 15 specimens")
    assert "and 2 more" in more.why
    assert hopeless.words.startswith("Decide nothing on these readings about 'k0' against 'b'")
