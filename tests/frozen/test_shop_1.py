"""A shop's export as it was written when its format was released: today's program still reads it, and loses nothing."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path

from tests.adapters.records_in_memory import RecordsInMemory

from ohmsworth import wiring
from ohmsworth.work.export_shop import export_shop
from ohmsworth.work.faces import face_of
from ohmsworth.work.import_study import import_study
from ohmsworth.work.restore_shop import restore_shop
from ohmsworth.work.study_log import fold

EXPORT = Path(__file__).parent / "shop_1/export"
STUDY = EXPORT / "studies/000005 Does it matter_"


def test_the_whole_shop() -> None:
    records = RecordsInMemory()
    with wiring.open_shop(EXPORT) as (cards, settings, content):
        assert restore_shop(records, cards, settings, content, "Kim", face_of) == 5
    assert records.settings() == {"shop": "Ohm & sons"}
    kept = json.loads((EXPORT / "cards.json").read_text("utf-8"))["cards"]
    for card in kept:
        lines = records.lines(card["number"])
        assert [line.key for line in lines] == [line["key"] for line in card["lines"]]
        assert [line.at.isoformat() for line in lines] == [line["at"] for line in card["lines"]]
    again = dict(export_shop(records, wiring.shop_format()))
    names = [path for path in EXPORT.rglob("*") if path.is_file() and path.name != "README.txt"]
    assert {path.relative_to(EXPORT).as_posix() for path in names} | {"README.txt"} == set(again)
    assert all(again[path.relative_to(EXPORT).as_posix()] == path.read_bytes() for path in names)


def test_one_study() -> None:
    records = RecordsInMemory()
    folder = wiring.read_study_folder(STUDY)
    found = import_study(records, folder, "Kim", face_of, wiring.with_history)
    assert found.added == 24
    state = fold(records.lines(found.study))
    assert [one.state for one in state.readings].count("withdrawn") == 1
    first = state.counted[0].entry
    assert first.voltage is not None
    assert (first.voltage.text, Decimal(first.voltage.text)) == ("0.2530", Decimal("0.253"))
    assert state.counted[1].entry.note == "read\nagain"
    assert wiring.load_study(STUDY).table.line.tolist() == list(range(2, 13))
