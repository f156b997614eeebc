"""A cable in the records: what its log amounts to, its face, and the same answer as its folder."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.unit.work.builds.built import TOML, WIRE, BuiltShop, demo

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.work.builds.log import MEASURED, fold
from ohmsworth.work.builds.writing import (
    Sending,
    change_row,
    describe_again,
    open_cable,
    take_test,
    write_note,
)
from ohmsworth.work.cable_study import cable_study
from ohmsworth.work.records import NewLine, NoSuchCard
from ohmsworth.work.study_cards import open_study


def of_folder(built: BuiltShop, folder: Path) -> object:
    """What the command answers of the folder that the cable is exported as."""
    folder.mkdir()
    for name, data in built.desk.teller.files(built.state).items():
        (folder / name).write_bytes(data)
    return as_json(cable_study(wiring.load_cable(folder)))


def test_a_file_that_is_taken_in_is_answered_as_its_folder(tmp_path: Path) -> None:
    folder = demo(tmp_path / "demo")
    built = BuiltShop((folder / "cable.toml").read_text("utf-8"))
    data = (folder / "test.csv").read_bytes()
    new, known = take_test(built.desk, built.cable, data, "Ada", "the file")
    assert (new, known) == (len(data.splitlines()) - 1, 0)
    told = as_json(built.desk.answer(built.state))
    assert told == as_json(cable_study(wiring.load_cable(folder)))
    assert told == of_folder(built, tmp_path / "out")
    assert built.shown == "wrong"
    assert take_test(built.desk, built.cable, data, "Ada", "again") == (0, new)


def test_what_is_typed_in_any_unit_and_mark_is_answered_as_its_folder(tmp_path: Path) -> None:
    built = BuiltShop()
    assert as_json(built.desk.answer(built.state)) == of_folder(built, tmp_path / "sheet")
    built.row("A:1", "B:1", "0,851", "Ω")
    built.row("A:2", "B:2", "850.5", "mΩ")
    built.row("A:3", "rest", "OL")
    built.row("A:3", "B:3", "0.852 Ω")
    files = built.desk.teller.files(built.state)
    assert files["test.csv"].decode().splitlines() == [
        "from,to,resistance [Ω]", "A:1,B:1,0.851", "A:2,B:2,0.8505", "A:3,rest,open", "A:3,B:3,0.852",
    ]  # fmt: skip
    assert as_json(built.desk.answer(built.state)) == of_folder(built, tmp_path / "out")


def test_the_face_says_what_is_known() -> None:
    built = BuiltShop()
    seen = [built.shown]
    built.next_row()
    seen.append(built.shown)
    built.whole()
    seen.append(built.shown)
    bad = built.row("A:2", "B:2", "1.4").number
    seen.append(built.shown)
    assert bad is not None
    change_row(built.desk, built.cable, bad, False, "the probe slipped", Sending("Ada", "w"))
    seen.append(built.shown)
    assert seen == ["not tested", "cannot tell yet", "right", "wrong", "right"]
    face = built.shop.records.card(built.cable).face
    assert face.title == "line cable no. 12"
    for words in ("line 12", "NO. 12"):
        assert [card.number for card in built.shop.records.cards("cable", search=words)] == [built.cable]
    assert built.shop.records.cards("cable", state="wrong") == ()
    assert built.shop.records.count("study") == 0


def test_a_row_is_withdrawn_and_put_back_with_a_reason() -> None:
    built = BuiltShop()
    number = built.next_row().number
    assert number is not None
    with pytest.raises(InputRefused, match="reason"):
        change_row(built.desk, built.cable, number, False, "  ", Sending("Ada", "w"))
    change_row(built.desk, built.cable, number, False, "wrong wire", Sending("Ada", "w"))
    change_row(built.desk, built.cable, number, False, "wrong wire", Sending("Ada", "w"))  # sent twice
    assert [(row.state, row.reason) for row in built.state.rows] == [("withdrawn", "wrong wire")]
    assert built.state.counted == ()
    with pytest.raises(InputRefused, match="withdrawn already"):
        change_row(built.desk, built.cable, number, False, "again", Sending("Ada", "w2"))
    change_row(built.desk, built.cable, number, True, "it was right", Sending("Lee", "b"))
    assert [row.number for row in built.state.counted] == [number]
    assert built.state == fold(built.shop.records.lines(built.cable))


def test_a_slip_is_asked_about_and_kept_with_its_reason() -> None:
    built = BuiltShop()
    asked = built.row("A:1", "B:1", "8.5", key="slip")
    assert asked.number is None
    assert asked.slip is not None
    assert "10 times more than wire 1 should read" in asked.slip.words
    assert "850 mΩ" in asked.slip.mend
    assert built.state.rows == ()
    assert built.row("A:1", "B:1", "8.5", key="slip", anyway="the meter shows it so").number is not None
    assert built.state.rows[0].kept == "the meter shows it so"
    assert built.shown == "wrong"


@pytest.mark.parametrize("shown", [WIRE, "1.2", "3.2", "open", "50"])
def test_what_no_decimal_mark_explains_is_kept_at_once(shown: str) -> None:
    assert BuiltShop().row("A:1", "B:1", shown).number is not None


@pytest.mark.parametrize("shown", ["850", "0.00085", "85"])
def test_units_and_places_that_slipped_are_asked_about(shown: str) -> None:
    assert BuiltShop().row("A:1", "B:1", shown).slip is not None


def test_what_is_sent_twice_is_kept_once() -> None:
    built = BuiltShop()
    first = built.row("A:1", "B:1", WIRE, key="one")
    assert built.row("A:1", "B:1", WIRE, key="one").number == first.number
    assert len(built.state.rows) == 1
    assert open_cable(built.desk, TOML, "Ada", "the cable") == built.cable


@pytest.mark.parametrize(
    ("one", "other", "shown", "field"),
    [
        ("A:9", "B:1", "1", "from"),
        ("A:1", "C:1", "1", "to"),
        ("A:1", "A:1", "1", "from"),
        ("", "B:1", "1", "from"),
        ("A:1", "B:1", "", "resistance"),
        ("A:1", "B:1", "much", "resistance"),
        ("A:1", "B:1", "-1", "resistance"),
    ],
)
def test_what_cannot_be_read_is_said_at_its_field(one: str, other: str, shown: str, field: str) -> None:
    built = BuiltShop()
    with pytest.raises(InputRefused) as refused:
        built.row(one, other, shown)
    assert [fault.where for fault in refused.value.faults] == [field]
    assert built.state.rows == ()


def test_without_a_meter_nothing_is_measured() -> None:
    built = BuiltShop(TOML[: TOML.index("[meter]")])
    with pytest.raises(InputRefused, match="meter"):
        built.row("A:1", "B:1", WIRE)


def test_a_description_is_changed_with_a_reason_and_fits_what_was_measured() -> None:
    built = BuiltShop()
    built.next_row()
    longer = TOML.replace("10 m", "12 m")
    seen = built.state.described
    with pytest.raises(InputRefused) as refused:
        describe_again(built.desk, built.cable, TOML.replace('"1-3"', '"2-3"'), seen, "", Sending("Ada", "d"))
    assert {fault.where for fault in refused.value.faults} > {"reason"}
    describe_again(built.desk, built.cable, longer, seen, "measured again", Sending("Ada", "d"))
    describe_again(built.desk, built.cable, longer, seen, "measured again", Sending("Ada", "d"))  # sent twice
    assert [line.reason for line in built.state.descriptions] == ["", "measured again"]
    assert built.desk.answer(built.state).length == 12.0
    with pytest.raises(InputRefused, match="since this form was opened"):
        describe_again(built.desk, built.cable, TOML, seen, "back", Sending("Lee", "e"))


def test_a_row_that_fits_no_more_says_on_which_line_it_stands() -> None:
    built = BuiltShop()
    built.row("A:1", "B:1", WIRE)
    built.row("A:3", "B:3", WIRE)
    other = (
        TOML.replace('["1-3", "shell"]', '["1-2", "shell"]')
        .replace("A:1-3", "A:1-2")
        .replace("B:1-3", "B:1-2")
    )
    with pytest.raises(InputRefused) as refused:
        describe_again(built.desk, built.cable, other, built.state.described, "two ways", Sending("Ada", "d"))
    assert [fault.where for fault in refused.value.faults] == ["test.csv, line 3, column 'from'"]


def test_a_file_at_fault_brings_nothing() -> None:
    built = BuiltShop()
    with pytest.raises(InputRefused):
        take_test(built.desk, built.cable, b"from,to,resistance [ohm]\nA:1,B:1,0.85\nA:7,B:1,1\n", "Ada", "f")
    assert built.state.rows == ()


def test_a_name_that_a_spreadsheet_would_work_out_comes_back(tmp_path: Path) -> None:
    toml = TOML.replace("[ends.A]", '[ends."=A"]').replace('"A:', '"=A:')
    built = BuiltShop(toml)
    built.row("=A:1", "B:1", WIRE)
    built.row("=A:1 =A:2", "B:3", "open")
    assert b"\n'=A:1,B:1," in built.desk.teller.files(built.state)["test.csv"]
    assert as_json(built.desk.answer(built.state)) == of_folder(built, tmp_path / "out")


def test_what_somebody_wrote_into_an_export_is_told_and_never_taken_for_open() -> None:
    built = BuiltShop()
    fields = {"from": "A:1", "to": "B:1", "resistance": "wide", "unit": "yards"}
    built.shop.records.add(built.cable, "Eve", [NewLine("odd", MEASURED, fields)], built.desk.face)
    assert built.shown == "cannot be read"
    with pytest.raises(InputRefused, match="wide yards"):
        built.desk.answer(built.state)


def test_a_note_is_found() -> None:
    built = BuiltShop()
    write_note(built.desk, built.cable, "for the town hall", "Ada", "n")
    assert built.shop.records.count("cable", search="town hall") == 1
    with pytest.raises(InputRefused, match="note"):
        write_note(built.desk, built.cable, " ", "Ada", "m")


def test_another_card_is_no_cable() -> None:
    built = BuiltShop()
    study = open_study(built.shop, 'question = "one?"', (), "Ada", "a study")
    with pytest.raises(NoSuchCard, match="not a built cable"):
        built.desk.state(study)


def test_a_description_at_fault_is_not_kept() -> None:
    built = BuiltShop()
    with pytest.raises(InputRefused):
        open_cable(built.desk, 'name = "nothing else"', "Ada", "bad")
    assert built.shop.records.count("cable") == 1
