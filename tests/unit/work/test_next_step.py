"""The bench sheet leads: which reading comes next, what to connect, and what is left."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Sign
from ohmsworth.readings.plan_request import BEFORE_AND_AFTER, EITHER_ORDER, Assignment
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.bench_sheet import simple_sheet
from ohmsworth.work.next_step import NextStep, add_mating, free_step, next_step, partner_step, repeat_reading

START = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)


def answer(row: SheetRow, number: int | None = None) -> Entry:
    time = None if number is None else START + timedelta(seconds=30 * number)
    polarity: Sign = "-" if row.polarity == "-" else "+"
    return Entry(
        row.specimen,
        row.condition,
        mating=str(row.mating),
        polarity=polarity,
        step=row.step or None,
        time=time,
    )


def walk(rows: tuple[SheetRow, ...], skipped: tuple[int, ...] = ()) -> list[NextStep]:
    entries: list[Entry] = []
    found = []
    for _ in range(len(rows) + 1):
        step = next_step(rows, entries, skipped)
        if step is None:
            return found
        found.append(step)
        entries.append(answer(step.row))
    raise AssertionError("the sheet does not come to an end")


def test_a_sheet_is_walked_once_in_its_order() -> None:
    rows = simple_sheet(["new"], ["N1", "N2"], 2, check_standard="bar", seed=3)
    steps = walk(rows)
    assert [s.row for s in steps] == list(rows)
    assert [s.left for s in steps] == list(range(len(rows), 0, -1))
    assert [s.change for s in steps[1::2]] == ["turn the current round"] * (len(rows) // 2)
    assert steps[0].words == "Connect the check standard bar, current forward"
    assert steps[1].words == "Leave bar as it is and turn the current round: current reversed"


def test_words_say_what_changes() -> None:
    rows = [
        SheetRow(1, 1, "", "N1", "dark", 1, "+", ""),
        SheetRow(2, 1, "", "N1", "dark", 2, "+", ""),
        SheetRow(3, 1, "", "N2", "dark", 1, "+", ""),
        SheetRow(4, 1, "", "N1", "dark", 3, "+", ""),
        SheetRow(5, 1, "", "N1", "clean", 1, "+", ""),
        SheetRow(6, 1, "", "N1", "clean", 1, "+", ""),
    ]
    steps = walk(tuple(rows))
    assert [(s.change, s.words) for s in steps] == [
        ("first reading", "Connect N1, 'dark' (1st mating), current forward"),
        ("new mating", "Mate N1, 'dark' again (2nd mating), current forward"),
        ("next specimen", "Connect N2, 'dark' (1st mating), current forward"),
        ("next specimen", "Take N1, 'dark' again (3rd mating), current forward"),
        ("next condition", "Clean N1 now, then mate it (1st mating), current forward"),
        ("read again", "Leave N1 as it is and read again, current forward"),
    ]


def test_skipped_steps_are_not_asked_for() -> None:
    rows = simple_sheet(["new"], ["N1", "N2", "N3"], 1, seed=1)
    assert [s.row.step for s in walk(rows, (1, 2, 5))] == [3, 4, 6]


def test_a_withdrawn_reading_is_asked_for_again() -> None:
    rows = simple_sheet(["new"], ["N1", "N2"], 1, seed=1)
    entries = [answer(row) for row in rows]
    del entries[1]
    step = next_step(rows, entries)
    assert step is not None
    assert step.row == rows[1]
    assert step.left == 1
    assert step.left_words.startswith("1 reading left")


def test_the_pace_of_the_bench_tells_what_is_left() -> None:
    rows = simple_sheet(["new"], [f"N{i}" for i in range(20)], 1, seed=1)
    step = next_step(rows, [answer(row, i) for i, row in enumerate(rows[:10])])
    assert step is not None
    assert step.minutes == pytest.approx(30 * 0.5)
    assert step.left_words == "30 readings left, about 15 minutes"
    planned = next_step(rows, [], minutes=(5.0, 2.0, 1.0))
    assert planned is not None
    assert planned.minutes == 20 * (5 + 2 + 1)
    assert planned.left_words == "40 readings left, about 3 hours"


def test_a_reading_once_more_and_a_mating_more_stand_outside_of_the_sheet() -> None:
    rows = simple_sheet(["new"], ["N1"], 3, seed=1, readings=2)
    entries = [answer(row) for row in rows[:4]]
    again = repeat_reading(entries)
    assert again is not None
    assert (again.row.step, again.row.polarity, again.change) == (0, "-", "read again")
    more = add_mating(rows, entries, "N1", "new")
    assert [(s.row.step, s.row.mating, s.row.polarity) for s in more] == [
        (0, 4, "+"),
        (0, 4, "-"),
        (0, 4, "+"),
        (0, 4, "-"),
    ]
    assert more[0].words == "Mate N1 again (4th mating), current forward"
    assert more[1].change == "turn the current round"
    assert repeat_reading([]) is None


@pytest.mark.parametrize(
    ("read", "wanted"),
    [
        ("+", "-"),
        ("+-", ""),
        ("+--", "+"),
        ("++-", "-"),
        ("+-+", ""),
        ("+--+", ""),
        ("++--", ""),
        ("0+", ""),
        ("+-+-", ""),
    ],
)
def test_the_partner_of_a_reading_without_one(read: str, wanted: str) -> None:
    entries = [Entry("N1", "new", "", "1", sign) for sign in read]  # type: ignore[arg-type]
    step = partner_step(entries)
    assert (step.row.polarity if step else "") == wanted
    assert step is None or (step.partner and step.row.mating == 1)


def free_walk(entries: list[Entry], steps: int) -> list[tuple[str, int, str]]:
    found = []
    for _ in range(steps):
        step = free_step(entries)
        assert step is not None
        row = step.row
        found.append((row.specimen, row.mating, row.polarity))
        entries = [*entries, answer(row)]
    return found


def test_without_a_sheet_one_contact_is_turned_and_mated_again() -> None:
    first = Entry("A", "new", mating="1", polarity="+")
    assert free_walk([first], 4) == [("A", 1, "-"), ("A", 2, "+"), ("A", 2, "-"), ("A", 3, "+")]
    assert free_step([]) is None


def test_without_a_sheet_rounds_go_on_as_they_went() -> None:
    once = [Entry(s, "new", mating="1", polarity=p) for s in "ABC" for p in ("+", "-", "+", "-")]  # type: ignore[arg-type]
    entries = [*once, Entry("A", "new", mating="2", polarity="+")]
    wanted = [("A", 2, "-"), ("A", 2, "+"), ("A", 2, "-"), ("B", 2, "+"), ("B", 2, "-")]
    assert free_walk(entries, 5) == wanted


def test_contacts_of_one_specimen_follow_each_other() -> None:
    entries = [
        Entry("A", "new", contact, mating, polarity)  # type: ignore[arg-type]
        for mating in "12"
        for contact in ("pin 1", "pin 2")
        for polarity in "+-"
    ][:6]
    step = free_step(entries)
    assert step is not None
    assert (step.contact, step.change) == ("pin 2", "next contact")
    assert step.words == "Take A, contact pin 2 again (2nd mating), current forward"


@given(
    conditions=st.lists(st.sampled_from(["new", "dark", "clean"]), min_size=1, max_size=3, unique=True),
    specimens=st.integers(1, 6),
    matings=st.integers(1, 3),
    readings=st.integers(1, 2),
    reversal=st.booleans(),
    check=st.sampled_from([None, "bar"]),
    seed=st.integers(0, 99),
    assignment=st.sampled_from([BEFORE_AND_AFTER, EITHER_ORDER]),
)
def test_a_plain_sheet_holds_every_reading_once(
    conditions: list[str],
    specimens: int,
    matings: int,
    readings: int,
    reversal: bool,
    check: str | None,
    seed: int,
    assignment: Assignment,
) -> None:
    names = [f"piece {i}" for i in range(specimens)]
    rows = simple_sheet(
        conditions, names, matings, reversal, check, seed, readings=readings, assignment=assignment
    )
    contacts = [row for row in rows if not row.note]
    polarities = ["+", "-"] if reversal else ["+"]
    wanted = sorted(
        (s, c, m, p)
        for s in names
        for c in conditions
        for m in range(1, matings + 1)
        for p in polarities * readings
    )
    assert sorted((r.specimen, r.condition, r.mating, r.polarity) for r in contacts) == wanted
    assert [r.step for r in rows] == list(range(1, len(rows) + 1))
    assert sum(bool(row.note) for row in rows) == (3 * len(polarities) if check else 0)
    if assignment == BEFORE_AND_AFTER:
        order = [conditions.index(row.condition) for row in contacts]
        assert order == sorted(order)


def test_conditions_may_have_specimens_of_their_own_and_unlike_many() -> None:
    rows = simple_sheet(["new", "dark"], {"new": ["n1"], "dark": ["d1", "d2", "d3"]}, 2, seed=4)
    assert {(r.specimen, r.condition) for r in rows} == {
        ("n1", "new"),
        ("d1", "dark"),
        ("d2", "dark"),
        ("d3", "dark"),
    }
    assert len(rows) == 4 * 2 * 2


@pytest.mark.parametrize(
    ("conditions", "specimens", "matings", "found"),
    [
        ([], ["N1"], 1, "nothing"),
        (["new"], [], 1, "nothing"),
        (["new"], ["N1"], 0, "nothing"),
        (["new"], ["N1", "N1"], 1, "twice"),
        (["new", "new"], ["N1"], 1, "twice"),
        (["new"], {"old": ["N1"]}, 1, "nothing"),
        (["new"], ["N1"], 10_001, "20002"),
    ],
)
def test_what_no_sheet_can_be_drawn_for(
    conditions: list[str], specimens: list[str] | dict[str, list[str]], matings: int, found: str
) -> None:
    with pytest.raises(InputRefused, match=found):
        simple_sheet(conditions, specimens, matings)
