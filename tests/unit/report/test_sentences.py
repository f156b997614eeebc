"""The answer in words, for each way in which it can turn out."""

from __future__ import annotations

from collections.abc import Sequence
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

from ohmsworth.report.answer import Interval, LengthAnswer, WarningAnswer
from ohmsworth.report.heading import heading
from ohmsworth.report.sentences import (
    cheapest,
    comparison_sentence,
    findings,
    is_past,
    leading_sentence,
    length_sentence,
    main_comparison,
    use_sentence,
)
from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer

CLOSE, SMALL, ENOUGH, CANNOT = (
    "too close to call", "too small to matter", "enough to matter", "cannot tell yet",
)  # fmt: skip
NEW, WORN = condition("new"), condition("worn", 3.7e-3, 3.3e-3, 4.1e-3)


@pytest.mark.parametrize(
    ("verdicts", "told"),
    [
        (["within"], "The one contact measured is within the limit of 3 mΩ."),
        (["over"], "The one contact measured is over the limit of 3 mΩ."),
        ([CLOSE], "Against the limit of 3 mΩ: the one contact measured is too close to call."),
        (["within"] * 2, "Both contacts are within the limit of 3 mΩ."),
        (["over"] * 5, "All 5 contacts are over the limit of 3 mΩ."),
        (
            ["within", "over", CLOSE, CLOSE],
            "Against the limit of 3 mΩ: of 4 contacts 1 is within, 1 is over, 2 are too close to call.",
        ),
    ],
)
def test_one_condition_against_a_limit(verdicts: list[str], told: str) -> None:
    found = answer([specimen(f"N{i}", word) for i, word in enumerate(verdicts)])
    assert leading_sentence(found) == told


def test_without_any_uncertainty_nothing_is_said_of_the_limit() -> None:
    found = answer([specimen("N1", CLOSE, known=False)] * 2, [condition(low=None, high=None)])
    assert leading_sentence(found) == (
        "The typical resistance (median) of these contacts is 2.50 mΩ (interval not known). Whether they are within the "
        "limit of 3 mΩ cannot be said: nothing is known about the uncertainty."
    )


def test_where_only_the_contacts_own_uncertainty_is_unknown_the_median_is_judged() -> None:
    told = leading_sentence(answer([specimen("N1", CLOSE, known=False)] * 2))
    assert "the typical resistance (median) of these contacts is within." in told
    assert told.endswith(
        "Whether each contact is within it cannot be said: a contact's own uncertainty is not known."
    )
    assert "nothing is known" not in told


@pytest.mark.parametrize(("current", "said"), [(0.1, False), (None, False), (1.0, True), (10.0, True)])
def test_within_is_meant_at_the_current_used(current: float | None, said: bool) -> None:
    found = answer([specimen("N1", "within")], current=current)
    assert ("at the current used, up to" in leading_sentence(found)) is said
    over = answer([specimen("N1", "over")], current=current)
    assert "current" not in leading_sentence(over)


def test_the_same_contacts_are_told_as_they_were_and_as_they_are() -> None:
    told = leading_sentence(before_and_after(ENOUGH))
    assert told.endswith(
        "That is enough to matter: the change helped; what matters is a change of 1 mΩ. Against the limit of 3 mΩ: the "
        "same contacts, as they were ('worn') all 3 were over, as they are now ('new') all 3 are within."
    )
    worse = before_and_after(ENOUGH, "within", "over", -2e-3)
    assert "the change made the same contacts worse" in leading_sentence(worse)
    assert "all 3 were within, as they are now" in leading_sentence(worse)


def test_what_the_contacts_are_no_longer_is_not_held_against_a_use() -> None:
    found = before_and_after(SMALL, margin=replace(FROM_USE, resistance=3.5e-3))
    assert "By themselves" not in leading_sentence(found)
    still = replace(found, specimens=tuple(replace(s, latest=True) for s in found.specimens))
    assert "By themselves 'worn' contacts may be past 3.5 mΩ" in leading_sentence(still)


def test_one_contact_is_told_as_one() -> None:
    one = replace(condition("all", 20.0, 19.0, 21.0), specimens=1)
    told = leading_sentence(answer((), [one], limit=None, margin=FROM_USE))
    assert told.endswith("this contact is past that.")
    assert "these contacts" not in told
    lengths = LengthAnswer("all", "24 AWG", Interval(0.03, 0.02, 0.04))
    found = replace(answer((), [one], limit=None), equivalent_length=(lengths,))
    assert length_sentence(found) == "As lengths of 24 AWG wire: the contact 30 mm."
    assert findings(found)[0].startswith("The contact: typical resistance (median) 20.0")


def test_a_circuit_that_falls_short_by_itself_is_said_to() -> None:
    use = falling_short()
    assert use_sentence(use, answer()) == (
        "tie line: the circuit itself does not meet 80.0 dB of rejection of hum at 50 Hz (ideal contacts give 74.9 dB): no "
        "contact can mend that. What matters first begins at 58 Ω a contact (level at 1 kHz falls by 0.1 dB; both legs), "
        "23 000 times what these contacts have."
    )
    alone = replace(use, thresholds=use.thresholds[:1])
    assert use_sentence(alone, answer()).endswith(
        "no contact resistance below a megohm reaches another threshold."
    )


def test_no_condition_drops_out_of_the_count() -> None:
    names = "abcdef"
    found = answer(
        [specimen(n, "over" if n == "f" else "within", n) for n in names], [condition(n) for n in names]
    )
    assert leading_sentence(found).endswith("of 6 contacts in 6 conditions 5 are within, 1 is over.")
    four = answer([specimen(n, "within", n) for n in "abcd"], [condition(n) for n in "abcd"])
    assert all(f"the one '{n}' contact measured is within" in leading_sentence(four) for n in "abcd")


@pytest.mark.parametrize(
    ("verdict", "difference", "settle", "told"),
    [
        (SMALL, (0.4e-3, 0.2e-3, 0.6e-3), (), "400 µΩ more. That is too small to matter; what would matter is a change of 1 mΩ."),
        (ENOUGH, (2.4e-3, 2.0e-3, 2.8e-3), (), "2.40 mΩ more. That is enough to matter; what matters is a change of 1 mΩ."),
        (ENOUGH, (-2.0e-3, -2.4e-3, -1.6e-3), (), "2.00 mΩ less. That is enough to matter;"),
        (CANNOT, (0.9e-3, 0.4e-3, 1.4e-3), ((12, 2), (9, 4)), "; 12 specimens a condition with 2 matings each would"),
        (CANNOT, (0.9e-3, 0.4e-3, 1.4e-3), (), "and the difference lies too near it for measuring to decide."),
    ],
)  # fmt: skip
def test_a_comparison_with_a_margin(
    verdict: str, difference: tuple[float, float, float], settle: Sequence[tuple[int, int]], told: str
) -> None:
    found = answer(
        (), [NEW, WORN], [comparison(verdict, difference, settle=settle)], limit=None, margin=STATED
    )
    assert told in leading_sentence(found)


def test_without_a_margin_nothing_matters_nor_does_not() -> None:
    found = answer((), [NEW, WORN], [comparison(CANNOT, (1e-3, 0.5e-3, 1.5e-3), margin=None)], limit=None)
    assert leading_sentence(found).endswith(
        "Whether that matters cannot be said: nobody has said what change would."
    )


def test_what_cannot_be_told_apart_is_not_called_more() -> None:
    found = comparison(SMALL, (0.1e-3, -0.3e-3, 0.5e-3), p=0.4)
    told = leading_sentence(answer((), [NEW, WORN], [found], limit=None, margin=STATED))
    assert "cannot be told apart: the difference is less than 500 µΩ either way" in told
    assert " more" not in told


def test_apart_or_not_goes_by_the_coverage_asked_for() -> None:
    found = comparison(CANNOT, (0.1e-3, -0.3e-3, 0.5e-3), p=0.07)
    told = [
        leading_sentence(answer((), [NEW, WORN], [found], limit=None, coverage=c, margin=STATED))
        for c in (0.99, 0.9)
    ]
    assert ["cannot be told apart" in sentence for sentence in told] == [True, False]


def test_the_gravest_comparison_leads() -> None:
    large = comparison(SMALL, (0.9e-3, 0.8e-3, 0.95e-3), "worn")
    doubtful = comparison(CANNOT, (0.5e-3, -1e-3, 2e-3), "dirty")
    grave = comparison(ENOUGH, (-0.6e-3, -0.7e-3, -0.5e-3), "best")
    conditions = [NEW, WORN, condition("dirty"), condition("best")]
    for chosen, expected in (
        ((large, doubtful, grave), grave), ((large, doubtful), doubtful), ((large,), large),
    ):  # fmt: skip
        found = answer((), conditions, chosen, margin=STATED)
        assert main_comparison(found) is expected


def test_contacts_past_a_threshold_are_not_well_because_others_are_no_better() -> None:
    alike = comparison(SMALL, (0.1, -0.3, 0.5), p=0.5)
    worst = condition("worn", 20.1, 19.8, 20.4)
    found = answer((), [condition("new", 20.0, 19.7, 20.3), worst], [alike], limit=None, margin=FROM_USE)
    assert leading_sentence(found).endswith("By themselves 'worn' contacts are past 1.9 Ω a contact.")
    stated = answer((), [NEW, worst], [alike], limit=None, margin=STATED)
    assert "By themselves" not in leading_sentence(stated)


@pytest.mark.parametrize(
    ("low", "high", "past", "told"),
    [
        (2.2e-3, 2.9e-3, False, "760 times what these contacts have."),
        (1.5, 2.5, None, "these contacts may be past that."),
        (1.95, 2.5, True, "these contacts are past that."),
    ],
)
def test_one_condition_against_a_use(low: float, high: float, past: bool | None, told: str) -> None:
    value = 2.5e-3 if high < 1 else 2.0
    one = condition("all", value, low, high)
    assert is_past(FROM_USE, one) is past
    assert leading_sentence(answer((), [one], limit=None, margin=FROM_USE)).endswith(told)


def test_conditions_without_scatter_are_said_to_be_beyond_comparison() -> None:
    found = answer([specimen("a", "within", "new")], [NEW, WORN], reference="new")
    assert leading_sentence(found).startswith("The conditions cannot be compared: no reading was repeated")


@pytest.mark.parametrize("code", ["UNIT_SLIP", "SWAPPED", "TWO_WIRE"])
def test_grave_doubts_come_first_unless_their_rows_are_out_or_kept(code: str) -> None:
    doubts = [
        WarningAnswer(code, "looks odd.", (3,), "Look at it.", False),
        WarningAnswer(code, "looks odd.", (3,), "Look at it.", True),
        WarningAnswer(code, "looks odd. Kept by the owner.", (3,), "Nothing.", False),
    ]
    told = [leading_sentence(answer([specimen("N", "within")], warnings=[d])) for d in doubts]
    assert [text.startswith("Look at the warnings first") for text in told] == [True, False, False]


@pytest.mark.parametrize(
    ("rows", "start"), [((), "Check"), (tuple(range(2, 7)), "Check"), ((2, 3, 4, 5), "Look")]
)
def test_grave_doubts_about_most_readings_leave_no_conclusion(rows: tuple[int, ...], start: str) -> None:
    doubt = WarningAnswer("SWAPPED", "look exchanged.", rows, "Exchange.", False)
    assert leading_sentence(answer([specimen("N", "within")], warnings=[doubt])).startswith(start)


def test_a_comparison_with_its_tests() -> None:
    told = comparison_sentence(comparison(ENOUGH, (2.4e-3, 2.0e-3, 2.8e-3), p=1e-9))
    assert told == (
        "'worn' against 'new' (separate specimens): difference 2.40 mΩ (2.00 to 2.80 mΩ), 1.96 times (1.76 to "
        "2.16); chance alone makes one as large in fewer than 1 of 1000 such studies (counted out over every exchange of the "
        "specimens: about 3 of 100, and with so few specimens it could not be fewer than about 1 of 100). "
        "Verdict: enough to matter."
    )


def test_a_use_that_nothing_reaches() -> None:
    told = use_sentence(UseAnswer("balanced line", "tie line", {}, (), (), (), ()), answer())
    assert told == "tie line: no contact resistance below a megohm reaches a threshold."


def test_names_stand_in_sentences_as_they_are_written() -> None:
    name = 'Bob\'s "new" \\n <b>新</b>'
    found = answer((), [condition(name)], limit=None)
    assert f"'{name}' contacts" in leading_sentence(found)
    lengths = LengthAnswer(name, "24 AWG", Interval(0.03, 0.02, 0.04))
    told = length_sentence(replace(found, equivalent_length=(lengths,)))
    assert told == f"As lengths of 24 AWG wire: '{name}' 30 mm."


def test_the_cheapest_design_counts_the_work() -> None:
    found = comparison(CANNOT, (1e-3, 0, 2e-3), settle=((12, 2), (10, 4)))
    chosen = cheapest(found.settle)
    assert chosen is not None
    assert (chosen.specimens_per_condition, chosen.matings_per_specimen) == (12, 2)
    assert cheapest(()) is None


def test_many_conditions_and_comparisons_are_told_together() -> None:
    many = [condition("new")] + [condition(f"k{i}", 2.5e-3 + i * 1e-3, None, None) for i in range(1, 8)]
    found = [comparison(ENOUGH if i > 2 else CANNOT, (i * 1e-3, 1e-4, 9e-3), f"k{i}") for i in range(1, 8)]
    told = findings(answer(conditions=many, comparisons=found, margin=STATED))
    assert len([text for text in told if "the table" in text]) == 2
    assert "lowest typical resistance (median) is that of 'new' with 2.5" in told[0]
    assert "the highest that of 'k7' with 9.5" in told[0]
    assert "5 'enough to matter' and 2 'cannot tell yet'" in told[1]
    few = findings(answer(conditions=many[:6], comparisons=found[:6], margin=STATED))
    assert len(few) >= 12


def test_a_use_that_needs_a_licence_is_told_before_all_else() -> None:
    """Contacts that reach its first threshold, or may reach it, whatever else is too small to matter."""
    heat = ThresholdAnswer("contact_heat", "heat reaches 1 W: stop", "one contact", 2.8e-3, "", "", "")
    mains = UseAnswer("mains feed", "stage feed", {}, (), (heat,), (), (), "No leave.")
    found = replace(answer((), [condition(value=2.5e-3, high=2.9e-3)]), uses=(mains,))
    told = leading_sentence(found)
    assert told.startswith("In stage feed the contacts may be past 2.8 mΩ, where heat reaches 1 W: stop.")
    words, tone = heading(found)
    assert words.startswith("stop first")
    assert tone == "bad"
    below = replace(found, conditions=(condition(value=1e-3, low=0.9e-3, high=1.1e-3),))
    assert "stop" not in leading_sentence(below)
    assert not heading(below)[0].startswith("stop")
