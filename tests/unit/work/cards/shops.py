"""A shop in memory for tests of cards."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import count

from tests.adapters.records.plain import PlainRecords

from ohmsworth import wiring
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.cards.said import AnyCard
from ohmsworth.work.cards.writing import read_card
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import open_study, study_face
from ohmsworth.work.study_log import TAKEN

START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
BY = "Ada"

SPECIMEN = {"serial": "SN 001", "what": "line cable, 3 m", "plating": "gold", "remarks": "two\nlines"}
METER = {
    "name": "bench voltmeter",
    "measures": "voltage",
    "ranges": [
        {"up_to": "2 V", "accuracy": "0.5 % + 2 counts", "resolution": "1 mV"},
        {"up_to": "200 mV", "accuracy": "0.5 % + 3 counts", "resolution": "0.1 mV"},
    ],
}
STANDARD = {"name": "shunt A", "value": "10 mΩ", "uncertainty": "5 µΩ"}
LIMIT = {"name": "line plug", "resistance": "3 mΩ", "source": "the shop"}
GIVEN = {
    "specimen": SPECIMEN,
    "meter": METER,
    "check standard": STANDARD,
    "limit": LIMIT,
    "person": {"name": "Ada Example", "initials": "AE"},
    "customer": {"name": "Stage Hall", "address": "1 Long Lane\nTown", "language": "English"},
    "job": {"number": "26-014", "title": "stage box", "promised_by": "2026-05-01", "state": "in work"},
}


def moments() -> Iterator[datetime]:
    """A minute later every time."""
    for minutes in count():
        yield START + timedelta(minutes=minutes)


def new_shop() -> Shop:
    at, keys = moments(), count(1)
    records = PlainRecords(lambda: next(at))
    return replace(wiring.shop(records), clock=lambda: START, new_key=lambda: f"key {next(keys)}")


def said(shop: Shop, number: int) -> AnyCard:
    """What a card says, which has to be readable."""
    found = read_card(shop.records, number).said
    assert found is not None
    return found


def study(shop: Shop, title: str = "Does cleaning help?") -> int:
    return open_study(shop, f'question = "{title}"', (), BY, shop.new_key())


def volts(
    specimen: str, text: str, sign: str = "+", condition: str = "new", mating: str = "1", **more: object
) -> Entry:
    """A reading in mV at 100 mA."""
    typed = {"voltage": Typed(text, "mV", "voltage"), "current": Typed("100", "mA", "current")}
    return Entry(specimen, condition, mating=mating, polarity=sign, **{**typed, **more})  # type: ignore[arg-type]


def take(shop: Shop, card: int, *entries: Entry, specimen: int | None = None) -> list[int]:
    """Put readings into a study's log; the numbers of their lines."""
    lines = [NewLine(shop.new_key(), TAKEN, entry=entry, specimen=specimen) for entry in entries]
    return [line.number for line in shop.records.add(card, BY, lines, study_face)]
