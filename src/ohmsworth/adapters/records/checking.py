"""Looking through everything that is kept."""

from __future__ import annotations

import hashlib

from sqlalchemy import Connection, and_, func, or_, select
from sqlalchemy.exc import DatabaseError

from ohmsworth.adapters.records import tables as t


def everything_wrong(connection: Connection) -> tuple[str, ...]:
    """Each thing that is not as it has to be, in a sentence; empty when all is sound."""
    if connection.dialect.name != "sqlite":
        return tuple(said for look in (_gaps, _faces, _contents) for said in look(connection))
    found: list[str] = []
    for look in (_file, _gaps, _faces, _contents):
        try:
            found += look(connection)
        except DatabaseError as error:
            found.append(f"The file is damaged: {error.orig}")
    return tuple(dict.fromkeys(found))


def _file(connection: Connection) -> list[str]:
    found = [
        f"The file is damaged: {said}"
        for (said,) in connection.exec_driver_sql("PRAGMA integrity_check")
        if said != "ok"
    ]
    missing = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    return found + [f"A row of {row[0]} refers to a row of {row[2]} that is not there." for row in missing]


def _gaps(connection: Connection) -> list[str]:
    """Numbers of every log from 1 on, each once; a line is about an earlier one."""
    number = t.line.c.number
    logs = select(
        t.line.c.card,
        func.count().label("lines"),
        func.min(number).label("least"),
        func.max(number).label("last"),
    )
    log = logs.group_by(t.line.c.card).subquery("log")
    whole = and_(log.c.least == 1, log.c.last == log.c.lines)
    query = (
        select(t.card.c.number)
        .outerjoin(log, log.c.card == t.card.c.number)
        .where(or_(log.c.card.is_(None), ~whole))
        .order_by(t.card.c.number)
    )
    found = [f"The log of card {card} has a gap." for (card,) in connection.execute(query)]
    ahead = select(t.line.c.card, number).where(t.line.c.about >= number)
    return found + [
        f"Line {line} of card {card} is about a later one." for card, line in connection.execute(ahead)
    ]


def _faces(connection: Connection) -> list[str]:
    last = (
        select(t.line.c.card, func.max(t.line.c.number).label("number"))
        .group_by(t.line.c.card)
        .subquery("last")
    )
    here = and_(t.line.c.card == last.c.card, t.line.c.number == last.c.number)
    query = (
        select(
            t.card.c.number,
            t.card.c.kind,
            t.line.c.number,
            t.line.c.at,
            t.face.c.kind,
            t.face.c.lines,
            t.face.c.touched,
        )
        .select_from(t.card)
        .join(last, last.c.card == t.card.c.number)
        .join(t.line, here)
        .outerjoin(t.face, t.face.c.card == t.card.c.number)
        .order_by(t.card.c.number)
    )
    return [
        f"The list does not show card {card} as it is."
        for card, kind, lines, at, *shown in connection.execute(query)
        if shown != [kind, lines, at]
    ]


def _contents(connection: Connection) -> list[str]:
    """One after the other: files may be large."""
    places = connection.execute(select(t.content.c.card, t.content.c.number, t.content.c.sha256)).all()
    found = []
    for card, number, digest in places:
        here = and_(t.content.c.card == card, t.content.c.number == number)
        kept = connection.scalar(select(t.content.c.bytes).where(here))
        if kept is None or hashlib.sha256(kept).hexdigest() != digest:
            found.append(f"The file in line {number} of card {card} is damaged.")
    return found
