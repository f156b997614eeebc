"""The days of the season, counted back from its last one; nobody works on a weekend."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from ohmsworth.adapters.simulated.folder import OPENING

_SATURDAY = 5


def workday(last: date, back: int) -> date:
    """The day so many days before the `last`, or the Friday before it; later than the last where `back` is negative."""
    day = last - timedelta(days=back)
    return day - timedelta(days=max(0, day.weekday() - _SATURDAY + 1))


def moment(last: date, back: int, hour: int = 9, minute: int = 30) -> datetime:
    """A moment of that day."""
    return datetime.combine(workday(last, back), time(hour, minute), UTC)


def hall_day(last: date) -> date:
    """On which the concert hall came: its study has days of its own, which may be before the season."""
    return max(OPENING.date(), workday(last, 344))
