"""Steps from an answer: which specimens, which state is the worse, and whether an excess does any harm."""

from __future__ import annotations

from dataclasses import replace

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

from ohmsworth.advice import HIGH_CURRENT, UNPOWERED
from ohmsworth.report.answer import Answer, Bound, WarningAnswer
from ohmsworth.work.next_steps import next_steps

CLOSE, SMALL, ENOUGH = "too close to call", "too small to matter", "enough to matter"
NEW, WORN = condition("new"), condition("worn", 3.7e-3, 3.3e-3, 4.1e-3)


def words(found: Answer) -> list[str]:
    return [action.words for action in next_steps(found)]


def test_nothing_to_do_is_said() -> None:
    assert words(answer([specimen("N1", "within")])) == ["Nothing: this contact may be passed."]


@pytest.mark.parametrize(
    ("current", "high"), [(None, False), (0.1, False), (0.85, False), (0.9, True), (10.0, True)]
)
@pytest.mark.parametrize("verdict", ["within", "over", CLOSE])
def test_the_cautions_stand_by_whatever_is_to_do(current: float | None, high: bool, verdict: str) -> None:
    told = [c for a in next_steps(answer([specimen("N1", verdict)], current=current)) for c in a.cautions]
    assert UNPOWERED in told
    assert (HIGH_CURRENT in told) is high


def test_a_pass_is_bound_to_the_current_and_the_mating() -> None:
    once = WarningAnswer("ONE_MATING", "once.", (), "Mate.", False)
    assert "repeat at 100 mA or less" in words(answer([specimen("N1", "within")], current=1.0))[0]
    assert "re-mating scatter" in words(answer([specimen("N1", "within")], warnings=[once]))[0]


@pytest.mark.parametrize("code", ["SWAPPED", "UNIT_SLIP", "TWO_WIRE"])
def test_where_most_readings_are_in_grave_doubt_only_they_are_to_be_checked(code: str) -> None:
    over = [specimen("N1", "over"), specimen("N2", CLOSE)]
    for rows, steps in (((), 1), ((2, 3, 4, 5, 6), 1), ((2, 3), 3)):
        doubt = WarningAnswer(code, "odd.", rows, "Look.", False)
        told = words(answer(over, warnings=[doubt]))
        assert told[0].startswith("Before you use this answer, check")
        assert len(told) == steps


def test_a_change_that_helped_is_not_asked_for_again() -> None:
    (told,) = words(before_and_after(ENOUGH))
    assert told.startswith("Bring other contacts that are still 'worn' to the state of 'new' too")


def test_what_is_over_now_is_held_back_and_what_was_over_is_not() -> None:
    told = words(before_and_after(ENOUGH, "over", "over"))
    assert told[0].startswith("Hold back all 3 'new' contacts:")
    assert not any("'worn' contacts" in text for text in told)
    worse = words(before_and_after(ENOUGH, "within", "over", -2e-3))
    assert worse[0].startswith("Hold back all 3 'new' contacts:")
    assert worse[1].startswith("Spare other contacts what made these 'new'; exercise these")


def test_a_change_too_small_to_matter_may_still_be_what_the_datasheet_asks() -> None:
    leave, datasheet = words(before_and_after(SMALL))
    assert leave.startswith("Leave these contacts as they are, and others like them that are still 'worn'")
    assert datasheet.startswith("Where the limit is held to, bring other contacts that are still 'worn'")
    assert len(words(before_and_after(SMALL, "within"))) == 1


def test_none_of_a_condition_that_is_over_passes() -> None:
    both = [*(specimen(f"W{i}", "over", "worn", 3.7e-3) for i in range(6)), specimen("N1", "within", "new")]
    found = answer(both, [NEW, WORN], [comparison(SMALL, (1e-3, 0.5e-3, 1.5e-3))], margin=FROM_USE)
    assert words(found)[0].startswith("Do not pass any of the 6 'worn' contacts as meeting the limit.")


def test_a_circuit_that_falls_short_is_told() -> None:
    told = next_steps(answer([specimen("N1", "within")], uses=[falling_short()]))
    assert "'tie line'" in told[-1].words
    assert "80.0 dB" in told[-1].why


def test_a_whole_condition_is_named_as_one_and_single_specimens_in_order() -> None:
    found = answer(
        [
            *(specimen(f"w {i}", "over", "worn") for i in (10, 2, 1)),
            *(specimen(f"n {i}", "over" if i != 3 else "within", "new") for i in (11, 3, 2)),
        ],
        [NEW, WORN],
        [comparison(ENOUGH, (2e-3, 1.5e-3, 2.5e-3))],
        margin=STATED,
    )
    assert words(found)[0].startswith("Hold back n 2 and n 11 (new); all 3 'worn' contacts:")


def test_many_specimens_are_counted() -> None:
    found = [*(specimen(f"N{i}", "over") for i in range(1, 98)), specimen("N98", "within")]
    assert words(answer(found))[0].startswith("Hold back N1, N2, N3, N4, N5, N6 and 91 more:")


@pytest.mark.parametrize(
    ("margin", "resistance", "harmless"),
    [
        (FROM_USE, 9e-3, True),
        (FROM_USE, 1.85, False),  # its interval reaches 1.94 Ω, past the threshold
        (STATED, 3.5e-3, True),
        (STATED, 3.95e-3, False),  # its interval reaches more than the margin beyond the limit
        (None, 3.1e-3, False),
    ],
)
def test_an_excess_is_harmless_only_below_what_would_matter(
    margin: Bound | None, resistance: float, harmless: bool
) -> None:
    found = answer([specimen("N1", "over", resistance=resistance)], [condition("all", 3e-3)], margin=margin)
    told = next_steps(found)[0]
    assert told.words.startswith("Do not pass N1" if harmless else "Hold back N1")


def test_alike_is_not_harmless() -> None:
    """Two conditions that do not differ may both be past what the use stands."""
    ends = [condition(name, 20.0, 19.5, 20.5) for name in ("new", "worn")]
    over = [specimen(name, "over", name, 20.0) for name in ("new", "worn")]
    found = answer(over, ends, [comparison(SMALL, (0.1, -0.3, 0.5), p=0.5)], margin=FROM_USE)
    told = words(found)
    assert told[0].startswith("Hold back new (new); worn (worn):")
    assert told[1].startswith("Exercise the contacts")
    assert not any(text.startswith("Leave") for text in told)


def test_the_worse_state_goes_by_the_difference_even_where_its_interval_reaches_zero() -> None:
    """The interval of a verdict is the narrower one: it may exclude what the wider one includes."""
    found = comparison(ENOUGH, (1e-6, -0.1e-6, 2.1e-6), p=0.06, margin=1e-7)
    told = words(answer((), [NEW, WORN], [found], limit=None, margin=replace(STATED, resistance=1e-7)))
    assert told == ["Bring 'worn' contacts to the state of 'new' ones, then measure again to close the job."]


def test_the_order_is_readings_contacts_conclusion() -> None:
    doubts = [
        WarningAnswer("UNIT_SLIP", "10 times larger.", (5,), "Look.", True),
        WarningAnswer("TWO_WIRE", "leads?", (3,), "Check.", False),
        WarningAnswer("SET_ASIDE", "set aside by the owner: slip.", (7,), "Nothing.", True),
        WarningAnswer("STILL_MOVING", "moves.", (8, 9), "Let it settle.", True),
    ]
    moving = replace(specimen("N2", "within"), state="still moving")
    told = next_steps(answer([specimen("N1", "over"), moving], warnings=doubts))
    assert [a.words.split(" ")[0] for a in told] == ["Before", "Check", "Read", "Hold"]
    assert "line 5 " in told[1].words
    assert told[2].cautions == (UNPOWERED,)
    assert not any("7" in a.words for a in told)


@pytest.mark.parametrize(("known", "start"), [(True, "Measure N1 again"), (False, "State the accuracy")])
def test_close_and_unknown_are_two_things(known: bool, start: str) -> None:
    assert words(answer([specimen("N1", CLOSE, known=known)]))[0].startswith(start)


def test_conditions_that_cannot_be_compared_are_to_be_read_again() -> None:
    found = answer([specimen("N1", "within", "new")], [NEW, WORN], reference="new")
    assert words(found) == ["Read each specimen several times, on several matings, and ask again."]
