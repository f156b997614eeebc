"""The column of times in readings.csv."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from typing import Literal

import numpy as np

from ohmsworth.adapters.files.cells import told_by_row
from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.readings.table import Array, Codes, Labels
from ohmsworth.units import parse_number, tidy

Kind = Literal["a time of day", "a date with a time", "plain seconds"]

_CLOCK = re.compile(
    r"(?P<h>[0-9]{1,2}):(?P<m>[0-9]{2})(?::(?P<s>[0-9]{2})(?:[.,](?P<f>[0-9]{1,6}))?)?\s*(?P<half>[AaPp][Mm])?"
)
_DOTTED = re.compile(r"(?P<d>[0-9]{1,2})\.(?P<m>[0-9]{1,2})\.(?P<y>[0-9]{4})(?P<rest>(?: [0-9:]+)?)")
_EXPECTED = "a time such as 10:15, 10:15:30 or 2026-03-01 10:15"
_EPOCH = datetime(2000, 1, 1)  # noqa: DTZ001 - only differences count, of times that state no zone either


def read_times(column: Labels, lines: Codes, file: str) -> tuple[Array, list[Fault]]:
    """Seconds from the earliest; a clock time, a date with time (ISO 8601) or plain seconds. NaN where empty."""
    values = np.full(len(column.names), np.nan)
    bad: dict[int, tuple[str, str, str]] = {}
    usual: Kind | None = None
    for i, text in enumerate(column.names):  # in the order in which they come first
        clean = tidy(text)
        if not clean:
            continue
        found = seconds(clean)
        if found is None:
            bad[i] = (shorten(text), _EXPECTED, "Write it so; a date alone goes into a column 'date'.")
            continue
        values[i], kind = found
        usual = usual or kind
        if kind != usual:
            bad[i] = (f"{kind} ({shorten(text)})", f"{usual}, as above", "Write all times in one way.")
    finite = values[np.isfinite(values)]
    values -= finite.min() if len(finite) else 0.0
    where = f"{file}, line {{}}, column 'time'"
    faults = [Fault(where.format(line), *told) for told, line in told_by_row(column, bad, lines)]
    return values[column.codes], faults


def seconds(text: str) -> tuple[float, Kind] | None:
    """Seconds since some fixed moment, and the way of writing; None when `text` is no time."""
    clock = _CLOCK.fullmatch(text)
    if clock:
        return _of_day(clock)
    if ":" in text:
        return _of_date(text)
    try:
        return parse_number(text, "either"), "plain seconds"
    except QuantityFault:
        return None


def _of_day(clock: re.Match[str]) -> tuple[float, Kind] | None:
    hours, minutes, whole = int(clock["h"]), int(clock["m"]), int(clock["s"] or 0)
    if clock["half"]:
        if not 1 <= hours <= 12:
            return None
        hours = hours % 12 + (12 if clock["half"].lower() == "pm" else 0)
    if hours > 23 or minutes > 59 or whole > 59:
        return None
    return hours * 3600 + minutes * 60 + whole + float(f"0.{clock['f'] or 0}"), "a time of day"


def _of_date(text: str) -> tuple[float, Kind] | None:
    try:
        moment = datetime.fromisoformat(text)
        epoch = _EPOCH.replace(tzinfo=UTC) if moment.tzinfo else _EPOCH
        return (moment - epoch).total_seconds(), "a date with a time"
    except (ValueError, OverflowError):
        return None


def read_date(text: str) -> tuple[float, str] | None:
    """Seconds from one fixed moment, and the one way of writing it; None when `text` is no date."""
    dotted = _DOTTED.fullmatch(text)
    if dotted:  # with dots the day stands first, everywhere; with slashes it may not
        text = f"{dotted['y']}-{int(dotted['m']):02d}-{int(dotted['d']):02d}{dotted['rest']}"
    try:
        if len(text) <= 10:
            day = date.fromisoformat(text)
            return float(day.toordinal() * 86400), day.isoformat()
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    if moment.tzinfo is not None:
        moment = moment.astimezone(UTC).replace(tzinfo=None)
    midnight = datetime(moment.year, moment.month, moment.day)  # noqa: DTZ001 - only differences count
    return moment.toordinal() * 86400 + (moment - midnight).total_seconds(), moment.isoformat(" ", "minutes")
