"""capacitance.toml to wishes, the divider and the wires that are measured, or everything that is wrong."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.known_toml import needed, read_channels, read_share, without_signs
from ohmsworth.adapters.files.tones_toml import read_tone_wishes, table_in
from ohmsworth.errors import Fault, shorten
from ohmsworth.resistance.admittance.divider import Divider
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.levels import FULLEST
from ohmsworth.resistance.impedance.wishes import Wishes
from ohmsworth.work.capacitance.loaded import STANDARDS, WISHES, MeasuredWire

NEW_ONE = "Without one, 'ohmsworth capacitance FOLDER' writes one to start from."
#: What is believed of each, in SI: beyond lies a slip of the unit.
_RESISTOR, _LEADS, _LEVEL = (100.0, 1e6), (0.0, 1e-9), (1e-3, FULLEST)
#: What is taken where the file says nothing: as in a new one.
_USUAL_LEVEL = 0.25
_USUAL_TONES: dict[str, Any] = {"low": 200.0, "high": 12e3, "tones": 9, "seconds": 10.0, "level": 4.0}
#: What a recording may be called: it is a file's name on every system.
_NAME = re.compile(r"[0-9A-Za-z][0-9A-Za-z _.-]{0,79}")
_PLAYED = "drive"

#: What a file says: the wishes, what stands before the wire, the wires, and the channels of the recordings.
Read = tuple[Wishes, Divider, tuple[MeasuredWire, ...], tuple[int, int] | None]


def capacitance_of(table: Mapping[str, Any], faults: list[Fault]) -> tuple[Read | None, list[Fault]]:
    """What a parsed table says (None when anything is at fault), and `faults` with those that were found."""
    asked = Asked(table, WISHES, faults)
    leads = asked.quantity("leads", "capacitance", *_LEADS, positive=False)
    resistor = Asked(*_bare(table_in(asked, "resistor", True, NEW_ONE)), faults)
    resistance = needed(resistor, "resistance", "resistance", _RESISTOR, "10 kΩ")
    tolerance = needed(resistor, "tolerance", "ratio", (1e-7, 0.5), "±1 %")
    resistor.done()
    inputs = table_in(asked, "inputs", False)
    crosstalk, channels = read_share(inputs, "crosstalk"), read_channels(inputs)
    inputs.allow("channels")
    inputs.done()
    tones = read_tone_wishes(table_in(asked, "tones", False))
    output = table_in(asked, "output", False)
    level = output.quantity("level", "ratio", *_LEVEL)
    played = output.whole("channels", 1, 2)
    output.done()
    measured = _measured(asked)
    asked.done()
    if faults or resistance is None or tolerance is None:
        return None, faults
    stated = {name: one for name, one in (("leads", leads), ("crosstalk", crosstalk)) if one is not None}
    divider = Divider(resistance, tolerance, **stated)
    # Nothing but a ratio is measured: volts are shares of full scale, and the wire may be a short.
    circuit = Circuit(Shunt(resistance, tolerance), series=resistance, output=1.0)
    current = circuit.current(_USUAL_LEVEL if level is None else level, 0.0)
    wishes = Wishes(circuit, 0.0, current, channels=played or 2, **{**_USUAL_TONES, **tones})
    return (wishes, divider, measured, channels), faults


def _bare(table: Asked) -> tuple[dict[str, Any], str]:
    """Half-widths without their sign, as people write them."""
    return without_signs(table.table), table.where


def _measured(asked: Asked) -> tuple[MeasuredWire, ...]:
    tables = asked.several("measured")
    if not tables and "measured" not in asked.table:
        mend = "Say in a table [[measured]] which wire is recorded from which end."
        asked.fault("measured", "no such table", "one table [[measured]] or more", mend)
    found: dict[str, MeasuredWire] = {}
    for table in tables:
        one = _wire(table)
        if one is None:
            continue
        if one.take in found:
            table.fault(
                "take", shorten(one.take), "a name that no other take has", "Name each recording once."
            )
        found[one.take] = one
    return tuple(found.values())


def _wire(table: Asked) -> MeasuredWire | None:
    texts = {}
    for key, example in (("take", "near"), ("wire", "core 2"), ("to", "the screen"), ("end", "A")):
        texts[key] = table.text(key)
        if key not in table.table:
            table.fault(key, "no such key", f'{key} = "{example}"', "Add it.")
    whole = table.truth("whole", False)
    table.done()
    take, wire, to, end = texts.values()
    if take is None or wire is None or to is None or end is None:
        return None
    stem = take.lower().removesuffix(".wav").removesuffix(".flac")
    if not _NAME.fullmatch(stem) or stem.endswith(("-1", "-2")):
        expected = "letters, digits, blanks, dots and lines, and no -1 or -2 at the end"
        table.fault("take", shorten(take), expected, "Choose another name for the recording.")
        return None
    if stem in (*STANDARDS, _PLAYED):
        mend = "This name belongs to another recording, or to what is played: choose another."
        table.fault("take", shorten(take), "a name of its own", mend)
        return None
    return MeasuredWire(stem, wire, to, end, whole)
