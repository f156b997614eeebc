"""The database itself refuses to change or take away what was kept."""

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError
from tests.adapters.records.filled import everything, fill

from ohmsworth.adapters.records import open_records
from ohmsworth.adapters.records.database import Database
from ohmsworth.adapters.records.place import place_of

TABLES = {"card": "kind", "line": "kind", "reading": "note", "content": "sha256", "setting_line": "value"}


@pytest.fixture
def filled(address: str) -> str:
    fill(address)
    return address


def refuse(address: str, sql: str, words: str = "only grows") -> None:
    database = Database(place_of(address))
    try:
        with pytest.raises(DBAPIError, match=words), database.engine.begin() as connection:
            connection.execute(text(sql))
    finally:
        database.close()


@pytest.mark.parametrize("table", TABLES)
def test_what_was_kept_stays_as_it_is(filled: str, table: str) -> None:
    before = everything(filled)
    assert before[table]
    refuse(filled, f"UPDATE {table} SET {TABLES[table]} = 'x'")
    refuse(filled, f"DELETE FROM {table}")
    if filled.startswith("postgresql"):
        refuse(filled, f"TRUNCATE {table} CASCADE")
    else:
        refuse(filled, f"INSERT OR REPLACE INTO {table} SELECT * FROM {table} LIMIT 1", "only grows|gap")
        columns = before[table][0]
        first = f"SELECT {', '.join(columns)} FROM {table} WHERE true LIMIT 1"
        refuse(
            filled,
            f"INSERT INTO {table} {first} ON CONFLICT DO UPDATE SET {TABLES[table]} = 'x'",
            "only grows|gap",
        )
    assert everything(filled) == before


@pytest.mark.parametrize("number", [1, 3, 5, 6, 0])
def test_a_log_has_no_gap(filled: str, number: int) -> None:
    line = 'INSERT INTO line (card, number, key, kind, "by", at, reason, fields)'
    moment = "2026-11-26 08:00:00.000000"
    for card in (3, 2):
        values = f"({card}, {number + (card == 2)}, 'new', 'x', 'x', '{moment}', '', '{{}}')"
        if (card, number) != (2, 4):
            refuse(filled, f"{line} VALUES {values}", "only grows|gap")
    with open_records(filled) as records:
        assert records.check() == ()


def test_a_key_is_taken_once(filled: str) -> None:
    refuse(
        filled,
        'INSERT INTO line (card, number, key, kind, "by", at, reason, fields) '
        "VALUES (3, 2, 'q', 'x', 'x', '2026-11-26 08:00:00.000000', '', '{}')",
        "only grows|uq_line_key",
    )


def test_a_line_is_about_one_of_its_own_log(filled: str) -> None:
    line = 'INSERT INTO line (card, number, key, kind, "by", at, about, reason, fields) VALUES '
    refuse(
        filled,
        f"{line} (3, 2, 'new', 'x', 'x', '2026-11-26 08:00:00.000000', 4, '', '{{}}')",
        "(?i)foreign key",
    )
