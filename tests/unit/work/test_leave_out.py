"""An export without what chosen cards say of people: nothing of it in any file, and everything else as it was."""

from pathlib import Path

import pytest
from tests.adapters.records_in_memory import RecordsInMemory
from tests.unit.work.test_export_shop import restored
from tests.unit.work.test_import_study import full_records

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.work.cards.log import NOTE, WRITTEN
from ohmsworth.work.export_shop import export_shop
from ohmsworth.work.faces import face_of
from ohmsworth.work.records import NewLine, NoSuchCard
from ohmsworth.work.study_log import FILE

SECRETS = (b"Grand Theatre", b"Spring street", b"0123", b"JPEG", b"Ann", b"likes tea")


def shop() -> tuple[RecordsInMemory, int, int]:
    """Records in which a customer and the person Ann have cards with notes and a photo."""
    records, _ = full_records()
    customer = next(card.number for card in records.cards("customer"))
    more = [
        NewLine("cu1", WRITTEN, {"name": "Grand Theatre", "address": "Spring street 1"}),
        NewLine("cu2", NOTE, {"text": "call 0123"}, reason="asked by Grand Theatre"),
        NewLine("cu3", FILE, {"name": "Grand Theatre.jpg", "media_type": "image/jpeg"}, content=b"JPEG"),
    ]
    records.add(customer, "Lee", more, face_of("customer"))
    person = [NewLine("pe", WRITTEN, {"name": "Ann", "initials": "A.", "remarks": "likes tea"})]
    return records, customer, records.open_card("person", "Lee", person, face_of("person"))


def test_nothing_of_the_cards_is_in_any_file(tmp_path: Path) -> None:
    records, customer, person = shop()
    files = dict(export_shop(records, wiring.shop_format(), [customer, person]))
    before = dict(export_shop(records, wiring.shop_format()))
    everything = b"".join([*files.values(), *(name.encode() for name in files)])
    assert all(any(secret in data for data in before.values()) for secret in SECRETS)
    assert [secret for secret in SECRETS if secret in everything] == []
    assert f"left out, as was asked for: {customer}, {person}." in files["README.txt"].decode()
    assert f"person {person}".encode() in everything
    path = tmp_path / "all.zip"
    wiring.write_zip(path, files.items())
    again = restored(path)
    for card in records.cards():
        old, new = records.lines(card.number), again.lines(card.number)
        assert [(one.number, one.key, one.kind, one.at, one.about) for one in new] == [
            (one.number, one.key, one.kind, one.at, one.about) for one in old
        ]
        if card.number not in (customer, person):
            assert [(one.fields, one.reason) for one in new] == [(one.fields, one.reason) for one in old]
            assert again.card(card.number).face.title == card.face.title
    assert again.card(customer).face.title == "left out"
    assert {line.by for line in again.lines(customer)} == {f"person {person}", "Lee"}
    assert dict(export_shop(again, wiring.shop_format(), [customer, person])) == files


def test_readings_of_one_hand_still_belong_together() -> None:
    records, _, person = shop()
    study = next(card.number for card in records.cards("study"))
    files = dict(export_shop(records, wiring.shop_format(), [person]))
    table = next(data for name, data in files.items() if name.endswith("readings.csv")).decode()
    taken = [one.entry for one in records.lines(study) if one.entry is not None]
    assert {entry.operator for entry in taken} == {"Ann"}
    assert f"person {person}" in table
    assert "Ann" not in table


def test_without_cards_nothing_changes() -> None:
    records, _, _ = shop()
    files = dict(export_shop(records, wiring.shop_format()))
    assert files == dict(export_shop(records, wiring.shop_format(), []))
    assert "left out" not in files["README.txt"].decode()


def test_what_was_measured_cannot_be_left_out() -> None:
    records, customer, _ = shop()
    study = next(card.number for card in records.cards("study"))
    with pytest.raises(InputRefused, match="a study; expected a person or a customer"):
        export_shop(records, wiring.shop_format(), [customer, study])
    with pytest.raises(NoSuchCard):
        export_shop(records, wiring.shop_format(), [10**6])
