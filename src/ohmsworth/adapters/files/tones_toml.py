"""tones.toml to the wishes that a plan of tones is made from and what is known beside them, or everything that is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, cast

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.known_toml import needed, read_known, read_resistor, read_share
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.errors import Fault
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.known import Known
from ohmsworth.resistance.impedance.predicted import noise_density
from ohmsworth.resistance.impedance.tone_plan import Way
from ohmsworth.resistance.impedance.tones import MOST_TONES, RATES
from ohmsworth.resistance.impedance.wishes import Wishes
from ohmsworth.units import show_stated
from ohmsworth.work.tone_files import WISHES

_LIKE_A_NEW_ONE = "Without one, 'ohmsworth tones FOLDER' writes one to start from."
_WAYS = ("together", "in turn")
#: What is believed of each, in SI: beyond lies a slip of the unit.
_CONTACT, _RESISTOR = (1e-6, 1e3), (1e-3, 1e6)
_CURRENT, _OUTPUT, _SECONDS = (1e-6, 5.0), (1e-3, 100.0), (1.0, 1800.0)
_HIGHEST = 90e3


def read_tones(path: Path) -> tuple[tuple[Wishes, Known] | None, list[Fault]]:
    """Read the file: wishes and what is known beside them (None when anything is at fault), and all faults."""
    table, faults = read_toml(path, _LIKE_A_NEW_ONE)
    return (None, faults) if table is None else tones_of(table, faults)


def tones_of(
    table: Mapping[str, Any], faults: list[Fault]
) -> tuple[tuple[Wishes, Known] | None, list[Fault]]:
    """The same of a parsed table, and `faults` with those that were found."""
    asked = Asked(table, WISHES, faults)
    known, wishes = read_known(asked), _wishes(asked)
    return (None if faults or wishes is None else (wishes, known)), faults


def _wishes(asked: Asked) -> Wishes | None:
    contact = needed(asked, "contact", "resistance", _CONTACT, "10 mΩ")
    current, rms = _current(asked)
    uncertainty = asked.quantity("uncertainty", "resistance", 1e-9, 1e3)
    turned = asked.truth("turned", False)
    tones = read_tone_wishes(table_in(asked, "tones", False))
    output, channels = _output(table_in(asked, "output", True))
    noise, inputs = _inputs(table_in(asked, "inputs", False))
    series, bridge, shunt = _circuit(table_in(asked, "circuit", True))
    asked.done()
    if None in (contact, current, output, series, shunt):
        return None
    assert contact is not None and current is not None
    assert output is not None and series is not None and shunt is not None
    return Wishes(
        circuit=Circuit(shunt, series, output, bridge, **inputs),
        contact=contact,
        current=current,
        rms=rms,
        turned=turned,
        channels=channels,
        uncertainty=uncertainty,
        **tones,
        **noise,
    )


def table_in(asked: Asked, key: str, needed: bool, mend: str = _LIKE_A_NEW_ONE) -> Asked:
    """The table `key`; an empty one where it is left out, with a fault where it is needed."""
    if key in asked.table:
        return asked.inside(key) or Asked({}, asked.where, [])
    asked.allow(key)
    if needed:
        asked.fault(key, "no such table", f"a table headed [{key}]", mend)
    return Asked({}, asked.where, [])


def _current(asked: Asked) -> tuple[float | None, bool]:
    """The current, and whether it is meant as root mean square."""
    peak = asked.quantity("current", "current", *_CURRENT)
    rms = asked.quantity("current_rms", "current", *_CURRENT)
    given = [key for key in ("current", "current_rms") if key in asked.table]
    if len(given) != 1:
        found = "both current and current_rms" if given else "no such key"
        mend = "Leave one of them." if given else "Add one of them."
        asked.fault("current", found, 'current = "20 mA" (the peak), or current_rms = "6 mA"', mend)
    return (rms, True) if "current_rms" in asked.table else (peak, False)


def read_tone_wishes(table: Asked) -> dict[str, Any]:
    """What is said of the tones, by the names of the wishes; what is left out is as by default."""
    found: dict[str, Any] = {
        "low": table.quantity("lowest", "frequency", 1.0, _HIGHEST),
        "high": table.quantity("highest", "frequency", 1.0, _HIGHEST),
        "tones": table.whole("number", 1, MOST_TONES),
        "seconds": table.quantity("time", "time", *_SECONDS),
        "period": table.quantity("period", "time", 0.05, 20.0),
        "rate": _rate(table),
        "level": table.quantity("level_check", "time", 0.5, 120.0),
    }
    way = cast(Way, table.choice("way", _WAYS, _WAYS[0]))
    table.done()
    return {"way": way, **{name: value for name, value in found.items() if value is not None}}


def _rate(table: Asked) -> int | None:
    rate = table.quantity("rate", "frequency")
    if rate is not None and rate not in RATES:
        expected = "one of " + ", ".join(show_stated(one, "Hz") for one in RATES)
        table.fault("rate", found_value(table.table["rate"]), expected, "Choose one that your interface has.")
        return None
    return None if rate is None else int(rate)


def _output(table: Asked) -> tuple[float | None, int]:
    full_scale = needed(table, "full_scale", "voltage", _OUTPUT, "1.4 V")
    channels = table.whole("channels", 1, 2) or 2
    table.done()
    return full_scale, channels


def _inputs(table: Asked) -> tuple[dict[str, Any], dict[str, Any]]:
    """The noise density among the wishes, and full scale and crosstalk of the circuit; what is left out is as by default."""
    scale = table.quantity("full_scale", "voltage", 1e-6, 100.0)
    noise = table.quantity("noise", "voltage", 1e-9, 1.0)
    density = table.quantity("noise_density", "noise density", 1e-12, 1e-3)
    if noise is not None and density is not None:
        table.fault("noise", "both noise and noise_density", "one of them", "Leave one of them.")
    if noise is not None:
        density = noise_density(noise)
    crosstalk = read_share(table, "crosstalk")
    for key in ("channels", "distortion"):  # read with what is known beside the wishes
        table.allow(key)
    table.done()
    circuit = {"inputs": None if scale is None else (scale, scale), "crosstalk": crosstalk}
    return (
        {} if density is None else {"noise": density},
        {name: value for name, value in circuit.items() if value is not None},
    )


def _circuit(table: Asked) -> tuple[float | None, float | None, Shunt | None]:
    series = needed(table, "series", "resistance", _RESISTOR, "47 Ω")
    bridge = table.quantity("bridge", "resistance", *_RESISTOR)
    shunt = read_resistor(table_in(table, "shunt", True))
    table.done()
    return series, bridge, shunt
