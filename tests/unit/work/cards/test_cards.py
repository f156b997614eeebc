"""Cards are made, read back, changed, and never lose what they said."""

from datetime import date

import pytest
from tests.unit.work.cards.shops import BY, GIVEN, LIMIT, METER, SPECIMEN, STANDARD, new_shop, said, study

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.meters import Accuracy
from ohmsworth.work.cards.changes import changes
from ohmsworth.work.cards.choices import choices
from ohmsworth.work.cards.kinds import KINDS
from ohmsworth.work.cards.said import (
    CheckStandardCard,
    CustomerCard,
    JobCard,
    LimitCard,
    MeterCard,
    PersonCard,
    SpecimenCard,
    StatedRange,
)
from ohmsworth.work.cards.writing import (
    add_step,
    open_card,
    put_away,
    read_card,
    take_up,
    withdraw_step,
    write_card,
    write_note,
)
from ohmsworth.work.marks import card_mark, name_mark
from ohmsworth.work.records import NoSuchCard

SAID = {
    "specimen": SpecimenCard("SN 001", "line cable, 3 m", "gold", remarks="two\nlines"),
    "meter": MeterCard(
        "bench voltmeter",
        "voltage",
        ranges=(
            StatedRange(0.2, Accuracy(0.005, 3.0, 1e-4)),
            StatedRange(2.0, Accuracy(0.005, 2.0, 1e-3)),
        ),
    ),
    "check standard": CheckStandardCard("shunt A", 0.01, 5e-6),
    "limit": LimitCard("line plug", 0.003, "the shop"),
    "person": PersonCard("Ada Example", "AE"),
    "customer": CustomerCard("Stage Hall", "1 Long Lane\nTown", language="English"),
    "job": JobCard("26-014", "stage box", promised_by=date(2026, 5, 1), state="in work"),
}


def refused(*arguments: object) -> tuple[Fault, ...]:
    """The faults with which a call is refused."""
    call, *given = arguments
    with pytest.raises(InputRefused) as caught:
        call(*given)  # type: ignore[operator]
    return caught.value.faults


@pytest.mark.parametrize("kind", KINDS)
def test_a_written_card_is_read_back(kind: str) -> None:
    shop = new_shop()
    number = open_card(shop, kind, GIVEN[kind], BY, "k")  # type: ignore[arg-type]
    assert said(shop, number) == SAID[kind]
    state = read_card(shop.records, number)
    assert {key: state.texts[key] for key in GIVEN[kind]} == GIVEN[kind]
    assert shop.records.card(number).face.title == state.title


@pytest.mark.parametrize("kind", KINDS)
def test_a_form_that_is_sent_twice_makes_one_card(kind: str) -> None:
    shop = new_shop()
    numbers = {open_card(shop, kind, GIVEN[kind], BY, "k") for _ in range(3)}  # type: ignore[arg-type]
    assert len(numbers) == 1
    assert shop.records.count() == 1


def test_everything_that_is_wrong_is_told_at_once_with_the_fields_labels() -> None:
    shop = new_shop()
    given = {
        "name": "",
        "measures": "volts",
        "ranges": [{"up_to": "2 A", "accuracy": "good", "resolution": ""}],
    }
    faults = refused(open_card, shop, "meter", given, BY, "k")
    assert [fault.where for fault in faults] == ["name", "what it measures", "range 1, accuracy"]
    given |= {
        "name": "m",
        "measures": "voltage",
        "ranges": [*given["ranges"], *METER["ranges"], METER["ranges"][0]],
    }  # type: ignore[misc]
    faults = refused(open_card, shop, "meter", given, BY, "k")
    assert [fault.where for fault in faults] == ["range 1, up to", "range 1, accuracy", "range 4, up to"]
    assert shop.records.count() == 0


@pytest.mark.parametrize(
    ("kind", "change", "where"),
    [
        ("limit", {"resistance": "3"}, "resistance"),
        ("limit", {"resistance": "3 mV"}, "resistance"),
        ("limit", {"resistance": "0 Ω"}, "resistance"),
        ("limit", {"resistance": "-3 mΩ"}, "resistance"),
        ("check standard", {"uncertainty": "10 mΩ"}, "standard uncertainty"),
        ("specimen", {"made": "2026-02-30"}, "made on"),
        ("specimen", {"made": "30.01.2026"}, "made on"),
        ("specimen", {"made": "2026-02-03", "received": "2026-02-02"}, "received on"),
        ("specimen", {"limit": "77"}, "limit"),
        ("specimen", {"customer": "x"}, "customer"),
        ("specimen", {"serial": "n" * 121}, "serial"),
        ("job", {"state": "finished"}, "state"),
        ("specimen", {"by": "soon"}, "re-test by"),
        ("meter", {"due": "2026-01-01"}, "calibrated on"),
        ("meter", {"on": "2026-01-02", "due": "2026-01-01"}, "next due"),
        ("meter", {"ranges": [{"up_to": "2 V", "accuracy": "1 % + 3 counts"}]}, "range 1, one count"),
        ("meter", {"ranges": [{"up_to": "2 V", "accuracy": ""}]}, "range 1, accuracy"),
    ],
)
def test_a_slip_is_told_where_it_is(kind: str, change: dict[str, object], where: str) -> None:
    shop = new_shop()
    faults = refused(open_card, shop, kind, {**GIVEN[kind], **change}, BY, "k")
    assert [fault.where for fault in faults] == [where]


def test_another_card_is_linked_only_as_what_it_is() -> None:
    shop = new_shop()
    limit = open_card(shop, "limit", LIMIT, BY, "l")
    number = open_card(shop, "specimen", {**SPECIMEN, "limit": str(limit)}, BY, "s")
    assert said(shop, number) == SpecimenCard(
        "SN 001", "line cable, 3 m", "gold", limit, remarks="two\nlines"
    )
    faults = refused(open_card, shop, "specimen", {"serial": "2", "job": str(limit)}, BY, "t")
    assert [(fault.where, fault.found) for fault in faults] == [("job", f"card no. {limit}")]
    assert card_mark(limit) in shop.records.card(number).face.text


@pytest.mark.parametrize("again", ["SN 001", "sn 001", "SN001", "  SN  001 "])
def test_a_serial_belongs_to_one_specimen(again: str) -> None:
    shop = new_shop()
    first = open_card(shop, "specimen", SPECIMEN, BY, "a")
    faults = refused(open_card, shop, "specimen", {"serial": again}, BY, "b")
    assert [fault.where for fault in faults] == ["serial"]
    assert f"card no. {first}" in faults[0].found
    second = open_card(shop, "specimen", {"serial": "SN 0011"}, BY, "c")
    assert [f.where for f in refused(write_card, shop, second, {"serial": again}, "slip", 9, BY, "d")] == [
        "serial"
    ]
    assert write_card(shop, first, {**SPECIMEN, "serial": again, "what": "cable"}, "shorter", 9, BY, "e")


def test_a_serial_in_other_fields_is_no_serial() -> None:
    shop = new_shop()
    open_card(shop, "specimen", {"serial": "1", "remarks": f"like {name_mark('2')}"}, BY, "a")
    open_card(shop, "specimen", {"serial": "2"}, BY, "b")
    assert shop.records.count("specimen") == 2


def test_customers_may_have_one_name() -> None:
    shop = new_shop()
    assert open_card(shop, "customer", {"name": "Hall"}, BY, "a") != open_card(
        shop, "customer", {"name": "Hall"}, BY, "b"
    )


def test_a_change_is_a_line_with_its_reason_and_the_old_value_stays() -> None:
    shop = new_shop()
    number = open_card(shop, "limit", LIMIT, BY, "a")
    faults = refused(write_card, shop, number, {**LIMIT, "resistance": "2 mΩ"}, " ", 1, "Ben", "b")
    assert [fault.where for fault in faults] == ["reason"]
    assert "resistance" in faults[0].expected
    assert write_card(shop, number, {**LIMIT, "resistance": "2 mΩ"}, "new edition", 1, "Ben", "b")
    assert said(shop, number) == LimitCard("line plug", 0.002, "the shop")
    newest, oldest = changes(read_card(shop.records, number))
    assert (newest.by, newest.words, newest.reason) == ("Ben", "changed", "new edition")
    assert [(d.label, d.old, d.new) for d in newest.differences] == [("resistance", "3 mΩ", "2 mΩ")]
    assert ("resistance", "", "3 mΩ") in [(d.label, d.old, d.new) for d in oldest.differences]


def test_filling_what_was_empty_asks_for_no_reason_and_nothing_new_writes_nothing() -> None:
    shop = new_shop()
    number = open_card(shop, "limit", LIMIT, BY, "a")
    assert not write_card(shop, number, LIMIT, "", 1, BY, "b")
    assert write_card(shop, number, {**LIMIT, "purpose": "plugs"}, "", 1, BY, "c")
    assert len(read_card(shop.records, number).lines) == 2


def test_what_somebody_else_wrote_meanwhile_is_not_written_over() -> None:
    shop = new_shop()
    number = open_card(shop, "limit", LIMIT, BY, "a")
    write_card(shop, number, {**LIMIT, "purpose": "plugs"}, "", 1, "Ben", "b")
    faults = refused(write_card, shop, number, {**LIMIT, "purpose": "sockets"}, "x", 1, BY, "c")
    assert [fault.where for fault in faults] == ["this card"]
    assert "Ben" in faults[0].found
    assert write_card(shop, number, {**LIMIT, "purpose": "plugs"}, "", 1, "Ben", "b"), (
        "sent again: already kept"
    )


def test_a_card_that_is_put_away_is_offered_nowhere_until_it_is_taken_up() -> None:
    shop = new_shop()
    number = open_card(shop, "meter", {**METER, "on": "2026-01-02", "due": "2027-01-02"}, BY, "a")
    assert [fault.where for fault in refused(put_away, shop, number, "", BY, "b")] == ["reason"]
    assert [one.card for one in choices(shop.records, "meter")] == [number]
    put_away(shop, number, "broken", BY, "c")
    face = shop.records.card(number).face
    assert (face.state, face.due) == ("put away", None)
    assert choices(shop.records, "meter") == ()
    take_up(shop, number, "", BY, "d")
    face = shop.records.card(number).face
    assert (face.state, face.due, face.due_for) == ("open", date(2027, 1, 2), "calibration")
    (one,) = choices(shop.records, "meter")
    assert one.label == "bench voltmeter – voltage"
    assert isinstance(one.said, MeterCard)
    assert one.said.ranges == SAID["meter"].ranges  # type: ignore[attr-defined]


def test_the_last_calibration_counts_and_earlier_ones_stay_with_the_accuracy_then() -> None:
    shop = new_shop()
    number = open_card(
        shop, "meter", {**METER, "on": "2024-01-02", "due": "2025-01-02", "certificate": "C1"}, BY, "a"
    )
    add_step(
        shop,
        number,
        "calibration",
        {"on": "2026-02-03", "due": "2027-02-03", "accuracy": "0.6 % + 3 counts"},
        "",
        BY,
        "b",
    )
    add_step(
        shop,
        number,
        "calibration",
        {"on": "2025-01-07", "due": "2026-01-07", "certificate": "C2"},
        "",
        BY,
        "c",
    )
    meter = said(shop, number)
    assert isinstance(meter, MeterCard)
    assert (meter.calibrated, meter.due) == (date(2026, 2, 3), date(2027, 2, 3))
    state = read_card(shop.records, number)
    assert [one.certificate for one in state.calibrations] == ["C1", "C2", ""]
    assert state.calibrations[2].accuracy == "0.6 % + 3 counts"
    assert list(state.calibrations[0].ranges) == METER["ranges"]
    withdraw_step(shop, number, state.calibrations[2].number, "other meter", BY, "d")
    assert shop.records.card(number).face.due == date(2026, 1, 7)
    faults = refused(withdraw_step, shop, number, state.calibrations[2].number, "again", BY, "e")
    assert [fault.where for fault in faults] == ["calibration"]


def test_an_accuracy_in_words_is_refused_with_its_calibration() -> None:
    shop = new_shop()
    number = open_card(shop, "meter", METER, BY, "a")
    given = {"on": "2026-01-02", "accuracy": "very good"}
    faults = refused(add_step, shop, number, "calibration", given, "", BY, "b")
    assert [fault.where for fault in faults] == ["accuracy then"]
    assert read_card(shop.records, number).calibrations == ()


def test_a_check_standard_has_the_value_of_its_last_calibration() -> None:
    shop = new_shop()
    number = open_card(shop, "check standard", STANDARD, BY, "a")
    assert shop.records.card(number).face.title == "shunt A – 10 mΩ"
    add_step(
        shop,
        number,
        "calibration",
        {"on": "2026-02-03", "value": "10.004 mΩ", "uncertainty": "2 µΩ"},
        "",
        BY,
        "b",
    )
    add_step(
        shop,
        number,
        "calibration",
        {"on": "2025-02-03", "value": "9.9 mΩ", "uncertainty": "2 µΩ"},
        "",
        BY,
        "c",
    )
    standard = said(shop, number)
    assert isinstance(standard, CheckStandardCard)
    assert (standard.value, standard.uncertainty) == (pytest.approx(0.010004), 2e-6)
    withdraw_step(shop, number, 2, "wrong line of the certificate", BY, "d")
    standard = said(shop, number)
    assert isinstance(standard, CheckStandardCard)
    assert standard.value == pytest.approx(0.0099)


def test_a_re_test_is_due_until_it_is_not_wanted_any_more() -> None:
    shop = new_shop()
    number = open_card(shop, "specimen", {**SPECIMEN, "by": "2027-03-02"}, BY, "a")
    face = shop.records.card(number).face
    assert (face.due, face.due_for) == (date(2027, 3, 2), "re-test")
    add_step(shop, number, "re-test", {"by": "2028-03-02"}, "looked fine", BY, "b")
    assert shop.records.card(number).face.due == date(2028, 3, 2)
    add_step(shop, number, "re-test", {"by": ""}, "scrapped", BY, "c")
    assert shop.records.card(number).face.due is None
    assert [fault.where for fault in refused(add_step, shop, number, "calibration", {}, "", BY, "d")] == [
        "this card"
    ]


@pytest.mark.parametrize(("state", "due"), [("in work", True), ("handed over", False), ("called off", False)])
def test_a_job_is_due_until_it_is_over(state: str, due: bool) -> None:
    shop = new_shop()
    number = open_card(shop, "job", {**GIVEN["job"], "state": state}, BY, "a")
    face = shop.records.card(number).face
    assert (face.due is not None) is due
    assert face.state == ("open" if due else "closed")


def test_a_note_stands_on_its_card_and_is_found() -> None:
    shop = new_shop()
    number = open_card(shop, "person", GIVEN["person"], BY, "a")
    write_note(shop, number, "back in\nApril", BY, "b")
    assert [note.fields["text"] for note in read_card(shop.records, number).notes] == ["back in\nApril"]
    assert [card.number for card in shop.records.cards(search="april")] == [number]
    assert [fault.where for fault in refused(write_note, shop, number, " \n ", BY, "c")] == ["note"]


def test_a_study_is_no_card_of_these_kinds() -> None:
    shop = new_shop()
    number = study(shop)
    with pytest.raises(NoSuchCard):
        read_card(shop.records, number)


def test_what_was_done_to_a_specimen_stands_on_its_card_until_it_is_withdrawn() -> None:
    shop = new_shop()
    number = open_card(shop, "specimen", SPECIMEN, BY, "k")
    given = {"on": "2026-03-01", "what": "clean", "read_as": "cleaned", "by_whom": "", "note": "on a swab"}
    add_step(shop, number, "treatment", given, "", BY, "a")
    earlier = given | {"on": "2025-01-01", "what": "exercise", "by_whom": "Bea"}
    add_step(shop, number, "treatment", earlier, "", BY, "b")
    done = read_card(shop.records, number).treatments
    assert [(one.on, one.what, one.by) for one in done] == [
        (date(2025, 1, 1), "exercise", "Bea"),
        (date(2026, 3, 1), "clean", BY),
    ]
    assert {fault.where for fault in refused(add_step, shop, number, "treatment", {}, "", BY, "c")} == {
        "done on", "what was done",
    }  # fmt: skip
    withdraw_step(shop, number, done[1].number, "another one was cleaned", BY, "d")
    state = read_card(shop.records, number)
    assert [one.withdrawn for one in state.treatments] == ["", "another one was cleaned"]
    assert changes(state)[0].words == "treatment of 2026-03-01 withdrawn"
    assert refused(withdraw_step, shop, number, done[1].number, "again", BY, "e")[0].where == "treatment"
