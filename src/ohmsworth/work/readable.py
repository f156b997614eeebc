"""Which readings of a log can be reduced together: those in volts and amperes, and those in ohms."""

from __future__ import annotations

from ohmsworth.errors import QuantityFault
from ohmsworth.readings.entry import Entry


def in_volts(entry: Entry) -> bool:
    """Whether a reading has a voltage, and a current where one flowed."""
    return entry.resistance is None and entry.voltage is not None and _readable(entry)


def in_ohms(entry: Entry) -> bool:
    """Whether a reading is a resistance and nothing else."""
    return (
        entry.resistance is not None and entry.voltage is None and entry.current is None and _readable(entry)
    )


def _readable(entry: Entry) -> bool:
    if entry.resistance is None and entry.polarity != "0" and entry.current is None:
        return False
    try:
        values = [one.value for one in (entry.voltage, entry.current, entry.resistance) if one is not None]
    except QuantityFault:
        return False
    return entry.polarity == "0" or entry.current is None or values[1] != 0
