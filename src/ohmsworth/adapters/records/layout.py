"""The layout of the tables over the years: which one a file has, and how it is brought up to date.

Alembic is loaded only where there is something to bring up to date: the bench has to start quickly, also with a new file. What
the migrations make of an empty file stands in `new.sql`, which `tools/make_layout.py` writes and a test holds to them.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, inspect, text
from sqlalchemy.exc import SQLAlchemyError

from ohmsworth.adapters.records.copying import copy_file
from ohmsworth.adapters.records.database import WRITES, Database
from ohmsworth.adapters.records.faults import fault_of
from ohmsworth.work.records import RecordsFault

#: The newest layout that this program knows; a test holds it to the migrations.
HEAD = "0002"
MIGRATIONS = Path(__file__).parent / "migrations"
#: The statements that make a new file, with an empty line between them.
NEW_FILE = MIGRATIONS / "new.sql"

_VERSION = "alembic_version"
#: Any number: programs that open one database at once wait for each other by it.
MAKING = 724_501


def bring_up_to_date(
    database: Database,
    clock: Callable[[], datetime] = lambda: datetime.now(UTC),
    head: str = HEAD,
    migrations: Path = MIGRATIONS,
) -> None:
    """Make the tables, or bring those of an older program up to date; a file is copied first.

    Raises
    ------
    RecordsFault
        When the layout is newer than this program, or the tables are not the records at all.
    """
    found = database.read(lambda connection: _known(connection, database, head), at_once=True)
    if found == head:
        return
    if found and database.place.path:
        path = database.place.path
        moment = clock().astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
        copy_file(path, path.with_name(f"{path.name}.layout-{found}-{moment}.backup"))
    try:
        with database.turn():
            _migrate(database, head, migrations)
    except (SQLAlchemyError, sqlite3.Error) as error:
        raise fault_of(error, database.place) from error


def revision_of(connection: Connection) -> str | None:
    """The layout that the tables have; empty for a database without tables, None where it is not the records'."""
    tables = inspect(connection).get_table_names()
    if _VERSION in tables:
        return connection.execute(text(f"SELECT version_num FROM {_VERSION}")).scalar()  # noqa: S608
    return None if tables else ""


def _known(connection: Connection, database: Database, head: str) -> str:
    words = database.place.words[0].upper() + database.place.words[1:]
    found = revision_of(connection)
    if found == "" and not database.on_sqlite:
        _see_encoding(connection, words)
    if found is None or not (found == "" or (len(found) == len(head) and found.isdigit())):
        raise RecordsFault(
            f"{words} hold something else: tables of another program. They were left as they are. Give another place."
        )
    if found > head:
        raise RecordsFault(
            f"{words} were written by a newer Ohmsworth (layout {found}; this one knows up to {head}). They were left as "
            f"they are, and nothing is lost: install the newer program here too."
        )
    return found


def _see_encoding(connection: Connection, words: str) -> None:
    encoding = connection.execute(text("SHOW server_encoding")).scalar()
    if encoding != "UTF8":
        raise RecordsFault(
            f"{words}: the database keeps texts as {encoding}, which lacks characters. Make it with encoding UTF8."
        )


def _migrate(database: Database, head: str, migrations: Path) -> None:
    """All steps in one transaction; whoever comes second finds nothing left to do."""
    with database.engine.connect().execution_options(**{WRITES: True}) as connection:
        if database.on_sqlite:
            # A table is changed by making it anew, which foreign keys would forbid; they are looked at before the end.
            driven: Any = connection.connection.driver_connection
            driven.execute("PRAGMA foreign_keys=OFF")
        try:
            with connection.begin():
                if not database.on_sqlite:
                    connection.execute(text(f"SELECT pg_advisory_xact_lock({MAKING})"))
                found = revision_of(connection)
                if found == "" and database.on_sqlite and migrations == MIGRATIONS:
                    for statement in NEW_FILE.read_text("utf-8").split("\n\n"):
                        connection.exec_driver_sql(statement)
                elif found != head:
                    upgrade(connection, migrations)
                if database.on_sqlite and connection.exec_driver_sql("PRAGMA foreign_key_check").first():
                    raise RecordsFault(
                        f"{database.place.words} could not be brought up to date: lines refer to others that are not there. "
                        f"They were left as they were."
                    )
        finally:
            connection.invalidate()


def upgrade(connection: Connection, migrations: Path = MIGRATIONS) -> None:
    """Run the steps that are missing, in the transaction that is open."""
    from alembic.config import Config
    from alembic.runtime.environment import EnvironmentContext
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(migrations).replace("%", "%%"))
    scripts = ScriptDirectory(migrations)

    def steps(revision: object, _: object) -> list[object]:
        return scripts._upgrade_revs("head", revision)  # type: ignore[arg-type,return-value]

    with EnvironmentContext(config, scripts, fn=steps) as environment:
        environment.configure(connection=connection, render_as_batch=True)
        environment.run_migrations()


def read_layout(path: Path) -> str | None:
    """The layout of a file, without opening it for writing; None where it has none."""
    with closing(sqlite3.connect(path.as_uri() + "?mode=ro", uri=True)) as connection:
        try:
            row = connection.execute(f"SELECT version_num FROM {_VERSION}").fetchone()  # noqa: S608
        except sqlite3.OperationalError:
            return None
    return row[0] if row else None
