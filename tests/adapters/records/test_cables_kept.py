"""Built cables over the kept records: found by state and serial, in backups, and out and in again with everything."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

from tests.unit.work.builds.built import WIRE, BuiltShop
from tests.unit.work.cards.shops import new_shop

from ohmsworth import wiring
from ohmsworth.report.answer import as_json
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.writing import Sending, change_row
from ohmsworth.work.cable_study import cable_study
from ohmsworth.work.export_shop import export_shop
from ohmsworth.work.faces import faces_by
from ohmsworth.work.records import Records
from ohmsworth.work.restore_shop import restore_shop


def filled(records: Records) -> BuiltShop:
    """A cable that is wrong, with a row that was withdrawn."""
    built = BuiltShop(shop=replace(new_shop(), records=records))
    built.row("A:1", "B:1", WIRE)
    number = built.row("A:2", "B:2", "open").number
    assert number is not None
    change_row(built.desk, built.cable, number, False, "the tip was off", Sending("Ada", "w"))
    built.row("A:2", "B:2", "1,52")
    return built


def told(records: Records, cable: int) -> object:
    desk = CableDesk(replace(new_shop(), records=records))
    return as_json(desk.answer(desk.state(cable)))


def test_a_cable_is_kept_found_and_answered_after_opening_again(address: str) -> None:
    with wiring.open_records(address) as records:
        built = filled(records)
        before = told(records, built.cable)
    with wiring.open_records(address) as records:
        assert told(records, built.cable) == before
        (card,) = records.cards("cable", search="NO. 12", state="wrong")
        assert card.face.title == "line cable no. 12"
        assert records.count("cable", state="right") == 0
        assert records.count_readings() == 0  # rows of cables are no readings of contacts
        assert records.check() == ()


def test_a_whole_export_and_a_backup_hold_it(address: str, tmp_path: Path) -> None:
    with wiring.open_records(address) as records:
        built = filled(records)
        before = told(records, built.cable)
        wiring.write_tree(tmp_path / "all", export_shop(records, wiring.shop_format()))
        records.back_up(tmp_path / "copy.sqlite")
        lines, card = records.lines(built.cable), records.card(built.cable)
    (folder,) = (tmp_path / "all/cables").iterdir()
    assert folder.name == "000001 line cable no. 12"
    assert as_json(cable_study(wiring.load_cable(folder))) == before
    with wiring.open_records(str(tmp_path / "new.sqlite")) as records:
        with wiring.open_shop(tmp_path / "all") as (cards, settings, content):
            restore_shop(records, cards, settings, content, "Kim", faces_by(wiring.cable_ports()))
        assert records.lines(built.cable) == lines
        assert records.card(built.cable) == card
        assert told(records, built.cable) == before
        again = dict(export_shop(records, wiring.shop_format()))
        assert again["cards.json"] == (tmp_path / "all/cards.json").read_bytes()
    wiring.restore_records(tmp_path / "copy.sqlite", str(tmp_path / "other.sqlite"))
    with wiring.open_records(str(tmp_path / "other.sqlite")) as records:
        assert records.card(built.cable) == card
        assert told(records, built.cable) == before


def test_the_command_says_the_same_of_an_exported_cable(tmp_path: Path, capsys: object) -> None:
    from ohmsworth.cli.cable import Targets, cable

    with wiring.open_records(str(tmp_path / "shop.sqlite")) as records:
        built = filled(records)
        before = told(records, built.cable)
        folder = tmp_path / "out"
        wiring.write_tree(folder, sorted(built.desk.teller.files(built.state).items()))
    cable(folder, True, Targets())
    printed = capsys.readouterr().out  # type: ignore[attr-defined]
    assert json.loads(printed) == json.loads(json.dumps(before))
