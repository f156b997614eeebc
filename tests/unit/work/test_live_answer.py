"""What the bench says after each reading, from the very first on."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.work.live_studies import (
    LIMITED,
    SHEET,
    STUDY,
    answers,
    empty,
    loaded,
    turn_by_turn,
)

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER, WITHIN
from ohmsworth.inference.equivalence import ENOUGH, OPEN, TOO_SMALL
from ohmsworth.readings import Limit, Study
from ohmsworth.report.live_answer import AT_END, CHECK, GO_ON, NOT_HERE, STOP
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.live_answer import live_answer
from ohmsworth.work.live_progress import Planned


def test_before_the_first_reading() -> None:
    answer = live_answer(empty(), SHEET)
    assert answer.sentence == "Nothing is read yet."
    assert (answer.stop, answer.done, answer.planned, answer.axis) == (GO_ON, 0, 12, None)
    assert not answer.dots + answer.specimens + answer.conditions
    assert live_answer(empty()).assumed


def test_the_first_reading() -> None:
    answer = live_answer(loaded(turn_by_turn()[:1]), SHEET)
    assert answer.stop == GO_ON
    assert answer.sentence == (
        f"{1e3 * answer.dots[0].resistance:.2f} mΩ (interval not known) so far. "
        "Nothing is read yet to compare with 'new'."
    )
    assert answer.axis is not None
    assert answer.axis[0] <= answer.dots[0].resistance <= answer.axis[1]


def test_before_the_reference_is_read() -> None:
    rows = [row for row in turn_by_turn() if row[1] == "old"]
    answer = live_answer(loaded(rows), SHEET)
    assert "The reference 'new' is not read yet." in answer.sentence
    assert answer.stop == GO_ON
    assert not answer.comparisons


def test_one_specimen_a_condition_is_not_judged() -> None:
    answer = live_answer(loaded(turn_by_turn(1)), SHEET)
    (one,) = answer.comparisons
    assert not one.supported
    assert one.verdict == OPEN
    assert one.more is None
    assert answer.stop == GO_ON
    assert "One more specimen a condition is needed before any verdict." in answer.sentence


def test_no_sheet_and_no_mating_column() -> None:
    study = loaded(turn_by_turn(2, 1))
    bare = replace(study, table=replace(study.table, mating=None))
    answer = live_answer(bare)
    assert answer.assumed
    assert answer.planned == 10
    assert answer.done == 4
    assert answer.rule.startswith("No sheet was given; looks count as on one of five specimens")


def test_what_is_plain_can_be_stopped_early() -> None:
    found = answers(turn_by_turn(6, 2, ratio=4.0), planned=Planned(6, 2, 1, ("new", "old")))
    stops = [n for n, answer in enumerate(found) if answer.stop == STOP]
    assert stops
    assert stops[0] < len(found) - 4
    early = found[stops[0]]
    assert "You can stop now" in early.sentence
    assert early.comparisons[0].verdict == ENOUGH
    assert not early.finished
    assert "could hardly undo it" in early.rule


def test_an_early_look_needs_more_than_the_ordinary_answer() -> None:
    found = answers(turn_by_turn(6, 1, ratio=1.7, scatter=0.15), planned=Planned(6, 1, 1, ("new", "old")))
    differing = [a for a in found for c in a.comparisons if c.verdict == OPEN and c.plain_verdict == ENOUGH]
    assert differing
    assert any("Were this the only look" in told for told in differing[0].findings)
    looked = [a.comparisons[0] for a in found if a.comparisons]
    confidences = [c.confidence for c in looked if c.confidence is not None]
    assert confidences == sorted(confidences, reverse=True)
    assert confidences[-1] == pytest.approx(0.964)
    wider = [c for c in looked if c.judged.low is not None and c.difference.low is not None]
    assert wider
    assert all(c.judged.low < c.difference.low for c in wider)


def test_how_many_more_would_settle_it() -> None:
    found = answers(turn_by_turn(4, 1, ratio=1.4, scatter=0.1), planned=Planned(4, 1, 1, ("new", "old")))
    told = [a for a in found if a.more is not None]
    assert told
    assert all(a.stop == GO_ON and 0 < a.more.chance <= 1 and a.more.count >= 1 for a in told)
    assert any("would probably settle it" in a.sentence for a in told)


def test_on_the_margin_it_cannot_be_settled_here() -> None:
    """Differences that scatter about the margin itself: no number of specimens tells them from it."""
    rows = [
        (f"{c} {s}", c, "1", base * f)
        for s, f in enumerate((0.98, 1.02, 0.99, 1.01))
        for c, base in (("new", 2.0), ("old", 2.5))
    ]
    answer = live_answer(loaded(rows), Planned(4, 1, 1))
    assert answer.stop == NOT_HERE
    assert answer.more is None
    assert "Cannot be settled here: it lies so near the bound" in answer.sentence


def test_looked_at_once_nothing_is_lost() -> None:
    rows = turn_by_turn(3, 2, ratio=1.7, scatter=0.1)
    found = answers(rows, looks=AT_END)
    assert {c.verdict for a in found[:-1] for c in a.comparisons} == {OPEN}
    assert "No verdict before the sheet is finished: 1 mating of 12 is left." in found[-2].sentence
    ordinary, last = answer_study(loaded(rows)).comparisons[0], found[-1].comparisons[0]
    assert last.verdict == last.plain_verdict == ordinary.verdict
    assert (last.judged.low, last.judged.high) == pytest.approx(
        (ordinary.difference.low, ordinary.difference.high)
    )
    assert last.confidence == pytest.approx(0.95)
    assert found[-1].rule.startswith("Looked at once")


def test_at_the_end_the_numbers_are_the_ordinary_ones() -> None:
    study = replace(STUDY, limit=LIMITED.limit)
    rows = turn_by_turn(3, 2)
    live, ordinary = live_answer(loaded(rows, study), SHEET), answer_study(loaded(rows, study))
    one, same = live.comparisons[0], ordinary.comparisons[0]
    assert one.difference == same.difference
    assert one.ratio == same.ratio
    assert one.plain_verdict == same.verdict
    for mine, theirs in zip(live.specimens, ordinary.specimens, strict=True):
        assert (mine.resistance, mine.low, mine.high) == (theirs.resistance, theirs.low, theirs.high)
        assert (mine.plain_verdict, mine.state, mine.latest) == (theirs.verdict, theirs.state, theirs.latest)
    for mine, theirs in zip(live.conditions, ordinary.conditions, strict=True):
        assert (mine.resistance, mine.low, mine.high) == (theirs.resistance, theirs.low, theirs.high)
        assert mine.plain_verdict == theirs.verdict
    assert live.finished
    assert "96.4 % in place of 95 %" in live.rule


def test_contacts_are_judged_at_their_own_looks() -> None:
    rows = [
        (f"S{s}", "all", str(m), value * f)
        for s, value in enumerate((2.0, 4.0, 3.0))
        for m, f in ((1, 0.99), (2, 1.01), (3, 1.0))
    ]
    planned = Planned(3, 3, 1)
    found = answers(rows, LIMITED, planned)
    assert "the one contact is not judged yet" in found[0].sentence
    assert found[0].specimens[0].verdict == CLOSE
    assert found[0].specimens[0].confidence is None
    last = found[-1]
    assert [s.verdict for s in last.specimens] == [WITHIN, OVER, CLOSE]
    assert last.stop == STOP
    assert "S2 lies so near the limit that a few more matings would hardly tell." in last.sentence
    assert [
        s.id for a in found[:6] for s in a.specimens if s.verdict == WITHIN
    ]  # before the sheet is finished
    assert found[5].stop == GO_ON
    assert "of 9 are left" in found[5].sentence


def test_contacts_read_before_and_after_are_judged_as_they_are_now() -> None:
    before = [(f"S{s}", "tarnished", "1", 8.0 + 0.1 * s) for s in range(3)]
    after = [(f"S{s}", "wiped", "1", 1.0 + 0.01 * s) for s in range(3)]
    sheet = Planned(6, 1, 1, ("tarnished", "wiped"))
    begun, half, done = (
        live_answer(loaded([*before, *after[:n]], LIMITED), sheet).sentence for n in (0, 1, 3)
    )
    assert "as they are now" not in begun
    assert "Against 3 mΩ, of 3 contacts as they are now: " in half  # some wiped, some not yet
    assert "Against 3 mΩ, of 3 contacts as they are now ('wiped'): " in done
    one = live_answer(loaded([before[0], after[0]], LIMITED), sheet).sentence
    assert "the one contact as they are now" not in one
    assert "Against 3 mΩ: the one contact as it is now ('wiped') is " in one


def test_a_contact_that_more_matings_would_tell() -> None:
    rows = [("S1", "all", str(m), v) for m, v in enumerate((2.8, 2.9, 3.0, 2.75))]
    answer = live_answer(loaded(rows, LIMITED), Planned(1, 4, 1))
    assert answer.stop == GO_ON
    assert answer.more is not None
    assert answer.more.what == "matings"
    assert "of the contacts in question, beyond the sheet, would probably settle it" in answer.sentence


def test_nothing_to_decide() -> None:
    open_question = Study("How much?")
    rows = [(s, "all", m, 2.0 + 0.01 * int(m)) for s in ("a", "b") for m in ("1", "2")]
    sheet = Planned(2, 2, 1)
    before, last = (live_answer(loaded(rows[:n], open_question), sheet) for n in (3, 4))
    assert before.stop == GO_ON
    assert "1 mating of 4 is left" in before.sentence
    assert last.stop == STOP
    assert "there is nothing to decide" in last.sentence


def test_beyond_the_sheet_verdicts_need_more_again() -> None:
    found = answers(turn_by_turn(5, 1, ratio=1.4, scatter=0.1), planned=Planned(3, 1, 1, ("new", "old")))
    at_end, beyond = found[5].comparisons[0], found[-1].comparisons[0]
    assert beyond.done == 5
    assert beyond.confidence is not None
    assert at_end.confidence is not None
    assert beyond.confidence > at_end.confidence
    assert "every look beyond it more" in found[-1].rule


def test_too_small_to_matter() -> None:
    found = answers(turn_by_turn(4, 2, ratio=1.0, scatter=0.02), planned=Planned(4, 2, 1, ("new", "old")))
    assert found[-1].comparisons[0].verdict == TOO_SMALL
    assert found[-1].sentence.count(TOO_SMALL) == 1


def test_readings_that_cannot_be_used() -> None:
    rows = [("a", "new", "1", 2.0), ("b", "new", "1", 0.0)]
    answer = live_answer(loaded(rows), SHEET)
    assert answer.faults
    assert answer.sentence.startswith("The readings cannot be used as they are.")
    assert answer.stop == GO_ON


def test_rows_that_are_set_aside() -> None:
    rows = turn_by_turn(2, 2)
    aside = replace(STUDY, set_aside={2: "slipped"})
    answer = live_answer(loaded(rows, aside), SHEET)
    assert [dot.used for dot in answer.dots] == [False] + [True] * (len(rows) - 1)
    assert live_answer(loaded(rows[:1], aside), SHEET).sentence == "Nothing is read yet."


def test_looks_are_of_two_kinds() -> None:
    with pytest.raises(ArgumentFault):
        live_answer(empty(), SHEET, "never")


def ohms_for_milliohms() -> list[tuple[str, str, str, float]]:
    """A sheet that is read with milliampere chosen for ampere: every resistance is a thousand times too large."""
    level = {1: 2391.0, 2: 3120.0, 3: 1874.0, 4: 2660.0}
    return [(f"c {s}", "new", str(m), value * (1 + 0.002 * m)) for s, value in level.items() for m in (1, 2)]


def test_nobody_is_told_to_stop_while_most_readings_are_in_grave_doubt() -> None:
    rows, sheet = ohms_for_milliohms(), Planned(4, 2, 1, ("new",))
    kept = replace(
        LIMITED, limit=Limit(0.3e-3, "a datasheet"), keep=frozenset({2})
    )  # the first was asked about
    answer = live_answer(loaded(rows, kept), sheet)
    assert answer.stop == CHECK
    assert answer.doubtful
    assert answer.sentence.startswith(
        "Check the readings before anything else: most of them are in grave doubt."
    )
    assert "Look at unit and decimal mark" in answer.sentence
    assert "you can stop" not in answer.sentence
    whole = answer_study(loaded(rows, kept))
    assert {doubt.code for doubt in answer.doubts} <= {warning.code for warning in whole.warnings}
    assert whole.sentence.startswith("Check the readings before anything else")
    # All of them kept by their owner: there is nothing left to ask.
    answer = live_answer(loaded(rows, replace(kept, keep=frozenset(range(2, 10)))), sheet)
    assert answer.stop == STOP
    assert not answer.doubts


def test_a_contact_that_may_be_a_slip_is_to_be_read_again_before_one_stops() -> None:
    rows = [(f"c {s}", "new", str(m), 2.39 + 0.02 * s + 0.001 * m) for s in range(1, 6) for m in (1, 2)]
    rows[4:6] = [("c 3", "new", "1", 24.5), ("c 3", "new", "2", 24.6)]
    sheet, study = Planned(5, 2, 1, ("new",)), replace(LIMITED, limit=Limit(7e-3, "a datasheet"))
    answer = live_answer(loaded(rows, study), sheet)
    assert answer.stop == CHECK
    assert "of 5 contacts: 4 within, 1 over. In doubt: c 3, about 10 times larger" in answer.sentence
    assert "Read that contact again." in answer.sentence
    assert live_answer(loaded(rows, replace(study, keep=frozenset({6, 7}))), sheet).stop == STOP
    # While much is left to read it is said as well, and one goes on.
    early = live_answer(loaded(rows[:6], study), sheet)
    assert early.stop == GO_ON
