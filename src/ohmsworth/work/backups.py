"""Copies of the records, day by day: when one is due, and which are kept.

A copy is whole and sound before an older one goes. The newest of every day is kept for the last fourteen days on which one was
made, beside them the last of every month for six months.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Protocol

from ohmsworth.work.records import Records, RecordsFault

DAILY, MONTHLY = 14, 6
#: A newest copy older than this is told.
OLD = timedelta(days=7)
#: A moment further ahead than this was written by a clock that was wrong.
_AHEAD = timedelta(days=1)
_NAME = re.compile(r"copy (\d{4}-\d\d-\d\d \d{6})Z\.sqlite")
_MOMENT = "%Y-%m-%d %H%M%S"


@dataclass(frozen=True, slots=True)
class Copy:
    """A copy in the folder: its name, the moment that this says (UTC), bytes."""

    name: str
    at: datetime
    size: int = 0

    @property
    def day(self) -> date:
        """In UTC, so that a journey makes no day twice."""
        return self.at.date()


class CopyFolder(Protocol):
    """A folder of copies. Every method raises RecordsFault when it cannot do its work."""

    @property
    def place(self) -> str:
        """Where it is, in words."""

    def copies(self) -> tuple[Copy, ...]:
        """Those that are there; files of other names are passed over."""

    def make(self, name: str, write: Callable[[Path], None]) -> Copy:
        """Have `write` write a copy, in a folder that is made where its own folder is there already."""

    def path(self, name: str) -> Path:
        """Where the copy of that name is."""

    def remove(self, name: str) -> None:
        """Remove one."""


#: The folder that the settings name; beside the records where they name none.
CopiesIn = Callable[[str], CopyFolder]


def copy_name(at: datetime) -> str:
    """The name of a copy made at a moment with its zone."""
    return f"copy {at.astimezone(UTC):{_MOMENT}}Z.sqlite"


def moment_of(name: str) -> datetime | None:
    """The moment that the name of a copy says; None for any other name."""
    found = _NAME.fullmatch(name)
    if found is None:
        return None
    try:
        return datetime.strptime(found[1], _MOMENT).replace(tzinfo=UTC)
    except ValueError:
        return None


def kept(copies: Sequence[Copy], daily: int = DAILY, monthly: int = MONTHLY) -> tuple[Copy, ...]:
    """The copies that stay, the newest first: all of the newest day, the last of each other day and of each month."""
    newest_first = sorted(copies, key=lambda copy: copy.at, reverse=True)
    last_of_day: dict[date, Copy] = {}
    last_of_month: dict[tuple[int, int], Copy] = {}
    for copy in newest_first:
        last_of_day.setdefault(copy.day, copy)
        last_of_month.setdefault((copy.day.year, copy.day.month), copy)
    stay = {copy.name for copy in [*last_of_day.values()][:daily]}
    stay |= {copy.name for copy in [*last_of_month.values()][:monthly]}
    stay |= {copy.name for copy in newest_first if copy.day == newest_first[0].day}
    return tuple(copy for copy in newest_first if copy.name in stay)


def make_copy(records: Records, folder: CopyFolder, now: datetime) -> Copy:
    """Make a copy, and then let those go that need not be kept.

    Raises
    ------
    RecordsFault
        When the copy cannot be made; older ones are untouched then.
    """
    made = folder.make(copy_name(now), records.back_up)
    with suppress(RecordsFault):  # a copy too many does no harm
        copies = folder.copies()
        stay = {copy.name for copy in kept(copies)} | {made.name}
        for copy in copies:
            if copy.name not in stay:
                folder.remove(copy.name)
    return made


def is_due(copies: Sequence[Copy], now: datetime) -> bool:
    """Whether no copy was made today."""
    return now.astimezone(UTC).date() not in {copy.day for copy in copies}


def newest(copies: Sequence[Copy], now: datetime) -> Copy | None:
    """The newest one; what a clock that was wrong has dated far ahead does not count."""
    believed = [copy for copy in copies if copy.at <= now + _AHEAD]
    return max(believed, key=lambda copy: copy.at, default=None)


def told_if_old(copies: Sequence[Copy], now: datetime, cards: int) -> str:
    """What is to be said where the newest copy is missing or old; "" where all is well or there is nothing to lose."""
    last = newest(copies, now)
    if not cards or (last is not None and now - last.at <= OLD):
        return ""
    if last is None:
        return "No copy of the records has been made yet."
    return f"The newest copy of the records is {(now - last.at).days} days old."
