"""Cards over the kept records: names that are taken, links, and a specimen's history are found by the tables too."""

from dataclasses import replace

import pytest
from tests.unit.work.cards.shops import BY, GIVEN, new_shop, study, take, volts

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.work.cards.choices import choices
from ohmsworth.work.cards.kinds import KINDS
from ohmsworth.work.cards.naming import linked, name_specimen, specimen_of_serial
from ohmsworth.work.cards.specimen_history import specimen_history
from ohmsworth.work.cards.writing import open_card, read_card
from ohmsworth.work.shelf import Shelf


def test_cards_are_kept_found_and_followed(address: str) -> None:
    with wiring.open_records(address) as records:
        shop = replace(new_shop(), records=records)
        numbers = {kind: open_card(shop, kind, GIVEN[kind], BY, kind) for kind in KINDS}
        assert {kind: open_card(shop, kind, GIVEN[kind], BY, kind) for kind in KINDS} == numbers
        with pytest.raises(InputRefused, match="card no"):
            open_card(shop, "specimen", {"serial": "sn001"}, BY, "again")
        other = open_card(shop, "specimen", {"serial": "SN 001 µΩ", "job": str(numbers["job"])}, BY, "other")
        assert specimen_of_serial(records, "sn 001 µω") == other
        assert [card.number for card in linked(records, numbers["job"], "specimen")] == [other]
        number = study(shop)
        take(shop, number, volts("N1", "0.2"), volts("N1", "-0.2", "-"))
        name_specimen(shop, number, "N1", other, BY, "name")
        take(shop, number, volts("N1", "0.3", mating="2"), specimen=other)
        (one,) = specimen_history(records, other, Shelf(records).state)
        assert [point.resistance for point in one.points] == [pytest.approx(2e-3), pytest.approx(3e-3)]
    with wiring.open_records(address) as records:
        assert [choice.card for choice in choices(records, "meter")] == [numbers["meter"]]
        assert read_card(records, other).title == "SN 001 µΩ"
