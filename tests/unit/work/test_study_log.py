"""What a study's log says, and what may be done to a reading."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.unit.work.bench_shop import BenchShop

from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Typed
from ohmsworth.work.reading_changes import change_reading, correct_reading, undo_last
from ohmsworth.work.records import NoSuchCard
from ohmsworth.work.steps import skip_step
from ohmsworth.work.study_cards import close_study, lay_sheet, open_again, study_face, write_note
from ohmsworth.work.study_log import QUESTIONED, fold


def test_a_reading_is_never_changed_only_added_to() -> None:
    bench = BenchShop()
    number = bench.take(1).number
    assert number is not None
    before = bench.shop.records.lines(bench.study)
    right = bench.entry(1, 1.02)
    correct_reading(
        bench.shop, bench.desk, bench.study, bench.state, number, right, "a digit too few", "Ben", "c1"
    )
    change_reading(bench.shop, bench.study, bench.state, number, "set aside", "probe slipped", "Ben", "c2")
    change_reading(bench.shop, bench.study, bench.state, number, "put back", "it did not", "Ada", "c3")
    after = bench.shop.records.lines(bench.study)
    assert after[: len(before)] == before
    (reading,) = bench.state.readings
    assert reading.entry.voltage == right.voltage
    assert reading.first.voltage == bench.entry(1).voltage
    assert reading.state == "used"
    assert [line.reason for line in reading.changes] == ["a digit too few", "probe slipped", "it did not"]
    assert [line.by for line in reading.changes] == ["Ben", "Ben", "Ada"]


def test_undo_keeps_the_reading_in_the_record_and_frees_its_step() -> None:
    bench = BenchShop()
    bench.take(1)
    bench.take(2)
    assert bench.state.answered == {1, 2}
    undone = undo_last(bench.shop, bench.study, bench.state, None, "Ada", "u1")
    assert undone.entry.step == 2
    assert bench.state.answered == {1}
    assert [one.state for one in bench.state.readings] == ["used", "withdrawn"]
    assert len(bench.state.counted) == 1


def test_readings_are_counted_as_they_were_taken_and_keep_their_number() -> None:
    bench = BenchShop()
    first = bench.take(1).number
    assert first is not None
    right = bench.entry(1, 1.02)
    correct_reading(bench.shop, bench.desk, bench.study, bench.state, first, right, "a digit", "Ben", "c1")
    bench.take(2)
    undo_last(bench.shop, bench.study, bench.state, None, "Ada", "u1")
    second = bench.state.readings[1].number
    skip_step(bench.shop, bench.study, bench.state, 2, "Ada", "s1")
    third = bench.take(3).number
    assert third is not None
    assert [one.nth for one in bench.state.readings] == [1, 2, 3]
    assert [one.nth for one in bench.state.counted] == [1, 3]
    assert bench.state.nths == {first: 1, second: 2, third: 3}
    assert third > 3  # of the line, which more than readings have
    change_reading(bench.shop, bench.study, bench.state, second, "put back", "it was right", "Ada", "c3")
    assert [one.nth for one in bench.state.counted] == [1, 2, 3]
    with pytest.raises(InputRefused, match="reading 3: found 'put back'"):
        change_reading(bench.shop, bench.study, bench.state, third, "put back", "why not", "Ada", "c4")
    # A log that is read on from where it was counts on.
    lines = bench.shop.records.lines(bench.study)
    for cut in range(len(lines)):
        assert _fields(fold(lines[cut:], fold(lines[:cut]))) == _fields(bench.state)


def test_undo_takes_the_reading_that_the_page_showed() -> None:
    """Somebody else has taken another meanwhile."""
    bench = BenchShop()
    shown = bench.take(1).number
    bench.take(2)
    undo_last(bench.shop, bench.study, bench.state, shown, "Ada", "u1")
    assert [one.state for one in bench.state.readings] == ["withdrawn", "used"]


def test_undo_names_the_reading_that_it_withdrew_and_takes_no_other() -> None:
    """Sent twice, or when somebody else has undone the same one: the reading before it was shown to nobody as the last."""
    bench = BenchShop()
    bench.take(1)
    shown = bench.take(2).number
    assert undo_last(bench.shop, bench.study, bench.state, shown, "Ada", "u1").number == shown
    assert undo_last(bench.shop, bench.study, bench.state, shown, "Ada", "u1").number == shown
    with pytest.raises(InputRefused, match="withdrawn already"):
        undo_last(bench.shop, bench.study, bench.state, shown, "Ben", "u2")
    assert [one.state for one in bench.state.readings] == ["used", "withdrawn"]


def test_a_change_that_is_sent_again_is_made_once_and_not_refused() -> None:
    bench = BenchShop()
    number = bench.take(1).number
    assert number is not None
    for _ in range(2):
        change_reading(bench.shop, bench.study, bench.state, number, "withdraw", "a slip", "Ada", "c1")
    assert len(bench.state.readings[0].changes) == 1
    change_reading(bench.shop, bench.study, bench.state, number, "put back", "no slip", "Ada", "c2")
    for _ in range(2):
        right = bench.entry(1, 1.02)
        correct_reading(
            bench.shop, bench.desk, bench.study, bench.state, number, right, "a digit", "Ada", "c3"
        )
    assert len(bench.state.readings[0].changes) == 3


def test_what_a_closed_study_says_stands() -> None:
    bench = BenchShop()
    number = bench.take(1).number
    assert number is not None
    close_study(bench.shop, bench.study, "answered", "Ada", "k1")
    before = bench.shop.records.lines(bench.study)
    shop, study, right = bench.shop, bench.study, bench.entry(1, 1.02)
    for act in (
        lambda: undo_last(shop, study, bench.state, None, "Ada", "k2"),
        lambda: skip_step(shop, study, bench.state, 2, "Ada", "k3"),
        lambda: change_reading(shop, study, bench.state, number, "withdraw", "why", "Ada", "k4"),
        lambda: correct_reading(shop, bench.desk, study, bench.state, number, right, "why", "Ada", "k5"),
    ):
        with pytest.raises(InputRefused, match="a closed study"):
            act()
    assert bench.shop.records.lines(bench.study) == before


@pytest.mark.parametrize(
    ("wrong", "where"),
    [
        ({"voltage": None}, "voltage"),
        ({"voltage": None, "current": None}, "voltage"),
        ({"resistance": Typed("2.5", "mΩ", "resistance")}, "resistance"),
        (
            {"voltage": None, "current": None, "resistance": Typed("2.5", "mΩ", "resistance")},
            "resistance",
        ),
        ({"voltage": Typed("-0.25", "mV", "voltage")}, "voltage"),
        ({"current": Typed("0", "mA", "current")}, "current"),
        ({"mating": ""}, "mating"),
        ({"specimen": "x" * 121}, "specimen"),
    ],
)
def test_a_correction_leaves_a_study_that_can_be_answered(wrong: dict[str, object], where: str) -> None:
    bench = BenchShop()
    number = bench.take(1).number
    assert number is not None
    bench.take(2)
    entry = replace(bench.entry(1), **wrong)  # type: ignore[arg-type]
    with pytest.raises(InputRefused) as refused:
        correct_reading(bench.shop, bench.desk, bench.study, bench.state, number, entry, "why", "Ada", "k")
    assert where in {fault.where for fault in refused.value.faults}


def test_a_name_may_be_corrected_in_one_reading_after_the_other() -> None:
    bench = BenchShop()
    numbers = [bench.take(step).number for step in (1, 2)]
    for step, number in enumerate(numbers, 1):
        assert number is not None
        entry = replace(bench.entry(step), specimen=bench.entry(step).specimen.upper(), contact="2")
        correct_reading(
            bench.shop, bench.desk, bench.study, bench.state, number, entry, "its name", "Ada", f"c{step}"
        )
    assert {one.entry.contact for one in bench.state.counted} == {"2"}


@pytest.mark.parametrize(
    ("change", "reason", "where"),
    [
        ("keep", "  ", "the reason"),
        ("put back", "why not", "reading 1"),
        ("set fire to", "why not", "reading 1"),
    ],
)
def test_a_change_that_cannot_be_is_refused(change: str, reason: str, where: str) -> None:
    bench = BenchShop()
    number = bench.take(1).number
    assert number == 3
    with pytest.raises(InputRefused) as refused:
        change_reading(bench.shop, bench.study, bench.state, number, change, reason, "Ada", "k")
    assert where in {fault.where for fault in refused.value.faults}
    assert len(bench.shop.records.lines(bench.study)) == 3


def test_a_correction_that_corrects_nothing_is_refused() -> None:
    bench = BenchShop()
    number = bench.take(1).number
    assert number is not None
    with pytest.raises(InputRefused, match="nothing that differs"):
        correct_reading(
            bench.shop, bench.desk, bench.study, bench.state, number, bench.entry(1), "why", "Ada", "k"
        )


def test_a_new_sheet_is_answered_by_no_reading_of_the_old_one() -> None:
    bench = BenchShop()
    bench.take(1)
    lay_sheet(bench.shop, bench.study, bench.state.sheet, "drawn anew", "Ada", "s2")
    assert bench.state.answered == frozenset()
    assert len(bench.state.counted) == 1


def test_closed_and_opened_again() -> None:
    bench = BenchShop()
    close_study(bench.shop, bench.study, "answered", "Ada", "k1")
    assert bench.shop.records.card(bench.study).face.state == "closed"
    with pytest.raises(InputRefused, match="a closed study"):
        bench.take(1)
    open_again(bench.shop, bench.study, "one more look", "Ada", "k2")
    assert bench.take(1).number is not None


def test_a_study_is_found_by_its_question_conditions_and_notes() -> None:
    bench = BenchShop()
    write_note(bench.shop, bench.study, "flux on the pins", None, "Ada", "n1")
    for words in ("TARNISHED contacts", "datasheet", "flux pins"):
        assert [card.number for card in bench.shop.records.cards("study", search=words)] == [bench.study]
    assert bench.shop.records.cards("study", search="gold") == ()


def test_a_question_that_cannot_be_read_does_not_hide_its_study() -> None:
    bench = BenchShop()
    lines = bench.shop.records.lines(bench.study)
    broken = [lines[0].__class__(**{**_fields(lines[0]), "fields": {"toml": "question = "}})]
    assert study_face(broken).title == "A study without a question"


def test_a_nul_that_toml_spells_is_no_part_of_what_a_list_shows() -> None:
    bench = BenchShop()
    first = bench.shop.records.lines(bench.study)[0]
    spelt = first.__class__(**{**_fields(first), "fields": {"toml": 'question = "a\\u0000b"'}})
    face = study_face([spelt])
    assert face.title == "a\ufffdb"
    assert "\0" not in face.text


def _fields(line: object) -> dict[str, object]:
    return {name: getattr(line, name) for name in line.__dataclass_fields__}  # type: ignore[attr-defined]


@given(st.lists(st.sampled_from(["take", "undo", "aside", "back", "keep"]), max_size=25), st.integers(0, 25))
def test_reading_on_gives_what_reading_anew_gives(acts: list[str], cut: int) -> None:
    bench = BenchShop()
    step = 0
    for i, act in enumerate(acts):
        try:
            if act == "take":
                step = step % 12 + 1
                bench.take(step, key=f"r{i}", anyway="it is so")
            elif act == "undo":
                undo_last(bench.shop, bench.study, bench.state, None, "Ada", f"u{i}")
            elif bench.state.readings:
                change = {"aside": "set aside", "back": "put back", "keep": "keep"}[act]
                number = bench.state.readings[i % len(bench.state.readings)].number
                change_reading(bench.shop, bench.study, bench.state, number, change, "why", "Ada", f"c{i}")
        except InputRefused:
            continue
    lines = bench.shop.records.lines(bench.study)
    anew = _fields(fold(lines))
    assert _fields(fold(lines[cut:], fold(lines[:cut]))) == anew
    assert _fields(bench.state) == anew


def test_no_such_study() -> None:
    with pytest.raises(NoSuchCard):
        BenchShop().desk.state(99)


def test_a_slip_is_asked_about_and_leaves_a_trace() -> None:
    bench = BenchShop()
    for step in range(1, 7):
        assert bench.take(step).number is not None
    asked = bench.take(7, 10.0)
    assert asked.number is None
    assert asked.judgement.doubts
    assert bench.shop.records.lines(bench.study)[-1].kind == QUESTIONED
    assert len(bench.state.readings) == 6
    kept = bench.take(7, 10.0, anyway="the meter shows it so")
    assert kept.number is not None
    assert bench.state.readings[-1].kept == "the meter shows it so"


def test_what_waited_is_kept_with_its_doubts() -> None:
    bench = BenchShop()
    for step in range(1, 7):
        bench.take(step)
    assert bench.take(7, 10.0, waited=True).number is not None
    line = bench.shop.records.lines(bench.study)[-1]
    assert line.fields["doubts"]
    assert bench.state.readings[-1].kept is None


def test_sent_twice_kept_once() -> None:
    bench = BenchShop()
    first, again = bench.take(1, key="same"), bench.take(1, key="same")
    assert first.number == again.number
    assert len(bench.state.readings) == 1
