"""Speed of the shop's records on SQLite, as ratios to the plainest way of doing the same; run by ``make bench``."""

from __future__ import annotations

import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from sqlalchemy import insert

from ohmsworth.adapters.records import open_records, tables
from ohmsworth.adapters.records.finding import folded
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.records import Face, NewLine, Records
from ohmsworth.work.study_log import TAKEN

CARDS, LINES = 20_000, 400
WORDS = ("Straße", "phantom", "screen", "gold", "lead", "cabinet", "hall", "return", "multicore", "Größe")
ENTRY = Entry(
    "lead 7", "new", voltage=Typed("0.2510", "mV", "voltage"), current=Typed("1.000", "A", "current")
)


def median(act: Callable[[int], object], times: int) -> float:
    """Seconds."""
    took = []
    for number in range(times):
        start = time.perf_counter()
        act(number)
        took.append(time.perf_counter() - start)
    return statistics.median(took)


def one_line(folder: Path) -> None:
    """A reading on disk, beside one INSERT of plain sqlite3 that is flushed in the same way."""
    plain = sqlite3.connect(folder / "plain.sqlite", isolation_level=None)
    plain.execute("PRAGMA journal_mode=WAL")
    plain.execute("PRAGMA synchronous=FULL")
    plain.execute(
        "CREATE TABLE line (card INT, number INT, key TEXT UNIQUE, text TEXT, PRIMARY KEY (card, number))"
    )
    theirs = median(lambda n: plain.execute("INSERT INTO line VALUES (1, ?, ?, 'x')", (n, str(n))), LINES)
    plain.close()
    with open_records(str(folder / "records.sqlite")) as records:
        records.open_card("specimen", "Kim", [NewLine("s", "x")], lambda _: Face("lead 7"))
        records.open_card("study", "Kim", [NewLine("q", "x")], lambda _: Face("study"))
        ours = median(
            lambda n: records.add(2, "Kim", [NewLine(f"k{n}", TAKEN, entry=ENTRY, specimen=1)]), LINES
        )
        found = median(lambda _: records.readings_of(1), 5)
        log = median(lambda _: records.lines(2), 5)
    print(
        f"records: a reading kept and flushed in {1e3 * ours:.1f} ms, {ours / theirs:.1f} x one INSERT of plain sqlite3; "
        f"{LINES} readings of a specimen found in {1e3 * found:.0f} ms, a log of as many lines read in {1e3 * log:.0f} ms"
    )


def many_cards(folder: Path) -> None:
    """A search over the cards, beside Python looking through the same texts in memory."""
    path = folder / "many.sqlite"
    with open_records(str(path)) as records:
        texts = _fill(records)
        search = "STRASSE 19 gold"
        wanted = folded(search).split()
        theirs = median(lambda _: [n for n, text in enumerate(texts) if all(w in text for w in wanted)], 7)
        counted = records.count(search=search)
        assert counted == sum(all(word in text for word in wanted) for text in texts)
        ours = median(lambda _: records.cards(search=search), 7)
        count = median(lambda _: records.count(search=search), 7)
        page = median(lambda _: records.cards("study", first=50, most=50), 7)
    print(
        f"records: of {CARDS} cards {counted} found in {1e3 * ours:.0f} ms ({ours / theirs:.1f} x Python looking through texts "
        f"in memory), counted in {1e3 * count:.0f} ms; a page of 50 in {1e3 * page:.1f} ms"
    )


def _fill(records: Records) -> list[str]:
    """Cards written past the store, which would take a flush for each; return what a search looks through."""
    at = records.card(
        records.open_card("study", "Kim", [NewLine("first", "x")], lambda _: Face("first"))
    ).touched
    texts, cards, lines, faces = [folded("first\n")], [], [], []
    for number in range(2, CARDS + 1):
        title = f"{WORDS[number % 10]} {number}"
        text = (
            " ".join(WORDS[number // n % 10] for n in (3, 7, 11, 13, 17, 19, 23))
            + " some more words of a note" * 3
        )
        texts.append(folded(f"{title}\n{text}"))
        cards.append({"number": number, "kind": "study", "opened": at})
        same = {"card": number, "kind": "study"}
        empty = {"by": "Kim", "at": at, "about": None, "reason": "", "fields": {}}
        lines.append({**same, "number": 1, "key": f"k{number}", **empty})
        shown = {
            "title": title,
            "state": "open",
            "text": text,
            "search": texts[-1],
            "due": None,
            "due_for": "",
        }
        faces.append({**same, **shown, "touched": at, "lines": 1})
    database = records._database  # type: ignore[attr-defined]
    for table, rows in ((tables.card, cards), (tables.line, lines), (tables.face, faces)):
        database.write(lambda connection, table=table, rows=rows: connection.execute(insert(table), rows))
    return texts


def opening(folder: Path) -> None:
    """A program that opens records and reads one card, beside one that only loads what the store is built on."""
    path = str(folder / "records.sqlite")
    code = (
        f"from ohmsworth.wiring import open_records\nwith open_records({path!r}) as records: records.card(1)"
    )
    ours, theirs = (
        min(_processor(text) for _ in range(3))
        for text in (code, "import ohmsworth.work.study_log, sqlalchemy, sqlite3")
    )
    print(
        f"records: opened in a fresh program in {ours:.2f} s of processor, {ours / theirs:.2f} x loading SQLAlchemy and the "
        f"use cases (target 1.3 x)"
    )


def _processor(code: str) -> float:
    import resource

    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", code], check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        one_line(Path(name))
        many_cards(Path(name))
        opening(Path(name))
