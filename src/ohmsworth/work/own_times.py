"""How a study writes its times, so that what is read on at the bench joins what came with a file."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from ohmsworth.readings.entry import Entry
from ohmsworth.readings.names import column_name
from ohmsworth.units import tidy

#: The column that holds them.
TIME = "time"


def time_of_file(entry: Entry) -> str:
    """The time as it stands in the file that the reading came with; "" for one read at the bench, or without any.

    A time that states its zone is the entry's own.
    """
    return next((text for heading, text in entry.others.items() if column_name(heading) == TIME), "")


def without_zone(entries: Sequence[Entry]) -> bool:
    """Whether some came with a time of day that states no zone."""
    return any(_no_zone(tidy(text)) for one in entries if (text := time_of_file(one)))


def _no_zone(text: str) -> bool:
    try:
        return ":" in text and datetime.fromisoformat(text).tzinfo is None
    except ValueError:  # a time of day alone
        return ":" in text


def in_own_way(moment: datetime, earlier: Sequence[Entry]) -> datetime:
    """`moment` in the zone in which the study's earlier readings are written.

    Times that state no zone are taken for the shop's own, that of this machine; else the last time says it.
    """
    if without_zone(earlier):
        return moment.astimezone()
    last = next((one.time for one in reversed(earlier) if one.time is not None), None)
    return moment if last is None or last.tzinfo is None else moment.astimezone(last.tzinfo)


def zone_assumed(now: datetime) -> str:
    """What is said where times state no zone; `now` says how far the shop's own is from UTC.

    Examples
    --------
    >>> from datetime import timezone, timedelta
    >>> print(zone_assumed(datetime(2026, 3, 2, 10, tzinfo=timezone(timedelta(hours=1))))[37:])
    They are taken for the shop's own time (now UTC+01:00), and new readings are written in it.
    """
    offset = now.isoformat()[-6:]
    zone = "UTC" if offset == "+00:00" else f"UTC{offset}"
    return (
        f"The times in its file state no zone. They are taken for the shop's own time (now {zone}), "
        "and new readings are written in it."
    )
