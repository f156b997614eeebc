"""A mains feed: its load circuit through line and neutral, and its earth-fault loop through line and protective earth."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import (
    Amperes,
    Circuit,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.cables import core_resistance, two_core
from ohmsworth.consequence.uses.two_conductors import Run, check_run
from ohmsworth.errors import ArgumentFault

LOAD_RUN, FAULT_RUN = Run("line", "neutral"), Run("line", "earth")
_LOAD = ("load line", "load neutral")


def load_resistance(use: Use) -> float:
    """Ohm of a load that draws the full current with ideal contacts: U0/I less what the cable has."""
    loop = 2 * core_resistance(use) * number(use, "length")
    return number(use, "voltage") / number(use, "current") - loop


def load_circuit(use: Use) -> Circuit:
    """Line and neutral with a resistance as load."""
    return Circuit(
        (
            VoltageSource("mains", "feed line"),
            *LOAD_RUN.parts(use, two_core(use), ("feed line", "0", *_LOAD)),
            Resistor(*_LOAD, load_resistance(use)),
        )
    )


def load_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the load for 1 V of the mains."""
    return transfers(circuit, frequency, {"mains": 1.0}, [Volts(*_LOAD)])[0]


def fault_circuit(use: Use) -> Circuit:
    """Line joined to the metal case at the far end; "0" is the protective earth where the feed begins."""
    return Circuit(
        (
            VoltageSource("mains", "source"),
            Resistor("source", "feed line", number(use, "external_impedance")),
            *FAULT_RUN.parts(use, two_core(use), ("feed line", "0", "case", "case")),
        )
    )


def fault_transfers(circuit: Circuit, frequency: Array) -> tuple[Transfer, Transfer]:
    """For 1 V of the mains: the ampere of the fault, and the volts of the case against the earth where the feed begins."""
    current, touch = transfers(circuit, frequency, {"mains": 1.0}, [Amperes("mains"), Volts("case")])
    return current, touch


def check_mains(use: Use) -> None:
    """Refuse a feed without contacts, and a current that the cable alone does not let through."""
    check_run(use)
    if load_resistance(use) <= 0:
        most = number(use, "voltage") / (2 * core_resistance(use) * number(use, "length"))
        raise ArgumentFault(
            "current", use.settings["current"], f"less than {most:.3g} ampere, at which the cable takes all"
        )


def mains_frequency(use: Use) -> Array:
    """The one frequency at which the feed is solved, shape (1,)."""
    return np.array([number(use, "mains_frequency")])
