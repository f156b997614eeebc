"""Write `new.sql`, what a new file of records is made with: run it after a migration was added.

python -m tools.make_layout
"""

from __future__ import annotations

from sqlalchemy import Connection, create_engine, text

from ohmsworth.adapters.records.layout import NEW_FILE, upgrade


def statements() -> list[str]:
    """What the migrations make of an empty file, and the name of the layout."""
    with create_engine("sqlite://").begin() as connection:
        upgrade(connection)
        return [*_made(connection), _named(connection)]


def _made(connection: Connection) -> list[str]:
    query = text("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL ORDER BY rowid")
    return [
        "\n".join(line.rstrip() for line in sql.splitlines() if line.strip())
        for sql in connection.scalars(query)
    ]


def _named(connection: Connection) -> str:
    layout = connection.scalar(text("SELECT version_num FROM alembic_version"))
    return f"INSERT INTO alembic_version (version_num) VALUES ('{layout}')"  # noqa: S608


def written() -> str:
    """The text of the file."""
    return "\n\n".join(statements()) + "\n"


if __name__ == "__main__":
    NEW_FILE.write_text(written(), "utf-8")
    print(f"Written: {NEW_FILE}")
