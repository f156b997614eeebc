"""Steps from an answer: which specimens, which state is the worse, and whether an excess does any harm."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.report.answers import FROM_USE, STATED, answer, comparison, condition, specimen

from ohmsworth.report.answer import Answer, Bound, WarningAnswer
from ohmsworth.work.next_steps import next_steps

CLOSE, SMALL, ENOUGH = "too close to call", "too small to matter", "enough to matter"
NEW, WORN = condition("new"), condition("worn", 3.7e-3, 3.3e-3, 4.1e-3)


def words(found: Answer) -> list[str]:
    return [action.words for action in next_steps(found)]


def test_nothing_to_do_is_said() -> None:
    assert words(answer([specimen("N1", "within")])) == ["Nothing: these contacts may be passed."]


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
        WarningAnswer("TWO_WIRE", "leads?", (), "Check.", False),
        WarningAnswer("SET_ASIDE", "set aside by the owner: slip.", (7,), "Nothing.", True),
        WarningAnswer("STILL_MOVING", "moves.", (8, 9), "Let it settle.", True),
        WarningAnswer("OVER_DRY_CURRENT", "up to 2 A.", (8, 9), "Less.", False),
    ]
    moving = replace(specimen("N2", "within"), state="still moving")
    told = next_steps(answer([specimen("N1", "over"), moving], warnings=doubts))
    assert [a.words.split(" ")[0] for a in told] == ["Before", "Check", "Read", "Hold"]
    assert "line 5 " in told[1].words
    assert len(told[2].cautions) == 2  # a high current is dangerous by itself
    assert not any("7" in a.words for a in told)


@pytest.mark.parametrize(("known", "start"), [(True, "Measure N1 again"), (False, "State the accuracy")])
def test_close_and_unknown_are_two_things(known: bool, start: str) -> None:
    assert words(answer([specimen("N1", CLOSE, known=known)]))[0].startswith(start)


def test_conditions_that_cannot_be_compared_are_to_be_read_again() -> None:
    found = answer([specimen("N1", "within", "new")], [NEW, WORN], reference="new")
    assert words(found) == ["Read each specimen several times, on several matings, and ask again."]
