"""What the records promise, on both systems."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from tests.adapters.records.clocks import Clock

from ohmsworth.adapters.records import open_records
from ohmsworth.errors import ArgumentFault, QuantityFault
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.records import (
    CardFigures,
    Face,
    Line,
    NewLine,
    NoSuchCard,
    Records,
    RecordsFault,
    RevisionRefused,
)
from ohmsworth.work.study_log import PUT_BACK, QUESTIONED, SET_ASIDE, TAKE, TAKEN, WITHDRAWN, fold
from ohmsworth.work.take_log import TakeFile, take_fields
from ohmsworth.work.taken_reading import CORRECTED

FULL = Entry(
    specimen="lead 7",
    condition="after 500 matings",
    contact="pin 2",
    mating="3",
    polarity="-",
    voltage=Typed("-0.2510", "mV", "voltage"),
    current=Typed("1.000", "A", "current"),
    temperature=Typed("21.5", "°C", "temperature"),
    time=datetime(2026, 11, 26, 9, 30, 1, 5, tzinfo=timezone(timedelta(hours=5, minutes=30))),
    operator="Kim",
    note="“dusty” — µΩ ✓",
    step=4,
    others={"plug": "gold", "": "no heading"},
)
OHMS = Entry("lead 8", "new", resistance=Typed("2.50", "mΩ", "resistance"))


def title(log: Sequence[Line]) -> Face:
    return Face(f"{len(log)} lines", text=" ".join(line.kind for line in log))


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def records(address: str, clock: Clock) -> Iterator[Records]:
    with open_records(address, clock=clock) as opened:
        yield opened
        assert opened.check() == ()


def test_a_card_and_its_log_come_back_as_they_were_sent(records: Records, clock: Clock) -> None:
    specimen = records.open_card("specimen", "Kim", [NewLine("s", "card written", {"name": "lead 7"})], title)
    fields = {"text": "ß\n\t\"'", "whole": -(2**53) - 1, "deep": [{"a": [True, False, None]}, []], "": {}}
    first = NewLine("q", "question written", fields)
    study = records.open_card("study", "Kim", [first, NewLine("f", "file added", content=b"\0\xff")], title)
    opened = clock.now
    clock.step(5)
    kept = records.add(
        study,
        "Lee",
        [
            NewLine("t", TAKEN, entry=FULL, specimen=specimen, reason="why"),
            NewLine("u", CORRECTED, entry=OHMS, about=3),
        ],
        title,
    )
    assert kept == records.lines(study, 2)
    assert records.lines(study) == (
        Line(1, "q", "question written", "Kim", opened, fields, None, "", None, None, False),
        Line(2, "f", "file added", "Kim", opened, {}, None, "", None, None, True),
        Line(3, "t", TAKEN, "Lee", clock.now, {}, None, "why", FULL, specimen, False),
        Line(4, "u", CORRECTED, "Lee", clock.now, {}, 3, "", OHMS, None, False),
    )
    assert kept[0].entry is not None
    assert kept[0].entry.time is not None
    assert kept[0].entry.time.utcoffset() == timedelta(hours=5, minutes=30)
    assert kept[0].at.tzinfo is UTC
    assert records.content(study, 2) == b"\0\xff"
    card = records.card(study)
    assert (card.number, card.kind, card.lines) == (study, "study", 4)
    assert (card.opened, card.touched) == (opened, clock.now)
    assert card.face.title == "4 lines"


def test_a_line_sent_twice_is_kept_once(records: Records) -> None:
    number = records.open_card("job", "Kim", [NewLine("a", "x"), NewLine("b", "x")], title)
    assert records.open_card("job", "Lee", [NewLine("a", "y"), NewLine("b", "x")], title) == number
    first = records.add(number, "Kim", [NewLine("c", "x", {"n": 1})])
    again = records.add(number, "Lee", [NewLine("c", "y"), NewLine("d", "x"), NewLine("d", "z")])
    assert again[0] == first[0]
    assert again[1] == again[2]
    assert [line.key for line in records.lines(number)] == ["a", "b", "c", "d"]
    assert records.count() == 1


def test_a_key_of_another_card_is_refused(records: Records) -> None:
    one = records.open_card("job", "Kim", [NewLine("a", "x")], title)
    two = records.open_card("job", "Kim", [NewLine("b", "x")], title)
    with pytest.raises(RevisionRefused, match=f"'a' belongs to card {one}"):
        records.add(two, "Kim", [NewLine("c", "x"), NewLine("a", "x")])
    for lines in ([NewLine("a", "x"), NewLine("b", "x")], [NewLine("a", "x"), NewLine("new", "x")]):
        with pytest.raises(RevisionRefused, match="nothing was opened"):
            records.open_card("job", "Kim", lines, title)
    with pytest.raises(RevisionRefused):
        records.open_card("study", "Kim", [NewLine("a", "x")], title)
    assert [card.lines for card in records.cards()] == [1, 1]


def test_all_lines_or_none(records: Records) -> None:
    number = records.open_card("job", "Kim", [NewLine("a", "x")], title)
    for about in (0, -1, 3, 2**64):
        with pytest.raises(RevisionRefused, match="not in the log before it"):
            records.add(
                number, "Kim", [NewLine("b", "x"), NewLine("c", "x", about=9), NewLine("d", "x", about=about)]
            )
    with pytest.raises(RevisionRefused, match="line 2"):
        records.add(number, "Kim", [NewLine("b", "x", about=2)])

    def broken(log: Sequence[Line]) -> Face:
        raise ZeroDivisionError(len(log))

    with pytest.raises(ZeroDivisionError):
        records.add(number, "Kim", [NewLine("b", "x")], broken)
    with pytest.raises(ZeroDivisionError):
        records.open_card("job", "Kim", [NewLine("e", "x")], broken)
    assert records.card(number).lines == 1
    assert records.count() == 1
    kept = records.add(number, "Kim", [NewLine("b", "x"), NewLine("c", "x", about=2)])
    assert kept[1].about == 2


@pytest.mark.parametrize("number", [0, -1, 99, 2**63, 2**200])
def test_a_card_that_is_not_there(records: Records, number: int) -> None:
    records.open_card("job", "Kim", [NewLine("a", "x")], title)
    for act in (
        lambda: records.card(number),
        lambda: records.lines(number),
        lambda: records.content(number, 1),
        lambda: records.content(1, number),
        lambda: records.add(number, "Kim", [NewLine("b", "x")]),
        lambda: records.add(1, "Kim", [NewLine("b", TAKEN, entry=OHMS, specimen=number)]),
    ):
        with pytest.raises(NoSuchCard):
            act()
    assert records.readings_of(number) == ()
    assert records.lines(1, after=2**200) == ()


@pytest.mark.parametrize(
    "line",
    [
        NewLine("", "x"),
        NewLine("k" * 201, "x"),
        NewLine("b\0", "x"),
        NewLine("b", "\ud800"),
        NewLine("b", "x", {"a": 0.1}),
        NewLine("b", "x", {"a": float("nan")}),
        NewLine("b", "x", {"a": [2**63]}),
        NewLine("b", "x", {"a": {1: "x"}}),  # type: ignore[dict-item]
        NewLine("b", "x", {"a": b"bytes"}),
        NewLine("b", "x", {"a": "\0"}),
        NewLine("b", "x", reason="\0"),
        NewLine("b", "x", specimen=1),
        NewLine("b", TAKEN, entry=Entry("a\0", "new")),
        NewLine("b", TAKEN, entry=Entry("a", "new", step=2**63)),
        NewLine("b", TAKEN, entry=Entry("a", "new", voltage=Typed("1", "A", "current"))),
    ],
)
def test_what_could_not_be_given_back_is_refused(records: Records, line: NewLine) -> None:
    records.open_card("specimen", "Kim", [NewLine("a", "x")], title)
    with pytest.raises(ArgumentFault):
        records.add(1, "Kim", [line])
    assert records.card(1).lines == 1


def test_refusals_of_other_arguments(records: Records) -> None:
    deep: list[object] = []
    for _ in range(100):
        deep = [deep]
    with pytest.raises(ArgumentFault, match="levels"):
        records.open_card("job", "Kim", [NewLine("a", "x", {"a": deep})], title)
    with pytest.raises(ArgumentFault, match="at least one"):
        records.open_card("job", "Kim", [], title)
    with pytest.raises(ArgumentFault, match="kind"):
        records.open_card("ship", "Kim", [NewLine("a", "x")], title)  # type: ignore[arg-type]
    with pytest.raises(QuantityFault):
        records.open_card(
            "job",
            "Kim",
            [NewLine("a", TAKEN, entry=Entry("a", "b", current=Typed("1", "V", "current")))],
            title,
        )
    with pytest.raises(ArgumentFault):
        records.open_card("job", "Kim", [NewLine("a", "x")], lambda _: Face("\0"))
    assert records.count() == 0


def test_a_face_is_made_from_the_whole_log_and_only_when_asked(records: Records) -> None:
    number = records.open_card("job", "Kim", [NewLine("a", "x")], title)
    records.add(number, "Kim", [NewLine("b", "x")])
    assert records.card(number).face.title == "1 lines"
    assert records.card(number).lines == 2
    assert records.renew_face(number, title)
    assert records.card(number).face.title == "2 lines"
    records.add(number, "Kim", [NewLine("b", "x")], lambda _: Face("sent again"))
    assert records.card(number).face.title == "2 lines"


def test_a_list_of_cards(records: Records, clock: Clock) -> None:
    faces = {
        "a": Face("Straße 100%", text="Größe"),
        "b": Face("lead_1", state="closed", text="GRÖSSE 5 kΩ", due=date(2027, 1, 5), due_for="calibration"),
        "c": Face("leadx1", text="back\\slash", due=date(2026, 12, 1), due_for="check"),
    }
    for key, face in faces.items():
        clock.step(1)
        records.open_card("job" if key == "a" else "meter", "Kim", [NewLine(key, "x")], lambda _, f=face: f)

    def found(**asked: object) -> list[int]:
        kind = asked.pop("kind", None)
        cards = [card.number for card in records.cards(kind, **asked)]  # type: ignore[arg-type]
        if not asked.keys() & {"first", "most", "due_by"}:
            assert records.count(kind, **asked) == len(cards)  # type: ignore[arg-type]
        return cards

    assert found() == [3, 2, 1]
    assert records.cards()[1].face == faces["b"]
    assert found(kind="meter") == [3, 2]
    assert found(search="GRÖSSE") == [2, 1]
    assert found(search="  größe   strasse ") == [1]
    assert found(search="lead_1") == [2]
    assert found(search="100%") == [1]
    assert found(search="1%") == []
    assert found(search="K\\S") == [3]
    assert found(search="k\u2126") == [2]
    assert found(search="nothing") == []
    assert found(search="\0") == [3, 2, 1]
    assert found(state="closed") == [2]
    assert found(due_by=date(2027, 1, 5)) == [3, 2]
    assert found(due_by=date(2026, 12, 31)) == [3]
    assert found(first=1, most=1) == [2]
    assert found(first=-5, most=-1) == []
    assert found(first=2**80, most=2**80) == []
    with pytest.raises(ArgumentFault):
        records.cards(search=" ".join(str(word) for word in range(60)))
    clock.step(1)
    records.add(1, "Kim", [NewLine("d", "x")])
    assert found() == [1, 3, 2]


def test_figures_of_a_kind_without_the_texts(records: Records) -> None:
    figures = {
        "ratio": 0.1 + 0.2,
        "kinds": {"multipin “A”": [3, 1.0e-300]},
        "day": "2026-11-26",
        "none": None,
    }
    records.open_card("cable", "Kim", [NewLine("a", "x")], lambda _: Face("one", text="red", figures=figures))
    records.open_card("job", "Kim", [NewLine("b", "x")], lambda _: Face("other", figures={"n": 1}))
    records.open_card("cable", "Kim", [NewLine("c", "x")], lambda _: Face("two", "right", "blue"))
    assert records.card(1).face.figures == figures
    assert records.card(3).face.figures == {}
    one, two = CardFigures(1, "one", "open", figures, 1), CardFigures(3, "two", "right", {}, 1)
    assert records.figures_of("cable") == (one, two)
    assert records.figures_of("cable", search="BLUE two") == (two,)
    assert records.figures_of("study") == ()
    for wrong in (float("nan"), float("inf"), b"bytes", "\0"):
        with pytest.raises(ArgumentFault):
            records.renew_face(1, lambda _, w=wrong: Face("one", figures={"a": [w]}))
    assert records.card(1).face.figures == figures


def test_a_face_is_made_anew_unless_the_log_grew_meanwhile(records: Records) -> None:
    card = records.open_card("job", "Kim", [NewLine("a", "x")], lambda _: Face("old"))
    before = records.card(card)
    assert records.renew_face(card, lambda log: Face(f"of {len(log)}", figures={"n": 1}))
    after = records.card(card)
    assert (after.face.title, after.face.figures) == ("of 1", {"n": 1})
    assert (after.touched, after.lines, records.lines(card)[-1].key) == (before.touched, 1, "a")

    def slow(log: Sequence[Line]) -> Face:
        records.add(card, "Lee", [NewLine("b", "y")])  # somebody writes, and does not wait
        return Face(f"late, of {len(log)}")

    assert not records.renew_face(card, slow)
    assert records.card(card).face.title == "of 1"
    with pytest.raises(NoSuchCard):
        records.renew_face(99, lambda _: Face("none"))


def test_readings_of_a_specimen_as_last_corrected(records: Records, clock: Clock) -> None:
    one = records.open_card("specimen", "Kim", [NewLine("s", "card written")], title)
    two = records.open_card("specimen", "Kim", [NewLine("s2", "card written")], title)
    studies = [records.open_card("study", "Kim", [NewLine(f"q{n}", "x")], title) for n in (1, 2)]
    taken = [NewLine(f"t{n}", TAKEN, entry=OHMS, specimen=one) for n in range(5)]
    for card, lines in ((studies[1], taken[:1]), (studies[0], taken[1:])):
        clock.step(1)
        records.add(card, "Kim", lines)
    records.add(
        studies[0],
        "Lee",
        [
            NewLine("c", CORRECTED, entry=FULL, specimen=one, about=2),
            NewLine("w", WITHDRAWN, about=3),
            NewLine("w2", WITHDRAWN, about=4),
            NewLine("p", PUT_BACK, about=4),
            NewLine("o", CORRECTED, entry=FULL, specimen=two, about=5),
            NewLine("e", QUESTIONED, entry=OHMS, specimen=one),
            NewLine("n", SET_ASIDE, about=2),
        ],
    )
    found = records.readings_of(one)
    assert [(one.study, one.line.number, one.line.by) for one in found] == [
        (studies[1], 2, "Kim"),
        (studies[0], 2, "Kim"),
        (studies[0], 4, "Kim"),
    ]
    assert [one.line.entry for one in found] == [OHMS, FULL, OHMS]
    assert found[0].title == "1 lines"
    assert [one.line.number for one in records.readings_of(two)] == [5]
    assert records.readings_of(one, first=1, most=1) == found[1:2]
    assert records.readings_of(studies[0]) == ()


def test_takes_are_found_like_readings_and_counted_with_them(records: Records, clock: Clock) -> None:
    one = records.open_card("specimen", "Kim", [NewLine("s", "card written")], title)
    study = records.open_card("study", "Kim", [NewLine("q", "x")], title)
    told = {"frequency": ["1000.0"], "value": [["0.0090000000000000002", "-1e-300"]], "degrees": [None]}
    fields = take_fields({"straight": (TakeFile("a.wav", "0" * 64),)}, "1" * 64, "2" * 64, told)
    clock.step(1)
    records.add(
        study,
        "Lee",
        [
            NewLine("a", TAKE, fields, entry=OHMS, specimen=one),
            NewLine("b", TAKEN, entry=OHMS, specimen=one),
            NewLine("c", TAKE, fields, entry=OHMS, specimen=one),
            NewLine("w", WITHDRAWN, about=4),
        ],
    )
    found = records.readings_of(one)
    assert [(each.line.number, each.line.kind) for each in found] == [(2, TAKE), (3, TAKEN)]
    assert found[0].line.fields == fields
    assert recorded_take_of(records, study) == (TakeFile("a.wav", "0" * 64),)
    assert [each.line.number for each in records.readings_under(OHMS.condition)] == [2, 3]
    assert records.count_readings() == 3
    records.add(study, "Lee", [NewLine("p", PUT_BACK, about=4), NewLine("n", SET_ASIDE, about=2)])
    assert [each.line.number for each in records.readings_of(one)] == [2, 3, 4]
    assert [each.line.number for each in records.readings_under(OHMS.condition)] == [3, 4]


def recorded_take_of(records: Records, study: int) -> tuple[TakeFile, ...]:
    return fold(records.lines(study)).takes[0].files["straight"]


def test_readings_under_a_condition_over_all_studies(records: Records, clock: Clock) -> None:
    studies = [records.open_card("study", "Kim", [NewLine(f"q{n}", "x")], title) for n in (1, 2)]
    bar = replace(OHMS, condition="check bar")
    for number, study in enumerate(reversed(studies)):
        clock.step(1)
        taken = [
            NewLine(f"{number} {n}", TAKEN, entry=entry)
            for n, entry in enumerate((bar, OHMS, bar, OHMS, bar))
        ]
        records.add(study, "Kim", taken)
    records.add(
        studies[0],
        "Lee",
        [
            NewLine("w", WITHDRAWN, about=2),
            NewLine("c", CORRECTED, entry=bar, about=3),
            NewLine("o", CORRECTED, entry=FULL, about=4),
            NewLine("s", SET_ASIDE, about=6),
            NewLine("e", QUESTIONED, entry=bar),
        ],
    )
    found = records.readings_under("check bar")
    assert [(one.study, one.line.number) for one in found] == [
        (studies[1], 2),
        (studies[1], 4),
        (studies[1], 6),
        (studies[0], 3),
    ]
    assert all(one.line.entry == bar for one in found)
    assert records.readings_under("check bar", first=3, most=1) == found[3:4]
    assert records.readings_under("Check bar") == ()
    with pytest.raises(ArgumentFault):
        records.readings_under("\0")


def test_a_reading_of_what_is_no_specimen_is_refused(records: Records) -> None:
    number = records.open_card("meter", "Kim", [NewLine("a", "x")], title)
    with pytest.raises(NoSuchCard, match="not one of a specimen"):
        records.add(number, "Kim", [NewLine("b", TAKEN, entry=OHMS, specimen=number)])


def test_settings_as_last_written(records: Records) -> None:
    assert records.settings() == {}
    for name, value in (("shop", "A"), ("language", "en"), ("shop", "B"), ("shop", "C")):
        records.write_setting(name, value, "Kim")
    assert records.settings() == {"shop": "C", "language": "en"}
    lines = records.setting_lines()
    assert [(one.name, one.value, one.by) for one in lines[:2]] == [
        ("shop", "C", "Kim"),
        ("shop", "B", "Kim"),
    ]
    assert lines[0].at.tzinfo is not None
    assert records.setting_lines(1) == lines[:1]
    with pytest.raises(ArgumentFault):
        records.write_setting("shop", "\0", "Kim")


def test_what_was_kept_is_there_when_opened_again(address: str) -> None:
    with open_records(address) as records:
        number = records.open_card("job", "Kim", [NewLine("a", "x", content=b"file")], title)
        records.write_setting("shop", "A", "Kim")
        before = records.lines(number), records.card(number)
    with pytest.raises(RecordsFault, match="were closed"):
        records.card(number)
    with open_records(address) as records:
        assert (records.lines(number), records.card(number)) == before
        assert records.content(number, 1) == b"file"
        assert records.settings() == {"shop": "A"}


def test_a_clock_that_steps_back_does_no_harm(records: Records, clock: Clock) -> None:
    number = records.open_card("job", "Kim", [NewLine("a", "x")], title)
    late = clock.now
    clock.step(-86400)
    records.add(number, "Kim", [NewLine("b", "x")])
    clock.step(1)
    records.add(number, "Kim", [NewLine("c", "x")])
    log = records.lines(number)
    assert [line.key for line in log] == ["a", "b", "c"]
    assert [line.at for line in log] == [late, clock.now - timedelta(seconds=1), clock.now]
    assert records.card(number).touched == clock.now
