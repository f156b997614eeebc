"""What is in the records, looked at from outside of every server."""

import sqlite3
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path

from tests.reliability.writers import Writer, confirmed

from ohmsworth.adapters.records import open_records
from ohmsworth.work.records import Line
from ohmsworth.work.study_log import TAKEN


def sound(path: str, look: str = "quick_check") -> None:
    """SQLite itself finds nothing wrong with the file."""
    with closing(sqlite3.connect(path)) as plain:
        assert plain.execute(f"PRAGMA {look}").fetchall() == [("ok",)]


def log_of(address: str, study: int) -> tuple[Line, ...]:
    """The log, after everything was looked through."""
    if "://" not in address:
        sound(address, "integrity_check")
    with open_records(address) as records:
        assert records.check() == ()
        return records.lines(study)


def keys_of(log: Sequence[Line]) -> list[str]:
    return [line.key for line in log if line.kind == TAKEN]


def all_kept(address: str, study: int, writers: Sequence[Writer], unsure: int = 0) -> list[str]:
    """Every confirmed reading is there once, in the order of its writer, and at most `unsure` more; return the keys."""
    log = log_of(address, study)
    keys = keys_of(log)
    assert [line.number for line in log] == list(range(1, len(log) + 1))
    assert len(set(keys)) == len(keys)
    for writer in writers:
        own = [key for key in keys if key.startswith(f"{writer.name}-")]
        assert own[: len(writer.confirmed)] == writer.confirmed
        assert len(own) <= len(writer.confirmed) + 1
    assert len(keys) <= len(confirmed(writers)) + unsure
    return keys


def file_in(folder: Path) -> str:
    return str(folder / "shop.records")
