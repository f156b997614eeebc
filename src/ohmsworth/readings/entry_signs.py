"""Whether the signs that were typed agree with how the current is said to flow."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.entry import Entry
from ohmsworth.readings.signs import EMF_AT_MOST
from ohmsworth.readings.table import ReadingTable
from ohmsworth.units import show

#: How people type is seen in so many of their last reversed readings.
_LAST = 9


def not_reversed_doubt(earlier: Sequence[Entry], entry: Entry, line: int) -> list[Doubt]:
    """Doubt NOT_REVERSED: a reversed reading without a minus, where reversed readings were typed with one before."""
    if entry.polarity != "-" or entry.voltage is None or entry.voltage.value <= 0:
        return []
    before = [one.voltage.value < 0 for one in earlier if one.polarity == "-" and one.voltage is not None]
    if not before or 2 * sum(before[-_LAST:]) <= len(before[-_LAST:]):
        return []
    return [
        Doubt(
            "NOT_REVERSED",
            "the current is said to be reversed, but the voltage has no minus, as the reversed readings before had: was the "
            "current turned round?",
            (line,),
            "Turn the current round and read again; if the meter shows a minus, type it.",
        )
    ]


def off_doubt(table: ReadingTable) -> list[Doubt]:
    """Doubt OFF_VOLTAGE: more than a thermal EMF with the current off."""
    assert table.voltage is not None
    volts = float(table.voltage[-1])
    if abs(volts) <= EMF_AT_MOST:
        return []
    return [
        Doubt(
            "OFF_VOLTAGE",
            f"{show(volts, 'V')} with the current off is more than a thermal EMF.",
            (int(table.line[-1]),),
            "See whether the current is really off, and whether the voltmeter's zero is right.",
        )
    ]
