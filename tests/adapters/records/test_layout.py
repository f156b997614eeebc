"""The layout of the tables: made by migrations, the same as the program's own description, and never taken back."""

import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine
from tests.adapters.records.clocks import Clock
from tests.adapters.records.filled import everything, fill
from tools.make_layout import written

from ohmsworth.adapters.records import open_records, restore_records
from ohmsworth.adapters.records.database import Database
from ohmsworth.adapters.records.layout import HEAD, MIGRATIONS, NEW_FILE, bring_up_to_date, revision_of
from ohmsworth.adapters.records.place import place_of
from ohmsworth.adapters.records.tables import metadata
from ohmsworth.work.records import RecordsFault

NEXT = '''
"""A column more, a table made anew."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    with op.batch_alter_table("face") as face:
        face.add_column(sa.Column("colour", sa.Text(), nullable=True))
        face.alter_column("due_for", nullable=True)
'''


@pytest.fixture
def later(tmp_path: Path) -> Path:
    """The migrations of a later program."""
    folder = tmp_path / "migrations"
    shutil.copytree(MIGRATIONS, folder, ignore=shutil.ignore_patterns("__pycache__"))
    (folder / "versions" / "layout_0003.py").write_text(NEXT)
    return folder


def test_the_program_names_the_newest_migration() -> None:
    assert ScriptDirectory(MIGRATIONS).get_heads() == [HEAD]


def test_a_new_file_is_made_as_the_migrations_make_it() -> None:
    assert NEW_FILE.read_text("utf-8") == written(), "write it anew: python -m tools.make_layout"
    with create_engine("sqlite://").begin() as connection:
        for statement in NEW_FILE.read_text("utf-8").split("\n\n"):
            connection.exec_driver_sql(statement)
        assert revision_of(connection) == HEAD


def test_the_migrations_make_what_the_program_describes(address: str) -> None:
    with open_records(address):
        pass
    database = Database(place_of(address))
    try:
        with database.engine.connect() as connection:
            context = MigrationContext.configure(connection, opts={"compare_type": True})
            assert compare_metadata(context, metadata) == []
    finally:
        database.close()


@pytest.mark.parametrize("revision", ["0003", "9999"])
def test_a_newer_layout_is_left_alone(address: str, later: Path, revision: str) -> None:
    fill(address)
    database = Database(place_of(address))
    try:
        bring_up_to_date(database, head="0003", migrations=later)
        if revision != "0003":
            with database.engine.begin() as connection:
                connection.exec_driver_sql(f"UPDATE alembic_version SET version_num = '{revision}'")
    finally:
        database.close()
    with (
        pytest.raises(RecordsFault, match=rf"newer Ohmsworth .layout {revision}.*nothing is lost"),
        open_records(address),
    ):
        pass


def test_a_migration_makes_a_copy_first_and_keeps_every_row(
    address: str, later: Path, tmp_path: Path
) -> None:
    fill(address)
    before = everything(address)
    for _ in range(2):
        database = Database(place_of(address))
        try:
            bring_up_to_date(database, Clock(), "0003", later)
            with database.engine.connect() as connection:
                assert connection.exec_driver_sql("SELECT colour FROM face").scalar() is None
            assert bool(database.read(lambda c: c.exec_driver_sql("SELECT 1 FROM card").all()))
        finally:
            database.close()
        assert everything(address) == before
    copies = list(tmp_path.glob("records.sqlite.layout*"))
    if address.startswith("postgresql"):
        assert not copies
    else:
        assert [copy.name for copy in copies] == ["records.sqlite.layout-0002-20261126T080000Z.backup"]
        assert everything(str(copies[0])) == before
        restore_records(copies[0], str(tmp_path / "again"))


def test_a_migration_that_fails_changes_nothing(address: str, later: Path) -> None:
    fill(address)
    before = everything(address)
    script = later / "versions" / "layout_0003.py"
    script.write_text(NEXT + "    op.execute('SELECT * FROM nothing')\n")
    database = Database(place_of(address))
    try:
        with pytest.raises(RecordsFault, match=r"not kept|not be done"):
            bring_up_to_date(database, head="0003", migrations=later)
    finally:
        database.close()
    with open_records(address) as records:
        assert records.check() == ()
    assert everything(address) == before


def test_foreign_keys_are_looked_at_before_a_migration_ends(tmp_path: Path, later: Path) -> None:
    address = str(tmp_path / "records.sqlite")
    fill(address)
    script = later / "versions" / "layout_0003.py"
    script.write_text(NEXT + "    op.execute('INSERT INTO content VALUES (77, 1, x\\'\\', \\'\\')')\n")
    database = Database(place_of(address))
    try:
        with pytest.raises(RecordsFault, match="refer to others that are not there"):
            bring_up_to_date(database, head="0003", migrations=later)
    finally:
        database.close()
    with open_records(address) as records:
        assert records.check() == ()


def test_foreign_keys_hold_after_the_tables_were_made(tmp_path: Path) -> None:
    database = Database(place_of(str(tmp_path / "records.sqlite")))
    try:
        bring_up_to_date(database)
        with database.engine.connect() as connection:
            assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
            assert connection.exec_driver_sql("PRAGMA synchronous").scalar() == 2
            assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
    finally:
        database.close()


def test_what_is_up_to_date_opens_without_the_means_to_migrate(tmp_path: Path) -> None:
    path = tmp_path / "records.sqlite"
    fill(str(path))
    code = (
        "import sys; from ohmsworth.wiring import open_records\n"
        f"with open_records({str(path)!r}) as records: print(records.count())\n"
        "print([name for name in ('alembic', 'psycopg', 'mako') if name in sys.modules])"
    )
    environment = os.environ | {"PYTHONPATH": str(Path(__file__).parents[3] / "src")}
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment
    )
    assert done.stdout.splitlines() == ["5", "[]"]


def test_an_empty_file_is_new_records(tmp_path: Path) -> None:
    path = tmp_path / "records.sqlite"
    path.write_bytes(b"")
    with open_records(str(path)) as records:
        assert records.count() == 0
    with closing(sqlite3.connect(path)) as plain:
        assert plain.execute("SELECT version_num FROM alembic_version").fetchone() == (HEAD,)
