"""Connections and transactions: what makes a line that was acknowledged be there after the power comes back."""

from __future__ import annotations

import json
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.pool import QueuePool

from ohmsworth.adapters.records.faults import busy, fault_of, is_away, is_clash, read_only
from ohmsworth.adapters.records.place import Place, make_file, same_file
from ohmsworth.adapters.records.turns import TurnNotCome, Turns
from ohmsworth.work.records import RecordsFault

T = TypeVar("T")

#: Seconds for which another program's lock, or a database that restarts, is waited for.
PATIENCE = 5.0

#: Attempts where another transaction came first; the second one succeeds unless three or more are at it.
CLASHES = 8

#: Option of a connection whose transactions write.
WRITES = "records_writes"


class Database:
    """One file or database, opened.

    Parameters
    ----------
    place
        Where.
    patience
        Seconds to wait for another program's lock, or for a database that restarts.
    """

    def __init__(self, place: Place, patience: float = PATIENCE) -> None:
        self.place = place
        self.patience = patience
        self.engine = _sqlite(place, patience) if place.path else _postgres(place, patience)
        self._writer = self.engine.execution_options(**{WRITES: True})
        # A server's transaction that only reads would cost two more ways there and back, and promise nothing more.
        self._reader = (
            self.engine if place.path else self.engine.execution_options(isolation_level="AUTOCOMMIT")
        )
        self._file = same_file(place.path) if place.path else None
        self._turns = Turns(place.path) if place.path else None
        self._closed = False

    @property
    def on_sqlite(self) -> bool:
        """Whether it is a file."""
        return self._file is not None

    def read(self, work: Callable[[Connection], T], at_once: bool = False) -> T:
        """Return what `work` reads, all of it from one moment on SQLite; it may be called again after a fault.

        `at_once` tells right away that a server is not there.
        """
        return self._run(self._reader, work, 0.0 if at_once else self.patience)

    def snapshot(self, work: Callable[[Connection], T]) -> T:
        """Return what `work` reads, all of it from one moment on either system."""
        if self.on_sqlite:
            return self.read(work)
        return self._run(
            self.engine.execution_options(isolation_level="REPEATABLE READ"), work, self.patience
        )

    def write(self, work: Callable[[Connection], T]) -> T:
        """Do `work` whole or not at all, flushed to disk when this returns; it may be called again after a fault."""
        with self.turn():
            return self._run(self._writer, work, self.patience)

    @contextmanager
    def turn(self) -> Iterator[None]:
        """Be the only writer to the file; a server sees to that by itself."""
        if self._turns is None:
            yield
            return
        self._see_file()
        turn = self._turns.turn(self.patience)
        try:
            turn.__enter__()
        except TurnNotCome as error:
            raise busy(self.place, error) from error
        except OSError as error:
            raise read_only(self.place, error) from error
        try:
            yield
        finally:
            turn.__exit__(None, None, None)

    def close(self) -> None:
        """Let go of all connections."""
        self._closed = True
        self.engine.dispose()
        if self._turns is not None:
            self._turns.close()

    def _run(self, engine: Engine, work: Callable[[Connection], T], patience: float) -> T:
        """In a transaction; again where that is safe, as where a server ended the connection since it was last used.

        A commit whose answer was lost is done again too: keys of lines make sure that nothing is kept twice.
        """
        if self._closed:
            raise RecordsFault("The records were closed. Nothing is lost: open them again.")
        until = time.monotonic() + patience
        clashes = 0
        while True:
            try:
                with engine.connect() as connection, connection.begin() as transaction:
                    done = work(connection)
                    if engine is not self._writer:
                        transaction.rollback()  # a damaged file refuses even the commit of what was only read
                    return done
            except (SQLAlchemyError, sqlite3.Error) as error:
                clashes += is_clash(error)
                again = clashes < CLASHES if is_clash(error) else is_away(error) and time.monotonic() < until
                if not again:
                    raise fault_of(error, self.place) from error
            time.sleep(0.01 if clashes else 0.1)

    def _see_file(self) -> None:
        """A file that was moved away would still be written to, and lost with this program's end."""
        assert self.place.path is not None
        try:
            there = same_file(self.place.path) == self._file
        except OSError:
            there = False
        if not there:
            raise RecordsFault(
                f"The records file {self.place.path} was moved, deleted or replaced while it was in use. This was not kept. "
                f"Put the file back, or restore the newest backup; then start anew."
            )


def to_json(value: Any) -> str:
    """As the store writes it: compact, in the order given, and never NaN."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _sqlite(place: Place, patience: float) -> Engine:
    assert place.path is not None
    make_file(place.path)
    # "rw": a file that is gone is a fault, never an empty new one.
    uri = place.path.as_uri() + "?mode=rw"

    def connect() -> sqlite3.Connection:
        connection = sqlite3.connect(
            uri, uri=True, timeout=patience, isolation_level=None, check_same_thread=False
        )
        try:
            _prepare(connection, place, patience)
        except BaseException:
            connection.close()
            raise
        return connection

    engine = create_engine(
        "sqlite://",
        creator=connect,
        poolclass=QueuePool,
        pool_size=8,
        max_overflow=56,
        json_serializer=to_json,
    )
    event.listen(engine, "begin", _begin)
    return engine


def _begin(connection: Connection) -> None:
    """Python's own module would begin too late: a writer takes the lock before it looks, so that what it saw holds."""
    writes = connection.get_execution_options().get(WRITES)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _prepare(connection: sqlite3.Connection, place: Place, patience: float) -> None:
    _to_wal(connection, place, patience)
    for setting in (
        "synchronous=FULL",  # every commit is flushed to disk before it returns
        "fullfsync=ON",  # where the system tells "written" from "on disk"
        "checkpoint_fullfsync=ON",
        "foreign_keys=ON",
        "recursive_triggers=ON",  # a REPLACE fires the triggers against deletion
        "trusted_schema=OFF",
        "journal_size_limit=67108864",
    ):
        connection.execute(f"PRAGMA {setting}")


def _to_wal(connection: sqlite3.Connection, place: Place, patience: float) -> None:
    """Readers and the writer beside each other; SQLite does not wait by itself when the mode changes."""
    until = time.monotonic() + patience
    while True:
        try:
            mode = connection.execute("PRAGMA journal_mode=WAL").fetchone()[0]
            break
        except sqlite3.OperationalError as error:
            if getattr(error, "sqlite_errorname", "") != "SQLITE_BUSY" or time.monotonic() > until:
                raise
            time.sleep(0.02)
    if mode != "wal":
        raise RecordsFault(
            f"{place.words[0].upper()}{place.words[1:]} lie on a drive on which they would not be safe, such as one on the "
            f"network. Choose a folder on a disk of this computer."
        )


def _postgres(place: Place, patience: float) -> Engine:
    assert place.url is not None
    try:
        engine = create_engine(
            place.url,
            pool_timeout=patience,
            json_serializer=to_json,
            connect_args={
                "connect_timeout": max(2, round(patience)),
                "client_encoding": "utf8",
                "keepalives_idle": 30,
                "tcp_user_timeout": 10_000,
            },
        )
    except ModuleNotFoundError as error:
        raise RecordsFault(
            "Records in PostgreSQL need one more library, which is not installed: install ohmsworth[postgres]. "
            "Nothing was opened."
        ) from error

    def prepare(connection: Any, _: Any) -> None:
        with connection.cursor() as cursor:
            cursor.execute("SET synchronous_commit TO on")
            cursor.execute(f"SET lock_timeout TO {round(patience * 1000)}")
            cursor.execute("SET timezone TO 'UTC'")
        connection.commit()

    event.listen(engine, "connect", prepare)
    return engine
