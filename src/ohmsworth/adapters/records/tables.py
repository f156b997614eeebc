"""The tables. They are made by the migrations; a test holds the two to each other."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    Column,
    Date,
    DateTime,
    Dialect,
    Double,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    LargeBinary,
    MetaData,
    Table,
    Text,
    TypeDecorator,
)

#: Every constraint and index has a name, so that a later migration can speak of it on both systems.
NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}

metadata = MetaData(naming_convention=NAMES)


class UtcTime(TypeDecorator[datetime]):
    """A moment: kept in UTC, given back in UTC, also where the system forgets the zone."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """To UTC, without the zone on SQLite."""
        if value is None:
            return None
        moment = value.astimezone(UTC)
        return moment.replace(tzinfo=None) if dialect.name == "sqlite" else moment

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        """Back, always with the zone."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def _number(name: str, *more: Any, **settings: Any) -> Column[int]:
    return Column(name, BigInteger, *more, autoincrement=False, **settings)


def _text(name: str, **settings: Any) -> Column[str]:
    return Column(name, Text, **{"nullable": False, **settings})


def _moment(name: str, nullable: bool = False) -> Column[datetime]:
    return Column(name, UtcTime, nullable=nullable)


card = Table("card", metadata, _number("number", primary_key=True), _text("kind"), _moment("opened"))

line = Table(
    "line",
    metadata,
    _number("card", ForeignKey("card.number"), primary_key=True),
    _number("number", primary_key=True),
    _text("key", unique=True),
    _text("kind"),
    _text("by"),
    _moment("at"),
    _number("about", nullable=True),
    _text("reason"),
    Column("fields", JSON, nullable=False),
    ForeignKeyConstraint(["card", "about"], ["line.card", "line.number"]),
    Index(None, "card", "about", "number"),
)


def _typed(name: str) -> list[Column[Any]]:
    """As it was typed, and in SI for whoever searches by value."""
    return [
        _text(f"{name}_text", nullable=True),
        _text(f"{name}_unit", nullable=True),
        Column(name, Double, nullable=True),
    ]


#: What an entry may hold as typed.
TYPED = ("voltage", "current", "resistance", "temperature")

reading = Table(
    "reading",
    metadata,
    _number("card", primary_key=True),
    _number("number", primary_key=True),
    # The line in which it was taken: this one, or the one that it corrects; none where it is no reading of the study.
    _number("taken_in", nullable=True),
    _number("specimen_card", ForeignKey("card.number"), nullable=True),
    *(_text(name) for name in ("specimen", "condition", "contact", "mating", "polarity")),
    *(column for name in TYPED for column in _typed(name)),
    # As it was written, with its zone; `read_at` is the same moment in UTC.
    _text("time", nullable=True),
    _moment("read_at", nullable=True),
    _text("operator"),
    _text("note"),
    _number("step", nullable=True),
    Column("others", JSON, nullable=False),
    ForeignKeyConstraint(["card", "number"], ["line.card", "line.number"]),
    Index(None, "specimen_card"),
    Index(None, "card", "taken_in", "number"),
)

content = Table(
    "content",
    metadata,
    _number("card", primary_key=True),
    _number("number", primary_key=True),
    Column("bytes", LargeBinary, nullable=False),
    _text("sha256"),
    ForeignKeyConstraint(["card", "number"], ["line.card", "line.number"]),
)

# The one table of the records that changes: it can be made anew from the logs at any time.
face = Table(
    "face",
    metadata,
    _number("card", ForeignKey("card.number"), primary_key=True),
    _text("kind"),
    _text("title"),
    _text("state"),
    _text("text"),
    _text("search"),
    Column("due", Date, nullable=True),
    _text("due_for"),
    # What a season counts and follows, as plain JSON; NULL where a card has none.
    Column("figures", JSON(none_as_null=True), nullable=True),
    _moment("touched"),
    _number("lines", nullable=False),
    Index(None, "kind", "touched", "card"),
    Index(None, "touched", "card"),
    Index(None, "due", "card"),
)

setting_line = Table(
    "setting_line",
    metadata,
    _number("number", primary_key=True),
    _text("name"),
    _text("value"),
    _text("by"),
    _moment("at"),
    Index(None, "name", "number"),
)

account = Table(
    "account",
    metadata,
    _text("folded", primary_key=True),
    _text("name"),
    _text("hash"),
    _text("role"),
    Column("disabled", Boolean, nullable=False),
    _moment("created"),
)

sign_in = Table(
    "sign_in",
    metadata,
    _text("token_hash", primary_key=True),
    _text("account", index=True),
    _moment("created"),
    _moment("last_seen"),
    _moment("expires"),
    ForeignKeyConstraint(["account"], ["account.folded"]),
)

token = Table(
    "token",
    metadata,
    _text("hash", primary_key=True),
    _text("name", unique=True),
    _text("role"),
    _moment("created"),
    _moment("revoked", nullable=True),
)

#: Those that only grow, as triggers see to.
APPEND_ONLY = (card, line, reading, content, setting_line)
