"""Made records_N.sqlite and .json, each once, with the program whose layout was N; run again they would be of a later one.

At layout 1 a face had no figures, and there were no built cables.

python tests/frozen/records/make.py new/folder N
"""

import json
import sys
from collections.abc import Sequence
from dataclasses import asdict
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from ohmsworth.adapters.records import open_store
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.accounts import Store
from ohmsworth.work.records import Face, Line, NewLine

START = datetime(2026, 11, 26, 8, 0, tzinfo=UTC)
VOLTS = Entry(
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
    others={"plug": "gold", "batch": ""},
)
OHMS = Entry("lead 7", "new", resistance=Typed("2.50", "mΩ", "resistance"))


def face(log: Sequence[Line]) -> Face:
    figures = {"lines": len(log), "ratios": {"Größe “A”": [3, 0.1 + 0.2]}, "none": None}
    return Face(f"Straße {len(log)}", "open", log[-1].kind, date(2027, 1, 5), "check", figures)


def fill(store: Store) -> None:
    records, accounts = store.records, store.accounts
    fields = {"text": "ß\n\"'", "whole": -(2**53) - 1, "deep": [{"a": [True, False, None]}, [], ""]}
    lead = records.open_card("specimen", "Kim", [NewLine("s", "card written", fields)], face)
    study = records.open_card("study", "Kim", [NewLine("q", "question written", {"toml": "[study]"})], face)
    lines = [
        NewLine("t1", "reading taken", entry=VOLTS, specimen=lead, reason="kept"),
        NewLine("t2", "reading taken", entry=VOLTS, specimen=lead),
        NewLine("t3", "reading taken", entry=VOLTS),
        NewLine("c1", "reading corrected", entry=OHMS, specimen=lead, about=2, reason="misread"),
        NewLine("w2", "reading withdrawn", about=3, reason="slipped"),
        NewLine("e", "entry questioned", {"why": ["step"]}, entry=OHMS),
        NewLine(
            "f", "file added", {"name": "a.png", "media_type": "image/png"}, content=bytes(range(256)) * 20
        ),
    ]
    records.add(study, "Lee", lines, face)
    for kind in ("meter", "check standard", "limit", "person", "customer", "job", "cable"):
        records.open_card(kind, "Kim", [NewLine(kind, "card written", {"kind": kind})], face)  # type: ignore[arg-type]
    for value in ("A", "B"):
        records.write_setting("shop", value, "Kim")
    accounts.add_account("Kim", "hash of it", "office")
    accounts.add_account("Lee", "another", "bench")
    accounts.disable("Kim")
    accounts.open_sign_in("secret's hash", "Lee", START + timedelta(days=20_000))
    accounts.add_token("token's hash", "cell 4", "reader")


def told(store: Store) -> dict[str, Any]:
    """Everything that the store says, as JSON can say it."""
    records, accounts = store.records, store.accounts
    cards = records.cards()
    everything = {
        "cards": [asdict(card) for card in cards],
        "logs": {card.number: [asdict(line) for line in records.lines(card.number)] for card in cards},
        "file": records.content(2, 8).hex(),
        "readings": [asdict(found) for found in records.readings_of(1)],
        "settings": dict(records.settings()),
        "accounts": [asdict(account) for account in accounts.accounts()],
        "sign-in": asdict(found) if (found := accounts.find_sign_in("secret's hash")) else None,
        "tokens": [asdict(token) for token in accounts.tokens()],
    }
    told: dict[str, Any] = json.loads(json.dumps(everything, default=str))
    return told


def main(folder: Path, layout: str) -> None:
    ticks = iter(range(1000))
    with open_store(
        str(folder / "working.sqlite"), clock=lambda: START + timedelta(seconds=next(ticks))
    ) as store:
        fill(store)
        store.records.back_up(folder / f"records_{layout}.sqlite")
        text = json.dumps(told(store), indent=1, ensure_ascii=False)
        (folder / f"records_{layout}.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
