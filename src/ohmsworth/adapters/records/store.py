"""The records on SQLite or PostgreSQL."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Select, bindparam, func, insert, select, text, update

from ohmsworth.adapters.records import checked, finding, logs, restoring, rows
from ohmsworth.adapters.records import tables as t
from ohmsworth.adapters.records.checked import LARGEST, Ready
from ohmsworth.adapters.records.database import Database
from ohmsworth.errors import shorten
from ohmsworth.work.records import (
    Card,
    CardFigures,
    CardKind,
    Face,
    Found,
    Line,
    MakeFace,
    NewLine,
    NoSuchCard,
    RecordsFault,
    RevisionRefused,
    SettingLine,
)

#: Any number: cards are numbered one after the other by whoever holds this lock of PostgreSQL.
_NUMBERING = 724_502
_TOUCHED = (
    update(t.face)
    .where(t.face.c.card == bindparam("of_card"))
    .values(touched=bindparam("touched"), lines=bindparam("lines"))
)


class SqlRecords:
    """The store behind `ohmsworth.work.records.Records`; see the README beside this file for what it promises.

    Parameters
    ----------
    database
        Opened, with the layout of this program.
    clock
        Tells the time; lines are ordered by their numbers, so a clock that steps back does no harm.
    """

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock

    def open_card(self, kind: CardKind, by: str, lines: Sequence[NewLine], face: MakeFace) -> int:
        """See `Records.open_card`."""
        checked.kind(kind)
        checked.text("by", by)
        new = checked.first_lines(lines)

        def work(connection: Connection) -> int:
            self._lock(connection, _NUMBERING)
            _, known = logs.last_and_known(connection, 0, new)
            if known:
                return _card_with(connection, kind, new, known)
            number = 1 + (connection.scalar(select(func.max(t.card.c.number))) or 0)
            at = self._clock()
            connection.execute(insert(t.card).values(number=number, kind=kind, opened=at))
            logs.lengthen(connection, number, 1, by, at, new)
            values = _face_values(face(logs.log(connection, number)))
            row = {"card": number, "kind": kind, "touched": at, "lines": len(new), **values}
            connection.execute(insert(t.face).values(row))
            return number

        return self._database.write(work)

    def add(
        self, card: int, by: str, lines: Sequence[NewLine], face: MakeFace | None = None
    ) -> tuple[Line, ...]:
        """See `Records.add`."""
        checked.text("by", by)
        offered = checked.ready(lines)

        def work(connection: Connection) -> tuple[Line, ...]:
            logs.see_card(connection, card, hold=True)
            last, known = logs.last_and_known(connection, card, offered)
            strange = [key for key, (held_by, _) in known.items() if held_by != card]
            if strange:
                raise RevisionRefused(
                    f"The key {shorten(strange[0])} belongs to card {known[strange[0]][0]}, not to card {card}; "
                    f"nothing was added. Choose a new key for a new line."
                )
            kept = logs.with_keys(connection, card, offered) if known else {}
            new = tuple(one for one in checked.once(offered) if one.line.key not in known)
            if new:
                at = self._clock()
                added = logs.lengthen(connection, card, last + 1, by, at, new)
                kept |= {line.key: line for line in added}
                connection.execute(_TOUCHED, {"of_card": card, "touched": at, "lines": last + len(new)})
            if face is not None and new:
                values = _face_values(face(logs.log(connection, card)))
                connection.execute(update(t.face).where(t.face.c.card == card).values(values))
            return tuple(kept[one.line.key] for one in offered)

        return self._database.write(work)

    def renew_face(self, card: int, face: MakeFace) -> bool:
        """See `Records.renew_face`."""
        log = self.lines(card)
        values = _face_values(face(log))
        still = (t.face.c.card == card) & (t.face.c.lines == len(log))

        def work(connection: Connection) -> bool:
            return connection.execute(update(t.face).where(still).values(values)).rowcount == 1

        return self._database.write(work)

    def restore_card(
        self,
        kind: CardKind,
        opened: datetime,
        lines: Sequence[Line],
        contents: Mapping[int, bytes],
        face: MakeFace,
        number: int | None = None,
    ) -> int:
        """See `Records.restore_card`."""
        checked.kind(kind)
        kept = restoring.ready(lines, contents)

        def work(connection: Connection) -> int:
            self._lock(connection, _NUMBERING)
            restoring.not_held(0, kept, logs.last_and_known(connection, 0, [one for one, _ in kept])[1])
            card = restoring.new_card(connection, number, kind, opened, kept)
            values = _face_values(face(logs.log(connection, card)))
            row = {"card": card, "kind": kind, "touched": lines[-1].at, "lines": len(kept), **values}
            connection.execute(insert(t.face).values(row))
            return card

        return self._database.write(work)

    def restore_lines(
        self, card: int, lines: Sequence[Line], contents: Mapping[int, bytes], face: MakeFace
    ) -> tuple[Line, ...]:
        """See `Records.restore_lines`."""
        kept = restoring.ready(lines, contents)

        def work(connection: Connection) -> tuple[Line, ...]:
            logs.see_card(connection, card, hold=True)
            offered = [one for one, _ in kept]
            last, known = logs.last_and_known(connection, card, offered)
            new = restoring.not_held(card, kept, known)
            if new:
                restoring.write(connection, card, last + 1, new)
                log = logs.log(connection, card)
                touched = {"touched": log[-1].at, "lines": len(log)}
                values = _face_values(face(log)) | touched
                connection.execute(update(t.face).where(t.face.c.card == card).values(values))
            held = logs.with_keys(connection, card, offered)
            return tuple(held[one.line.key] for one in offered)

        return self._database.write(work)

    def card_of(self, key: str) -> int | None:
        """See `Records.card_of`."""
        query = select(t.line.c.card).where(t.line.c.key == key)
        found: int | None = self._database.read(lambda connection: connection.scalar(query))
        return found

    def lines(self, card: int, after: int = 0) -> tuple[Line, ...]:
        """See `Records.lines`."""

        def work(connection: Connection) -> tuple[Line, ...]:
            # Pages ask again and again, and mostly there is nothing new: the rows, which are wide, are read where there is.
            last = logs.last_line(connection, card)
            if not last:
                raise logs.no_card(card)
            return logs.log(connection, card, max(after, 0)) if last > after else ()

        return self._database.read(work)

    def card(self, number: int) -> Card:
        """See `Records.card`."""
        query = rows.cards_query().where(t.face.c.card == logs.in_range(number))
        row = self._database.read(lambda connection: connection.execute(query).mappings().first())
        if row is None:
            raise logs.no_card(number)
        return rows.card_of(row)

    def cards(
        self,
        kind: CardKind | None = None,
        *,
        search: str = "",
        state: str | None = None,
        due_by: date | None = None,
        first: int = 0,
        most: int = 100,
    ) -> tuple[Card, ...]:
        """See `Records.cards`."""
        where = finding.chosen(kind, search, state)
        query = finding.page(where, due_by, *_bounds(first, most))
        found = self._database.read(lambda connection: connection.execute(query).mappings().all())
        return tuple(rows.card_of(row) for row in found)

    def count(self, kind: CardKind | None = None, *, search: str = "", state: str | None = None) -> int:
        """See `Records.count`."""
        query = finding.how_many(finding.chosen(kind, search, state))
        return self._database.read(lambda connection: connection.scalar(query) or 0)

    def figures_of(self, kind: CardKind, *, search: str = "") -> tuple[CardFigures, ...]:
        """See `Records.figures_of`."""
        query = finding.figures(finding.chosen(kind, search, None))
        found = self._database.read(lambda connection: connection.execute(query).all())
        return tuple(
            CardFigures(row.card, row.title, row.state, row.figures or {}, row.lines) for row in found
        )

    def content(self, card: int, number: int) -> bytes:
        """See `Records.content`."""
        here = (t.content.c.card == logs.in_range(card)) & (t.content.c.number == logs.in_range(number))
        query = select(t.content.c.bytes, t.content.c.sha256).where(here)
        row = self._database.read(lambda connection: connection.execute(query).first())
        if row is None:
            raise NoSuchCard(f"Line {number} of card {card} has no file.")
        if hashlib.sha256(row.bytes).hexdigest() != row.sha256:
            raise RecordsFault(
                f"The file in line {number} of card {card} is damaged: its bytes are not those that were kept. "
                f"Look for it in the newest backup."
            )
        return bytes(row.bytes)

    def readings_of(self, specimen: int, first: int = 0, most: int = 1000) -> tuple[Found, ...]:
        """See `Records.readings_of`."""
        which = finding.of_specimen(logs.in_range(specimen))
        return self._readings(finding.readings_page(which, *_bounds(first, most)))

    def readings_under(self, condition: str, first: int = 0, most: int = 1000) -> tuple[Found, ...]:
        """See `Records.readings_under`."""
        checked.text("condition", condition)
        which = finding.under_condition(condition)
        return self._readings(finding.readings_page(which, *_bounds(first, most), finding.UNCOUNTED))

    def _readings(self, page: Select[Any]) -> tuple[Found, ...]:
        def work(connection: Connection) -> tuple[Found, ...]:
            found = connection.execute(page).all()
            by_place: dict[tuple[int, int], Line] = {}
            for which in ("taken", "last"):
                for row in connection.execute(finding.lines_of_page(page, which)).mappings():
                    by_place[row["card"], row["number"]] = rows.line_of(row)
            return tuple(
                Found(
                    row.card,
                    row.title,
                    _corrected(by_place[row.card, row.taken], by_place[row.card, row.last]),
                )
                for row in found
            )

        return self._database.snapshot(work)

    def count_readings(self) -> int:
        """See `Records.count_readings`."""
        query = select(func.count()).where(t.reading.c.taken_in == t.reading.c.number)
        return self._database.read(lambda connection: connection.scalar(query) or 0)

    def settings(self) -> Mapping[str, str]:
        """See `Records.settings`."""
        last = select(func.max(t.setting_line.c.number)).group_by(t.setting_line.c.name)
        query = (
            select(t.setting_line).where(t.setting_line.c.number.in_(last)).order_by(t.setting_line.c.name)
        )
        found = self._database.read(lambda connection: connection.execute(query).all())
        return {row.name: row.value for row in found}

    def write_setting(self, name: str, value: str, by: str) -> None:
        """See `Records.write_setting`."""
        for field, given in (("name", name), ("value", value), ("by", by)):
            checked.text(field, given)

        def work(connection: Connection) -> None:
            self._lock(connection, _NUMBERING)
            number = 1 + (connection.scalar(select(func.max(t.setting_line.c.number))) or 0)
            row = {"number": number, "name": name, "value": value, "by": by, "at": self._clock()}
            connection.execute(insert(t.setting_line).values(row))

        self._database.write(work)

    def setting_lines(self, most: int = 100) -> tuple[SettingLine, ...]:
        """See `Records.setting_lines`."""
        query = select(t.setting_line).order_by(t.setting_line.c.number.desc()).limit(_bounds(0, most)[1])
        found = self._database.read(lambda connection: connection.execute(query).all())
        return tuple(SettingLine(row.name, row.value, row.by, row.at) for row in found)

    def check(self) -> tuple[str, ...]:
        """See `Records.check`."""
        from ohmsworth.adapters.records.checking import everything_wrong

        return self._database.snapshot(everything_wrong)

    def back_up(self, path: Path) -> None:
        """See `Records.back_up`."""
        from ohmsworth.adapters.records.moving import back_up

        back_up(self._database, path)

    def close(self) -> None:
        """See `Records.close`."""
        self._database.close()

    def _lock(self, connection: Connection, which: int) -> None:
        """On SQLite the transaction holds the one lock there is already."""
        if not self._database.on_sqlite:
            connection.execute(text("SELECT pg_advisory_xact_lock(:which)"), {"which": which})


def _bounds(first: int, most: int) -> tuple[int, int]:
    return min(max(first, 0), LARGEST), min(max(most, 0), LARGEST)


def _card_with(
    connection: Connection, kind: str, new: Sequence[Ready], known: Mapping[str, tuple[int, int]]
) -> int:
    """The card that was opened with these very lines before."""
    cards = sorted({card for card, _ in known.values()})
    missing = [one.line.key for one in new if one.line.key not in known]
    if missing or len(cards) > 1 or logs.see_card(connection, cards[0]) != kind:
        raise RevisionRefused(
            f"Some of the keys belong to card {cards[0]} already, but not all of these lines are its own; nothing was "
            f"opened. Choose new keys for a new card."
        )
    return cards[0]


def _face_values(face: Face) -> dict[str, Any]:
    checked.face(face)
    words = {"title": face.title, "state": face.state, "text": face.text}
    search = finding.folded(f"{face.title}\n{face.text}")
    due = {"due": face.due, "due_for": face.due_for}
    return words | {"search": search, **due, "figures": dict(face.figures) or None}


def _corrected(taken: Line, last: Line) -> Line:
    return replace(taken, entry=last.entry, specimen=last.specimen)
