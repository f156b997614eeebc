"""Readings of the records as resistances, and when each was read."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import numpy as np

from ohmsworth.readings.entries import table_of_entries
from ohmsworth.readings.study import Bench
from ohmsworth.resistance import reduce_readings
from ohmsworth.work.taken_reading import TakenReading


def reduced(readings: Sequence[TakenReading]) -> list[tuple[TakenReading, float, int]]:
    """Resistances of readings of one kind (all in volts, or all in ohms), pairs and matings reduced as in any study.

    Each (ohm) stands with the first reading that it was formed from, and with how it was formed.
    """
    if not readings or all(one.entry.polarity == "0" for one in readings):
        return []
    table = table_of_entries([one.entry for one in readings])
    with np.errstate(all="ignore"):  # currents that cancel give no resistance
        found = reduce_readings(table, Bench(), np.arange(len(table)))
    formed = zip(found.value.tolist(), found.form.tolist(), found.rows[:, 0].tolist(), strict=True)
    return [(readings[row], value, form) for value, form, row in formed if np.isfinite(value)]


def read_at(reading: TakenReading) -> datetime:
    """When it was read: what a sheet says of it, without a zone, is nearer the truth than the day on which it was taken in."""
    at = reading.entry.time
    if at is None:
        try:
            at = datetime.fromisoformat(reading.entry.others.get("time", ""))
        except ValueError:
            return reading.at
    return at if at.tzinfo else at.replace(tzinfo=reading.at.tzinfo)
