"""Lines that were kept elsewhere, put into the tables as they were: with their authors and times."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from itertools import groupby

from sqlalchemy import Connection, func, insert, select

from ohmsworth.adapters.records import checked, logs
from ohmsworth.adapters.records import tables as t
from ohmsworth.adapters.records.checked import LARGEST, Ready
from ohmsworth.errors import ArgumentFault, shorten
from ohmsworth.work.records import Line, NewLine, NoSuchCard, RevisionRefused

#: A line that is ready to be written, and the line that it was.
Kept = tuple[Ready, Line]


def ready(lines: Sequence[Line], contents: Mapping[int, bytes]) -> tuple[Kept, ...]:
    """Look at the lines before a transaction begins.

    Raises
    ------
    ArgumentFault
        When a line holds what the store cannot keep.
    RevisionRefused
        When the content of one is missing, or two have one key.
    """
    if len({line.key for line in lines}) < len(lines):
        raise RevisionRefused("Two of the lines have one key; nothing was restored.")
    found = []
    for line in lines:
        if line.has_content and line.number not in contents:
            raise RevisionRefused(f"The file of line {line.number} is missing; nothing was restored.")
        if line.at.tzinfo is None:
            raise ArgumentFault("at", line.at, "a moment with its zone")
        checked.text("by", line.by)
        content = contents[line.number] if line.has_content else None
        new = NewLine(
            line.key, line.kind, line.fields, line.about, line.reason, line.entry, line.specimen, content
        )
        found.append((checked.ready((new,))[0], line))
    return tuple(found)


def new_card(
    connection: Connection, number: int | None, kind: str, opened: datetime, lines: Sequence[Kept]
) -> int:
    """Make a card, and its lines from number 1 on; return its number."""
    if not lines or [line.number for _, line in lines] != list(range(1, len(lines) + 1)):
        raise RevisionRefused("The lines are not numbered from 1 without a gap; nothing was restored.")
    if number is None:
        number = 1 + (connection.scalar(select(func.max(t.card.c.number))) or 0)
    if not 0 < number <= LARGEST or connection.scalar(
        select(t.card.c.number).where(t.card.c.number == number)
    ):
        raise RevisionRefused(f"There is a card {number} already; nothing was restored.")
    connection.execute(insert(t.card).values(number=number, kind=kind, opened=opened))
    write(connection, number, 1, lines)
    return number


def write(connection: Connection, card: int, first: int, lines: Sequence[Kept]) -> None:
    """Write lines from number `first` on."""
    specimens = sorted({line.specimen for _, line in lines if line.specimen is not None})
    for specimen in specimens:
        kind = connection.scalar(select(t.card.c.kind).where(t.card.c.number == specimen))
        if kind != "specimen":
            raise NoSuchCard(f"Card {specimen} is not one of a specimen.")
    for number, (one, _) in enumerate(lines, first):
        about = one.line.about
        if about is not None and not 0 < about < number:
            raise RevisionRefused(
                f"Line {number} of card {card} would be about line {about}, which is not before it; nothing was restored."
            )
    number = first
    for (by, at), some in groupby(lines, key=lambda kept: (kept[1].by, kept[1].at)):
        together = [one for one, _ in some]
        logs.write_lines(connection, card, number, by, at, together)
        number += len(together)


def not_held(card: int, lines: Sequence[Kept], known: Mapping[str, tuple[int, int]]) -> tuple[Kept, ...]:
    """The lines that the log of `card` does not hold yet.

    Raises
    ------
    RevisionRefused
        When another card holds one of them.
    """
    strange = [key for key, (held_by, _) in known.items() if held_by != card]
    if strange:
        raise RevisionRefused(
            f"The line with the key {shorten(strange[0])} is kept in card {known[strange[0]][0]} already; nothing was restored."
        )
    return tuple(kept for kept in lines if kept[1].key not in known)
