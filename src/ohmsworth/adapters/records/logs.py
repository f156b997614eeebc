"""The log of one card, inside of a transaction: read, held, looked up by keys, made longer.

What is asked with every reading is put together once: that takes longer than asking it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import BindParameter, Connection, bindparam, func, insert, null, select, union_all

from ohmsworth.adapters.records import tables as t
from ohmsworth.adapters.records.checked import LARGEST, Ready
from ohmsworth.adapters.records.rows import line_of, lines_query
from ohmsworth.work.records import Line, NoSuchCard, RevisionRefused
from ohmsworth.work.study_log import TAKE, TAKEN
from ohmsworth.work.taken_reading import CORRECTED

#: Keys that are looked up at once.
_AT_ONCE = 500
_CARD: BindParameter[int] = bindparam("of_card")
_KEYS: BindParameter[list[str]] = bindparam("keys", expanding=True)
_KIND = select(t.card.c.kind).where(t.card.c.number == _CARD)
_HOLD = _KIND.with_for_update(key_share=True)
_LAST = select(func.max(t.line.c.number)).where(t.line.c.card == _CARD)
_OF_CARD = lines_query().where(t.line.c.card == _CARD)
_LOG = _OF_CARD.where(t.line.c.number > bindparam("after")).order_by(t.line.c.number)
_WITH_KEYS = _OF_CARD.where(t.line.c.key.in_(_KEYS))
_LAST_AND_KNOWN = union_all(
    select(null().label("key"), t.line.c.card, func.max(t.line.c.number))
    .where(t.line.c.card == _CARD)
    .group_by(t.line.c.card),
    select(t.line.c.key, t.line.c.card, t.line.c.number).where(t.line.c.key.in_(_KEYS)),
)
_INSERTS = {table: insert(table) for table in (t.line, t.reading, t.content)}


def in_range(number: int) -> int:
    """A number that no card can have becomes one that no card has."""
    return number if 0 < number <= LARGEST else 0


def no_card(number: int) -> NoSuchCard:
    """There is none."""
    return NoSuchCard(f"There is no card {number}.")


def see_card(connection: Connection, card: int, hold: bool = False) -> str:
    """The kind of a card; `hold` holds its log until the end of the transaction. Raises NoSuchCard."""
    kind: str | None = connection.scalar(_HOLD if hold else _KIND, {"of_card": in_range(card)})
    if kind is None:
        raise no_card(card)
    return kind


def last_line(connection: Connection, card: int) -> int:
    """The number of its last line; 0 where there is no such card, for a card has a first line."""
    return connection.scalar(_LAST, {"of_card": in_range(card)}) or 0


def log(connection: Connection, card: int, after: int = 0) -> tuple[Line, ...]:
    """The lines of a card from `after` + 1 on."""
    found = connection.execute(_LOG, {"of_card": card, "after": after})
    return tuple(line_of(row) for row in found.mappings())


def last_and_known(
    connection: Connection, card: int, offered: Sequence[Ready]
) -> tuple[int, dict[str, tuple[int, int]]]:
    """The number of the last line of `card`, and card and number of the lines that are kept already anywhere, by key."""
    last, known = 0, {}
    for keys in _portions(offered):
        for key, of, number in connection.execute(_LAST_AND_KNOWN, {"of_card": card, "keys": keys}):
            if key is None:
                last = number or 0
            else:
                known[key] = (of, number)
    return last, known


def with_keys(connection: Connection, card: int, offered: Sequence[Ready]) -> dict[str, Line]:
    """The lines of a card with the keys of those that are offered, by key."""
    found = (
        connection.execute(_WITH_KEYS, {"of_card": card, "keys": keys}).mappings()
        for keys in _portions(offered)
    )
    return {row["key"]: line_of(row) for portion in found for row in portion}


def _portions(offered: Sequence[Ready]) -> Iterable[list[str]]:
    keys = [one.line.key for one in offered]
    return (keys[start : start + _AT_ONCE] for start in range(0, len(keys), _AT_ONCE))


def lengthen(
    connection: Connection, card: int, first: int, by: str, at: datetime, new: Sequence[Ready]
) -> tuple[Line, ...]:
    """Add lines from number `first` on; return them as they will be read.

    Raises
    ------
    RevisionRefused
        When one is about a line that is not before it.
    NoSuchCard
        When its specimen is none.
    """
    for number, one in enumerate(new, first):
        about = one.line.about
        if about is not None and not 0 < about < number:
            raise RevisionRefused(
                f"Line {number} of card {card} would be about line {about}, which is not in the log before it; nothing was "
                f"added. Read the log anew."
            )
    for specimen in sorted({one.line.specimen for one in new if one.line.specimen is not None}):
        if see_card(connection, specimen) != "specimen":
            raise NoSuchCard(f"Card {specimen} is not one of a specimen.")
    return write_lines(connection, card, first, by, at, new)


def write_lines(
    connection: Connection, card: int, first: int, by: str, at: datetime, new: Sequence[Ready]
) -> tuple[Line, ...]:
    """Write lines from number `first` on as they are; return them as they will be read."""
    lines, readings, contents = [], [], []
    for number, one in enumerate(new, first):
        place = {"card": card, "number": number}
        line = one.line
        lines.append(
            place
            | {"key": line.key, "kind": line.kind, "by": by, "at": at.astimezone(UTC)}
            | {"about": line.about, "reason": line.reason, "fields": one.fields}
        )
        if one.reading is not None:
            taken_in = {TAKEN: number, TAKE: number, CORRECTED: line.about}.get(line.kind)
            readings.append(place | one.reading | {"taken_in": taken_in})
        if one.content is not None:
            contents.append(place | one.content)
    # In one go, and one after the other: the triggers look at the line before.
    for table, rows in ((t.line, lines), (t.reading, readings), (t.content, contents)):
        if rows:
            connection.execute(_INSERTS[table], rows)
    return tuple(_as_read(row, one) for row, one in zip(lines, new, strict=True))


def _as_read(row: dict[str, Any], one: Ready) -> Line:
    reading = one.reading or {"specimen": None, "specimen_card": None}
    return line_of({**row, **reading, "has_content": one.content is not None})
