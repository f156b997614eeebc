"""When readings of the records were taken, as a column of readings.csv in which all times are written in one way."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.adapters.files.times import seconds
from ohmsworth.readings.entry import Entry
from ohmsworth.units import tidy
from ohmsworth.work.own_times import TIME, time_of_file

#: Heading under which a time stands that would not fit those of the column 'time'.
BESIDE = "note time"


def time_columns(entries: Sequence[Entry]) -> dict[str, list[str]]:
    """The column 'time', and where some would not fit into it a remark that holds those.

    What came with a file stands as it was written there. A clock time without its date says nothing about another day,
    so that times of the records do not join such a column.
    """
    typed = [time_of_file(one) for one in entries]
    ways = {found for text in typed if (found := _way(text))}
    plain = "a date with a time, no zone" in ways or any(e.time and e.time.tzinfo is None for e in entries)
    fits = not ways or all(way.startswith("a date with a time") for way in ways)
    times, beside = list(typed), [""] * len(entries)
    for i, one in enumerate(entries):
        if one.time is None or typed[i]:
            continue
        moment = one.time.replace(tzinfo=None) if plain and fits else one.time
        (times if fits else beside)[i] = moment.isoformat(" ")
    return {TIME: times, BESIDE: beside}


def _way(text: str) -> str | None:
    """The way in which a time is written; None for none, and for what the reader of the file will refuse."""
    found = seconds(tidy(text)) if text else None
    if found is None:
        return None
    clean = tidy(text)
    zoned = clean.endswith("Z") or "+" in clean or "-" in clean[11:]
    return found[1] if zoned or found[1] != "a date with a time" else f"{found[1]}, no zone"
