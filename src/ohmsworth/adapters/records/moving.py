"""Everything that is kept, from one system to another: a backup is always one SQLite file."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Table, create_engine, insert, select
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.pool import NullPool

from ohmsworth.adapters.records import tables as t
from ohmsworth.adapters.records.checking import everything_wrong
from ohmsworth.adapters.records.copying import copy_file, write_whole
from ohmsworth.adapters.records.database import PATIENCE, Database, to_json
from ohmsworth.adapters.records.faults import fault_of
from ohmsworth.adapters.records.layout import HEAD, bring_up_to_date, read_layout
from ohmsworth.adapters.records.place import Place, place_of
from ohmsworth.work.records import RecordsFault

#: Rows that are held at a time; files may be large, so of them only a few.
_AT_A_TIME = {t.content.name: 8}


def back_up(database: Database, path: Path) -> None:
    """See `Records.back_up`."""
    target = Path(os.path.abspath(path))
    if target.is_dir():
        raise RecordsFault(f"{target} is a folder. Give the path of a file for the copy.")
    source = database.place.path
    if source is None:
        write_whole(target, lambda draft: _write_file(database, draft))
        return
    if target.exists() and target.samefile(source):
        raise RecordsFault(f"{target} is the records file itself. Give another path for the copy.")
    copy_file(source, target)


def restore_records(backup: Path, address: str, *, patience: float = PATIENCE) -> None:
    """Copy every row of a backup into records that are still empty, on either system.

    Parameters
    ----------
    backup
        A file that `Records.back_up` wrote; of this layout or an older one. It is left as it is.
    address
        As for `open_records`.
    patience
        Seconds to wait for another program's lock or a database that restarts.

    Raises
    ------
    RecordsFault
        When the backup is not one or is damaged, or the records are not empty; nothing was changed then.
    """
    source = Path(os.path.abspath(backup))
    with _readable(source) as read:
        database = Database(place_of(address), patience)
        try:
            bring_up_to_date(database)
            database.write(lambda connection: _fill(read, connection, database.place))
        finally:
            database.close()


def _fill(read: Connection, written: Connection, place: Place) -> None:
    held = [
        table.name for table in t.metadata.sorted_tables if written.execute(select(table).limit(1)).first()
    ]
    if held:
        raise RecordsFault(
            f"{place.words[0].upper()}{place.words[1:]} are not empty. They were left as they are: restore to a new path or a "
            f"new database."
        )
    _copy_rows(read, written)
    wrong = everything_wrong(written)
    if wrong:
        raise RecordsFault(
            f"The backup is damaged; nothing was restored. Try an older one. What was found: {' '.join(wrong[:5])}"
        )


def _copy_rows(read: Connection, written: Connection) -> None:
    for table in t.metadata.sorted_tables:
        for rows in _rows(read, table):
            written.execute(insert(table), rows)


def _rows(read: Connection, table: Table) -> Iterator[list[dict[str, object]]]:
    """In the order of the log, so that a line comes after the one that it is about."""
    query = select(table).order_by(*table.primary_key.columns)
    size = _AT_A_TIME.get(table.name, 1000)
    with read.execution_options(yield_per=size).execute(query) as found:
        for rows in found.mappings().partitions():
            yield [dict(row) for row in rows]


def _write_file(database: Database, draft: Path) -> None:
    """The rows of another system in a file of the same layout."""
    copy = Database(Place(f"the copy {draft}", path=draft))
    try:
        bring_up_to_date(copy)
        database.snapshot(lambda read: copy.write(lambda written: _copy_rows(read, written)))
    finally:
        copy.close()


@contextmanager
def _readable(backup: Path) -> Iterator[Connection]:
    """The backup, of today's layout: the file itself, or a copy that is brought up to date."""
    place = Place(f"the rows of the backup {backup}", path=backup)
    if not backup.is_file():
        raise RecordsFault(f"There is no backup {backup}. Nothing was restored.")
    try:
        layout = read_layout(backup)
        if layout == HEAD:
            with _reading(backup) as connection:
                yield connection
            return
        if layout is None or not layout.isdigit() or layout > HEAD:
            raise RecordsFault(
                f"{backup} is not a backup that this program can read: it is something else, or was written by a newer "
                f"Ohmsworth. Nothing was restored."
            )
        with tempfile.TemporaryDirectory() as folder:
            copied = Path(folder) / "copy.sqlite"
            copy_file(backup, copied)
            older = Database(Place(str(copied), path=copied))
            try:
                bring_up_to_date(older)
            finally:
                older.close()
            with _reading(copied) as connection:
                yield connection
    except (sqlite3.Error, SQLAlchemyError) as error:
        raise fault_of(error, place) from error


@contextmanager
def _reading(path: Path) -> Iterator[Connection]:
    uri = path.as_uri() + "?mode=ro"
    engine = create_engine(
        "sqlite://",
        creator=lambda: sqlite3.connect(uri, uri=True),
        poolclass=NullPool,
        json_serializer=to_json,
    )
    with engine.connect() as connection:
        yield connection
