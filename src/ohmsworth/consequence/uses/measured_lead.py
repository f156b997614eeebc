"""A lead that an analyser measured, with contacts at both ends: what they add to it, between any source and load."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import (
    Block,
    Circuit,
    Contact,
    Resistor,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array, Complex
from ohmsworth.consequence.ports import Path, Port
from ohmsworth.consequence.rule import Curve, Kind, Position, Rule, level_change, rule_at
from ohmsworth.consequence.scattering import at_frequency
from ohmsworth.consequence.twoport import TwoPort
from ohmsworth.consequence.use import Setting, Use, number, text
from ohmsworth.consequence.uses.reflection import return_loss
from ohmsworth.errors import ArgumentFault

#: Hertz between which a lead without a file, an ideal one, is drawn.
_LOW, _HIGH = 20.0, 100e6
#: Straight lines from one measured frequency to the next are taken as they are: the file says no more.
_ANY_STEP = 10.0
EVERY = Position("every contact at both ends, of either conductor", ("near", "far"))

# fmt: off
MEASURED_SETTINGS = (
    Setting("touchstone", "S", "text", "", "the file of the measured lead (.s2p); an ideal lead without one", "practice"),
    Setting("source_impedance", "Zs", "resistance", 50.0, "impedance of the source", "practice", 0.01, 1e6),
    Setting("load_impedance", "Zl", "resistance", 50.0, "impedance of the load", "practice", 0.01, 1e9),
    Setting("contacts_near", "n1", "number", 2.0, "contacts at the source end, both conductors", "practice", 0.0, 100.0),
    Setting("contacts_far", "n2", "number", 2.0, "contacts at the load end, both conductors", "practice", 0.0, 100.0),
    Setting("at", "f", "frequency", 1e6, "where level and reflection are told: the nearest that was measured", "practice",
            1e-3, 1e11),
    Setting("limit_level", "Δlevel", "level difference", 0.1, "loss of level that matters", "practice", 1e-6, 100.0),
    Setting("limit_return_loss", "RL", "level difference", 15.0, "return loss that is still enough", "practice", 0.1, 100.0),
)
# fmt: on


def check_measured(use: Use) -> None:
    """Refuse a file that is named and was not read, and a lead without a contact."""
    if text(use, "touchstone") and use.lead is None:
        wanted = "a file that is read with the use: name it in study.toml or with --set"
        raise ArgumentFault("touchstone", use.settings["touchstone"], wanted)
    if number(use, "contacts_near") + number(use, "contacts_far") < 1:
        raise ArgumentFault(
            "contacts_far", use.settings["contacts_far"], "at least one contact at either end"
        )


def measured_circuit(use: Use) -> Circuit:
    """Source, contacts, lead, contacts, load; a two-port knows no difference between its conductors."""
    near, far = number(use, "contacts_near"), number(use, "contacts_far")
    return Circuit(
        (
            VoltageSource("signal", "drive"),
            Resistor("drive", "output", number(use, "source_impedance")),
            Contact("near", "output", "lead", count=near),
            Block(("lead", "0"), ("end", "0"), lambda frequency: _chain(use, frequency)),
            Contact("far", "end", "input", count=far),
            Resistor("input", "0", number(use, "load_impedance")),
        )
    )


def _chain(use: Use, frequency: Array) -> Complex:
    if use.lead is None:
        return np.broadcast_to(np.eye(2, dtype=np.complex128), (len(frequency), 2, 2))
    known = TwoPort(use.lead.frequency, use.lead.chain)
    order = np.argsort(frequency)
    found = np.empty((len(frequency), 2, 2), dtype=np.complex128)
    found[order] = at_frequency(known, frequency[order], tolerance=_ANY_STEP).chain
    return found


def measured_curves(use: Use) -> tuple[Curve, ...]:
    """Change of level, and return loss."""
    circuit = measured_circuit(use)
    return (_level(use, circuit), _return_loss(use, circuit))


def measured_rules(use: Use) -> tuple[Rule, ...]:
    """Level and return loss at one frequency."""
    level, reflected = measured_curves(use)
    at = _measured_at(use)
    limit, least = number(use, "limit_level"), number(use, "limit_return_loss")
    return (
        rule_at(
            level,
            at,
            EVERY,
            key="level",
            words=f"change of level at {_told(at)}",
            threshold=-limit,
            passing=f"level at {_told(at)} falls by {limit:g} dB",
            reason="a tenth of a decibel shows in a careful check of level",
        ),
        rule_at(
            reflected,
            at,
            EVERY,
            key="return_loss",
            words=f"return loss at {_told(at)}",
            threshold=least,
            passing=f"return loss at {_told(at)} falls to {least:g} dB",
            reason="15 dB is a usual floor for video and network leads: a thirtieth of the power comes back",
        ),
    )


def _level(use: Use, circuit: Circuit) -> Curve:
    low, high = _ends(use)
    return Curve(
        key="level_change",
        words="change of level",
        unit="dB",
        low=low,
        high=high,
        position=EVERY,
        circuit=circuit,
        solve=lambda frequency: transfers(circuit, frequency, {"signal": 1.0}, [Volts("input")])[0],
        show=level_change,
        worse="lower",
    )


def _return_loss(use: Use, circuit: Circuit) -> Curve:
    low, high = _ends(use)
    return Curve(
        key="return_loss",
        words="return loss at the source",
        unit="dB",
        low=low,
        high=high,
        position=EVERY,
        circuit=circuit,
        solve=lambda frequency: transfers(circuit, frequency, {"signal": 1.0}, [Volts("output")])[0],
        show=lambda y, _ideal: return_loss(y),
        worse="lower",
    )


def _ends(use: Use) -> tuple[float, float]:
    """Hertz between which the lead is known, zero left out."""
    if use.lead is None:
        return _LOW, _HIGH
    known = use.lead.frequency[use.lead.frequency > 0]
    return float(known[0]), float(known[-1])


def _measured_at(use: Use) -> float:
    """The measured frequency nearest to the one asked for."""
    asked = number(use, "at")
    if use.lead is None:
        return asked
    known = use.lead.frequency[use.lead.frequency > 0]
    return float(known[np.abs(np.log(known / asked)).argmin()])


def _told(hertz: float) -> str:
    for size, unit in ((1e9, "GHz"), (1e6, "MHz"), (1e3, "kHz")):
        if hertz >= size:
            return f"{hertz / size:.4g} {unit}"
    return f"{hertz:.4g} Hz"


MEASURED_LEAD = Kind(
    "measured lead",
    MEASURED_SETTINGS,
    check_measured,
    measured_rules,
    measured_curves,
    highest=1e11,
    path=Path(Port("output", "0"), Port("input", "0"), 50.0, {"signal": 1.0}),
)
