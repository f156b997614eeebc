"""Backups made while others write, and everything moved from one system to the other."""

import os
import sqlite3
import threading
from contextlib import closing
from itertools import pairwise
from pathlib import Path

import pytest
from tests.adapters.records.filled import everything, fill
from tests.adapters.records.servers import Server

from ohmsworth.adapters.records import open_records, restore_records
from ohmsworth.adapters.records import tables as t
from ohmsworth.work.records import Face, NewLine, RecordsFault


def test_a_backup_is_everything_in_one_file(address: str, tmp_path: Path) -> None:
    fill(address)
    target = tmp_path / "copies" / "copy.sqlite"
    target.parent.mkdir()
    target.write_text("an older one")
    with open_records(address) as records:
        records.back_up(target)
    assert list(target.parent.iterdir()) == [target]
    assert target.stat().st_mode & 0o777 == 0o600
    with closing(sqlite3.connect(target)) as copy:
        assert copy.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        triggers = copy.execute("SELECT count(*) FROM sqlite_master WHERE type = 'trigger'").fetchone()
        assert triggers == (16,)
    rows = everything(address)
    assert all(rows.values())
    assert everything(str(target)) == rows
    with open_records(str(target)) as records:
        assert records.check() == ()


def test_round_and_round(tmp_path: Path, postgres_server: Server) -> None:
    places = [str(tmp_path / "one"), postgres_server.fresh(), str(tmp_path / "two"), postgres_server.fresh()]
    fill(places[0])
    rows = everything(places[0])
    for number, (source, target) in enumerate(pairwise(places)):
        backup = tmp_path / f"backup{number}"
        with open_records(source) as records:
            records.back_up(backup)
        before = backup.read_bytes()
        restore_records(backup, target)
        assert backup.read_bytes() == before
        assert everything(target) == rows
        with open_records(target) as records:
            assert records.check() == ()
    with open_records(places[-1]) as records:
        assert (
            records.open_card("job", "Kim", [NewLine("new", "x")], lambda _: Face("x"))
            == len(rows["card"]) + 1
        )
        assert records.add(2, "Kim", [NewLine("more", "x")])[0].number == 5


def test_a_backup_while_others_write(address: str, tmp_path: Path) -> None:
    done = threading.Event()
    with open_records(address) as records:
        records.open_card("study", "Kim", [NewLine("first", "x")], lambda _: Face("x"))

        def write() -> None:
            number = 0
            while not done.is_set() and number < 5000:
                records.add(
                    1,
                    "Kim",
                    [NewLine(f"k{number}", "x", content=b"x" * 5000)],
                    lambda log: Face(f"{len(log)}"),
                )
                number += 1

        writer = threading.Thread(target=write)
        writer.start()
        try:
            counts = []
            for number in range(6):
                least = records.card(1).lines
                records.back_up(tmp_path / f"{number}.sqlite")
                counts.append((least, records.card(1).lines))
        finally:
            done.set()
            writer.join(60)
        log = records.lines(1)
    assert counts[-1][1] > counts[0][0]
    for number, (least, most) in enumerate(counts):
        with open_records(str(tmp_path / f"{number}.sqlite")) as copy:
            assert copy.check() == ()
            held = copy.lines(1)
            assert held == log[: len(held)]
            assert least <= len(held) <= most


def test_only_empty_records_are_restored_to(address: str, tmp_path: Path) -> None:
    fill(address)
    with open_records(address) as records:
        records.back_up(tmp_path / "copy")
    before = everything(address)
    with pytest.raises(RecordsFault, match=r"not empty.*left as they are"):
        restore_records(tmp_path / "copy", address)
    assert everything(address) == before
    with pytest.raises(RecordsFault, match="not empty"):
        restore_records(tmp_path / "copy", str(tmp_path / "copy"))


def test_what_is_no_backup(address: str, tmp_path: Path) -> None:
    text = tmp_path / "text"
    text.write_text("x" * 10_000)
    songs = tmp_path / "songs"
    with closing(sqlite3.connect(songs)) as made:
        made.execute("CREATE TABLE songs (name)")
    newer = tmp_path / "newer"
    with closing(sqlite3.connect(newer)) as made:
        made.execute("CREATE TABLE alembic_version (version_num)")
        made.execute("INSERT INTO alembic_version VALUES ('9999')")
        made.commit()
    for path, words in (
        (text, "not a records file"),
        (songs, "not a backup"),
        (newer, "newer"),
        (tmp_path / "none", "no backup"),
    ):
        with pytest.raises(RecordsFault, match=words):
            restore_records(path, address)
    with open_records(address) as records:
        assert records.count() == 0


def test_a_damaged_backup_restores_nothing(address: str, tmp_path: Path) -> None:
    source = tmp_path / "source"
    fill(str(source))
    with closing(sqlite3.connect(source)) as made:
        made.execute("DROP TRIGGER content_no_update")
        made.execute("UPDATE content SET bytes = x'00'")
        made.commit()
    with pytest.raises(RecordsFault, match=r"backup is damaged; nothing was restored.*line 4 of card 2"):
        restore_records(source, address)
    assert not any(everything(address).values())


def test_places_to_which_no_copy_can_be_written(address: str, tmp_path: Path) -> None:
    fill(address)
    with open_records(address) as records:
        for path, words in (
            (tmp_path, "is a folder"),
            (tmp_path / "none" / "copy", "cannot be written: No such file.*untouched"),
        ):
            with pytest.raises(RecordsFault, match=words):
                records.back_up(path)
        if not address.startswith("postgresql"):
            os.link(address, tmp_path / "link")
            for same in (address, tmp_path / "link"):
                with pytest.raises(RecordsFault, match="is the records file itself"):
                    records.back_up(Path(same))
        assert records.check() == ()
    assert {path.name for path in tmp_path.iterdir()} <= {"records.sqlite", "records.sqlite.lock", "link"}
    assert len(t.metadata.sorted_tables) == 9
