"""A season of 5,000 cables and 500,000 rows in the records: searched, listed and followed; beside plain SQL over the same rows.

python benchmarks/bench_season.py [sqlite|postgres]

The peer is what somebody would write with sqlite3 or psycopg alone: the same words looked for with LIKE, and the same figures
fetched and averaged by week in a few lines of Python, with no verdict, no trend, no picture and no page.
"""

from __future__ import annotations

import json
import math
import sqlite3
import statistics
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from sqlalchemy import insert
from starlette.testclient import TestClient

from ohmsworth import wiring
from ohmsworth.adapters.records import tables as t
from ohmsworth.adapters.records.finding import folded
from ohmsworth.adapters.simulated.season import (
    OPEN,
    Design,
    LikeWires,
    WireKind,
    build,
    with_excess,
)
from ohmsworth.web.app import Serving, create_app
from ohmsworth.work.builds.face import face_by
from ohmsworth.work.builds.log import DESCRIBED, MEASURED, NOTE
from ohmsworth.work.builds.teller import Teller
from ohmsworth.work.records import NewLine, Records

CABLES, WAYS, CONTACTS, ROUNDS, SEED = 5_000, 31, 3, 7, 11
#: Seconds within which each answer is wanted.
WANTED = 1.0
#: Cables whose face the program makes itself, to hold the simulated ones to it.
LOOKED_AT = 20
CONNECTORS = ("multipin, male", "multipin, gold", "stage box")
#: Ohm a metre as described; what the second really has grows over the season by this share.
CONDUCTORS, GROWING = {"85 mΩ/m": 0.085, "52 mΩ/m": 0.052}, 0.02
WORDS = ("hall", "return", "Straße", "festival", "spare", "phantom", "drum", "church", "theatre", "Größe")
#: Share of the cables with a broken wire.
BROKEN = 0.07
CONTACTS_SAID = f"1-{WAYS}.1-{CONTACTS}"
NAMES = tuple(f"{way}.{k}" for way in range(1, WAYS + 1) for k in range(1, CONTACTS + 1))
START = datetime(2026, 1, 5, 9, tzinfo=UTC)


def design_of(number: int) -> Design:
    """What a cable of this number is to be."""
    connector, conductor = CONNECTORS[number % 3], list(CONDUCTORS)[number // 3 % 2]
    kind = WireKind(f'resistance = "{conductor}"\ntolerance = "5 %"', CONDUCTORS[conductor])
    wires = (LikeWires("wire", CONTACTS_SAID, NAMES, "core"),)
    name = f"multicore {WORDS[number % 10]}"
    return Design(name, 40.0, (connector, connector), CONTACTS_SAID, {"core": kind}, wires)


def lines_of(
    number: int, chance: np.random.Generator
) -> tuple[str, str, list[dict[str, Any]], dict[str, Any]]:
    """A cable that does not exist: its description, its verdict, its lines, its figures."""
    design = design_of(number)
    (connector, _), conductor = design.connectors, list(CONDUCTORS)[number // 3 % 2]
    toml = design.described(f"no. {number}")
    moment = START + timedelta(minutes=60 * number)
    cable = build(design, chance, {"core": number / CABLES * (GROWING if conductor == "52 mΩ/m" else 0.0)})
    lost = NAMES[int(chance.integers(len(NAMES)))] if chance.random() < BROKEN else None
    cable = cable if lost is None else with_excess(cable, lost, math.inf)
    rows = cable.sheet()
    fields: list[dict[str, Any]] = [{"toml": toml}]
    fields += [
        {"from": a, "to": b, "resistance": said, "unit": "" if said == OPEN else "Ω"} for a, b, said in rows
    ]
    lines = [
        {
            "card": number, "number": n, "key": f"c{number}.{n}", "kind": MEASURED if n > 1 else DESCRIBED, "by": "Kim",
            "at": moment + timedelta(seconds=10 * n), "about": None, "reason": "", "fields": said,
        }
        for n, said in enumerate(fields, 1)
    ]  # fmt: skip
    read = np.array([float(said) for _, _, said in rows[: len(NAMES)] if said != OPEN])
    usual = CONDUCTORS[conductor] * design.length + 2 * design.contact
    ratios = [len(read), float(f"{statistics.median(read / usual):.6g}")]
    verdict = "right" if lost is None else "wrong"
    figures = {
        "day": lines[-1]["at"].astimezone().date().isoformat(), "rows": len(rows), "wires": len(NAMES), "over": 0,
        "under": 0, "open": int(lost is not None), "first": verdict, "faults": [] if lost is None else ["open"],
        "connectors": {connector: ratios}, "conductors": {conductor: ratios},
    }  # fmt: skip
    return toml, verdict, lines, figures


def fill(records: Records) -> int:
    """Put the season into the tables, past the store, which would take a flush for each; say how many rows were measured."""
    chance = np.random.default_rng(SEED)
    database = records._database  # type: ignore[attr-defined]
    measured = 0
    for first in range(1, CABLES + 1, 100):
        cards, lines, faces = [], [], []
        for number in range(first, first + 100):
            toml, verdict, own, figures = lines_of(number, chance)
            opened, touched = own[0]["at"], own[-1]["at"]
            title = f"multicore {WORDS[number % 10]} no. {number}"
            cards.append({"number": number, "kind": "cable", "opened": opened})
            lines += own
            measured += len(own) - 1
            shown = {
                "card": number,
                "kind": "cable",
                "title": title,
                "state": verdict,
                "text": toml,
                "due": None,
                "due_for": "",
            }
            search = folded(f"{title}\n{toml}")
            faces.append(
                shown | {"search": search, "touched": touched, "lines": len(own), "figures": figures}
            )
        for table, rows in ((t.card, cards), (t.line, lines), (t.face, faces)):
            database.write(lambda connection, table=table, rows=rows: connection.execute(insert(table), rows))
    return measured


def hold_to_the_program(records: Records) -> float:
    """See that the program makes the same faces of these logs; return its seconds for one."""
    face = face_by(Teller(wiring.shop(records).cables))
    took = []
    for number in range(1, CABLES + 1, CABLES // LOOKED_AT):
        log, card = records.lines(number), records.card(number)
        begun = time.perf_counter()
        made = face(log)
        took.append(time.perf_counter() - begun)
        assert (made.title, made.state, made.figures) == (
            card.face.title,
            card.face.state,
            card.face.figures,
        ), number
    return statistics.median(took)


def median(act: Callable[[], object], between: Callable[[], object] = lambda: None) -> float:
    """Seconds, after a first time that loads what it needs; `between` is done before each, and not counted."""
    act()
    took = []
    for _ in range(ROUNDS):
        between()
        begun = time.perf_counter()
        act()
        took.append(time.perf_counter() - begun)
    return statistics.median(took)


def another(records: Records) -> Callable[[], None]:
    """Something new in the season, so that nothing of it can be at hand."""
    cards = iter(range(1, CABLES))

    def act() -> None:
        number = next(cards)
        face = records.card(number).face
        new = replace(face, figures={**face.figures, "first": "look first"})
        records.add(number, "Kim", [NewLine(f"more {number}", NOTE, {"text": "more"})], lambda _: new)

    return act


Ask = Callable[[str, Sequence[str]], list[Any]]


def theirs(ask: Ask) -> dict[str, Callable[[], object]]:
    """The same by plain SQL."""
    page = "SELECT card, title, state, text FROM face WHERE kind = 'cable'"

    def season(word: str = "") -> dict[str, float]:
        weeks = defaultdict(list)
        for (figures,) in ask(
            "SELECT figures FROM face WHERE kind = 'cable' AND search LIKE ?", (f"%{word}%",)
        ):
            found = json.loads(figures) if isinstance(figures, str) else figures
            week = str(datetime.fromisoformat(found["day"]).isocalendar()[:2])
            weeks[week].append(found["first"] == "right")
        return {week: statistics.fmean(right) for week, right in weeks.items()}

    return {
        "serial": lambda: ask(f"{page} AND search LIKE ? ORDER BY touched DESC LIMIT 50", ("%no. 4321%",)),
        "word": lambda: ask(f"{page} AND search LIKE ? ORDER BY touched DESC LIMIT 50", ("%festival%",)),
        "list": lambda: ask(f"{page} ORDER BY touched DESC LIMIT 50", ()),
        "season": season,
        "season of one connector": lambda: season("stage box"),
    }


@contextmanager
def place(system: str) -> Iterator[tuple[str, Callable[[], Any]]]:
    """The address of empty records, and what opens them by the driver alone."""
    if system == "sqlite":
        with tempfile.TemporaryDirectory() as name:
            path = Path(name) / "shop.records"
            yield str(path), lambda: closing(sqlite3.connect(path))
        return
    sys.path.insert(0, str(Path(__file__).parents[1]))
    import psycopg
    from tests.adapters.records.servers import server

    with server() as running:
        address = running.fresh()
        yield address, lambda: closing(psycopg.connect(address))


def measure(system: str) -> bool:
    """Fill, measure, print a line; say whether all was as quick as wanted."""
    with place(system) as (address, plain), wiring.open_records(address) as records:
        begun = time.perf_counter()
        measured = fill(records)
        filled = time.perf_counter() - begun
        made = hold_to_the_program(records)
        serving = Serving(frozenset({"testserver"}), wiring.typeface_folder(), drawing=wiring.drawing())
        client = TestClient(create_app(wiring.shop(records), serving))

        def get(path: str, words: str) -> Callable[[], None]:
            def act() -> None:
                answer = client.get(path)
                assert answer.status_code == 200
                assert words in answer.text, path

            return act

        pages = {
            "serial": get("/cables?search=no.+4321", "no. 4321"),
            "word": get("/cables?search=festival", "500 cables"),
            "list": get("/cables", f"no. {CABLES}"),
            "season": get("/cables/season", "Of 5 000 cables tested"),
            "season of one connector": get("/cables/season?by=month&search=stage+box", "cables tested since"),
        }
        change = another(records)
        ours = {name: median(act, change) for name, act in pages.items()}
        drawn = median(get("/cables/season/drawn/season-right.svg", "<svg"), change)
        with plain() as connection:

            def ask(sql: str, given: Sequence[str]) -> list[Any]:
                cursor = connection.execute(
                    sql if system == "sqlite" else sql.replace("?", "%s"), given or None or ()
                )
                return list(cursor.fetchall())

            peer = {name: median(act) for name, act in theirs(ask).items()}
    said = ", ".join(f"{name} {1e3 * took:.0f} ms ({took / peer[name]:.1f} x)" for name, took in ours.items())
    slow = [name for name, took in ours.items() if took > WANTED]
    print(
        f"bench_season on {system}: {CABLES} cables, {measured} rows (filled in {filled:.0f} s); pages, and x plain SQL: {said}; "
        f"each picture fetched later {1e3 * drawn:.0f} ms; a face made in {1e3 * made:.0f} ms; {len(slow)} over {WANTED:g} s"
    )
    return not slow


if __name__ == "__main__":
    asked = sys.argv[1:] or ["sqlite", "postgres"]
    quick = [measure(system) for system in asked]
    if not all(quick):
        sys.exit("bench_season: slower than wanted")
