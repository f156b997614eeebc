"""Records with something of everything in them, and all their rows."""

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Any

from sqlalchemy import select

from ohmsworth.adapters.records import open_store, tables
from ohmsworth.adapters.records.database import Database
from ohmsworth.adapters.records.place import place_of
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.records import Face, Line, NewLine
from ohmsworth.work.study_log import FILE, QUESTION, TAKEN
from ohmsworth.work.taken_reading import CORRECTED

START = datetime(2026, 11, 26, 8, 0, tzinfo=UTC)
FULL = Entry(
    specimen="lead 7",
    condition="after 500 matings",
    contact="pin 2",
    mating="3",
    polarity="-",
    voltage=Typed("-0.2510", "mV", "voltage"),
    current=Typed("1.000", "A", "current"),
    temperature=Typed("21.5", "°C", "temperature"),
    time=datetime.fromisoformat("2026-11-26T09:30:01.000005+05:30"),
    operator="Kim",
    note="“dusty” — µΩ ✓",
    step=4,
    others={"plug": "gold", "a": ""},
)
OHMS = Entry("lead 8", "new", resistance=Typed("2.50", "mΩ", "resistance"))


def face(log: Sequence[Line]) -> Face:
    figures = {"ratios": {"Größe “A”": [len(log), 0.1 + 0.2]}} if len(log) > 1 else {}
    return Face(f"Straße {len(log)}", "open", log[-1].kind, date(2027, 1, 5), "check", figures)


def fill(address: str) -> None:
    """A few cards of every sort, the same each time."""
    ticks = iter(range(10_000))
    with open_store(address, clock=lambda: START + timedelta(seconds=next(ticks))) as store:
        records, accounts = store.records, store.accounts
        fields = {"text": "ß\n\"'", "whole": -(2**53) - 1, "deep": [{"a": [True, False, None]}, [], ""]}
        specimen = records.open_card("specimen", "Kim", [NewLine("s", "card written", fields)], face)
        study = records.open_card("study", "Kim", [NewLine("q", QUESTION, {"toml": "[study]"})], face)
        lines = [
            NewLine("t", TAKEN, entry=FULL, specimen=specimen, reason="kept"),
            NewLine("c", CORRECTED, entry=OHMS, about=2, reason="misread"),
            NewLine("f", FILE, {"name": "a.png", "media_type": "image/png"}, content=bytes(range(256)) * 20),
        ]
        records.add(study, "Lee", lines, face)
        for number in range(3):
            records.open_card("meter", "Kim", [NewLine(f"m{number}", "card written")], face)
        for value in ("A", "B"):
            records.write_setting("shop", value, "Kim")
        accounts.add_account("Kim", "hash of it", "office")
        accounts.add_account("Lee", "another", "bench")
        accounts.open_sign_in("secret's hash", "Lee", START + timedelta(days=9999))
        accounts.add_token("token's hash", "cell 4", "reader")
        accounts.revoke_token("cell 4")


def everything(address: str) -> dict[str, list[dict[str, Any]]]:
    """All rows of all tables."""
    database = Database(place_of(address))
    try:
        return database.snapshot(
            lambda connection: {
                table.name: [
                    dict(row)
                    for row in connection.execute(
                        select(table).order_by(*table.primary_key.columns)
                    ).mappings()
                ]
                for table in tables.metadata.sorted_tables
            }
        )
    finally:
        database.close()
