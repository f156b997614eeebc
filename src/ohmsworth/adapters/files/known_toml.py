"""What tones.toml says beside the wishes: limit, direct current, load, calibration, channels; and resistors."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.readings.study import Limit
from ohmsworth.resistance.impedance.circuit import Shunt
from ohmsworth.resistance.impedance.known import Direct, Known

#: What is believed of a resistor, in ohm: beyond lies a slip of the unit.
_SHUNT = (1e-4, 1e3)
_OHM = (1e-9, 1e3)
#: More channels than a file of them has.
_CHANNELS = 64


def read_known(asked: Asked) -> Known:
    """The tables beside the wishes; faults are noted in `asked`."""
    limit, direct = _limit(asked.inside("limit")), _direct(asked.inside("direct"))
    load = asked.inside("load")
    known = Known(
        limit,
        direct,
        None if load is None else read_resistor(load),
        _calibrated(asked.inside("calibration")),
    )
    inputs = asked.table.get("inputs")
    if not isinstance(inputs, Mapping):  # a fault of its own where the wishes are read
        return known
    table = Asked(inputs, f"{asked.where}, [inputs]", asked.faults)
    share = read_share(table, "distortion")
    return replace(
        known, channels=read_channels(table), distortion=known.distortion if share is None else share
    )


def read_resistor(table: Asked) -> Shunt | None:
    """A known resistor: resistance, tolerance, and what it has of inductance."""
    bare = Asked(without_signs(table.table), table.where, table.faults)
    resistance = needed(bare, "resistance", "resistance", _SHUNT, "100 mΩ")
    tolerance = needed(bare, "tolerance", "ratio", (1e-7, 0.5), "±1 %")
    inductance = bare.quantity("inductance", "inductance", 0.0, 1e-3, positive=False)
    doubt = bare.quantity("inductance_tolerance", "inductance", 0.0, 1e-3, positive=False)
    bare.done()
    if resistance is None or tolerance is None:
        return None
    return Shunt(resistance, tolerance, inductance or 0.0, doubt or 0.0)


def needed(
    table: Asked, key: str, dimension: str, believed: tuple[float, float], example: str
) -> float | None:
    """A quantity that has to be there."""
    if key not in table.table:
        table.fault(key, "no such key", f'{key} = "{example}"', "Add it.")
    return table.quantity(key, dimension, *believed)


def _limit(table: Asked | None) -> Limit | None:
    if table is None:
        return None
    resistance = needed(table, "resistance", "resistance", _OHM, "3 mΩ")
    source = table.text("source")
    if "source" not in table.table:
        table.fault("source", "no such key", 'source = "whose limit it is"', "Say who states the limit.")
    table.done()
    return None if resistance is None or source is None else Limit(resistance, source)


def _direct(table: Asked | None) -> Direct | None:
    if table is None:
        return None
    resistance = needed(table, "resistance", "resistance", _OHM, "9.1 mΩ")
    uncertainty = needed(table, "uncertainty", "resistance", _OHM, "20 µΩ")
    current = table.quantity("current", "current", 1e-6, 1e3)
    reversed_too = table.truth("reversed", False)
    table.done()
    if resistance is None or uncertainty is None:
        return None
    return Direct(resistance, uncertainty, current, reversed_too)


def _calibrated(table: Asked | None) -> str | None:
    """A day, as a date of TOML or as a text."""
    if table is None:
        return None
    day = table.day("date")
    table.done()
    if "date" not in table.table:
        table.fault("date", "no such key", "a day such as 2026-03-03", "Write year, month and day.")
    return None if day is None else day.isoformat()


def read_share(table: Asked, key: str) -> float | None:
    """A share, or decibels: "−100 dB" is 0.001 %."""
    value = table.table.get(key)
    if isinstance(value, str) and value.strip().endswith("dB"):
        level = table.quantity(key, "level difference", -200.0, -20.0, positive=False)
        return None if level is None else float(10 ** (level / 20))
    return table.quantity(key, "ratio", 0.0, 0.1, positive=False)


def read_channels(inputs: Asked) -> tuple[int, int] | None:
    """Numbers of the two channels that hold input 1 and input 2; None where nothing is said, or it is at fault."""
    if "channels" not in inputs.table:
        return None
    value = inputs.table["channels"]
    whole = isinstance(value, list) and all(
        isinstance(one, int) and not isinstance(one, bool) and 1 <= one <= _CHANNELS for one in value
    )
    if not whole or len(value) != 2 or value[0] == value[1]:
        expected = "two different numbers from 1, such as [3, 4]"
        inputs.fault("channels", found_value(value), expected, "Name the channels of input 1 and of input 2.")
        return None
    return value[0], value[1]


def without_signs(table: Mapping[str, Any]) -> dict[str, Any]:
    """Half-widths as people write them, "±1 %", without their sign."""
    return {
        key: value.strip().removeprefix("±").removeprefix("+/-").removeprefix("+-")
        if isinstance(value, str) and key.endswith("tolerance")
        else value
        for key, value in table.items()
    }
