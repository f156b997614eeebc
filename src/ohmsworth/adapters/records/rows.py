"""Rows of the tables to lines and cards, and back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from functools import cache
from typing import Any

from sqlalchemy import RowMapping, Select, select

from ohmsworth.adapters.records import tables as t
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.records import Card, Face, Line

#: What a query gives, or what was written.
Row = RowMapping | Mapping[str, Any]
_READING = [column for column in t.reading.c if column.name not in ("card", "number", *t.TYPED)]


@cache
def lines_query() -> Select[Any]:
    """Lines with their readings, and whether they have a file."""
    same_reading = (t.reading.c.card == t.line.c.card) & (t.reading.c.number == t.line.c.number)
    same_content = (t.content.c.card == t.line.c.card) & (t.content.c.number == t.line.c.number)
    joined = t.line.outerjoin(t.reading, same_reading).outerjoin(t.content, same_content)
    has_content = t.content.c.number.is_not(None).label("has_content")
    return select(*t.line.c, *_READING, has_content).select_from(joined)


def line_of(row: Row) -> Line:
    """A row of `lines_query` as a line."""
    return Line(
        number=row["number"],
        key=row["key"],
        kind=row["kind"],
        by=row["by"],
        at=row["at"],
        fields=row["fields"],
        about=row["about"],
        reason=row["reason"],
        # A reading always names its specimen, if only by an empty text.
        entry=None if row["specimen"] is None else entry_of(row),
        specimen=row["specimen_card"],
        has_content=bool(row["has_content"]),
    )


def entry_of(row: Row) -> Entry:
    """The reading in a row."""
    moment = row["time"]
    return Entry(
        specimen=row["specimen"],
        condition=row["condition"],
        contact=row["contact"],
        mating=row["mating"],
        polarity=row["polarity"],
        voltage=_typed(row, "voltage"),
        current=_typed(row, "current"),
        resistance=_typed(row, "resistance"),
        temperature=_typed(row, "temperature"),
        time=None if moment is None else datetime.fromisoformat(moment),
        operator=row["operator"],
        note=row["note"],
        step=row["step"],
        others=row["others"],
    )


def _typed(row: Row, name: str) -> Typed | None:
    digits = row[f"{name}_text"]
    return None if digits is None else Typed(digits, row[f"{name}_unit"], name)


def cards_query(*columns: Any) -> Select[Any]:
    """Cards with their faces."""
    joined = t.face.join(t.card, t.card.c.number == t.face.c.card)
    return select(*(columns or (t.card.c.opened, *t.face.c))).select_from(joined)


def card_of(row: Row) -> Card:
    """A row of `cards_query` as a card."""
    face = Face(
        title=row["title"],
        state=row["state"],
        text=row["text"],
        due=row["due"],
        due_for=row["due_for"],
        figures=row["figures"] or {},
    )
    return Card(row["card"], row["kind"], face, row["opened"], row["touched"], row["lines"])
