"""A use's circuit for other programs: as a netlist, and its cable as a two-port."""

from __future__ import annotations

import math

import numpy as np

from ohmsworth.consequence import TwoPort, Use
from ohmsworth.consequence.circuit import Circuit
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.ports import path_two_port
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.circuit_cards import cards_of
from ohmsworth.report.netlist import GROUND, Sweep, netlist
from ohmsworth.units import show_stated

#: Frequencies of a two-port file.
POINTS = 201


def netlist_of(use: Use, resistance: float) -> str:
    """The circuit of `use` with `resistance` (ohm) in every contact, as the text of a netlist.

    Raises
    ------
    ArgumentFault
        For a use that is no circuit over frequency, or one of parts that no plain card can hold.
    """
    kind, (circuit, low, high) = kind_of(use.kind), _drawn(use)
    signal = kind.path.signal if kind.path else kind.signal
    if signal is None:
        raise ArgumentFault("use", use.kind, "a use with a signal from end to end")
    ohm = dict.fromkeys(circuit.contacts(), resistance)
    cards = cards_of(circuit, ohm, signal.drive, math.sqrt(low * high), high)
    driven = ", ".join(f"{name} {value:g}" for name, value in signal.drive.items())
    ends = (signal.arrives.a, signal.arrives.b)
    return netlist(
        f"{use.name}: {_contacts(resistance)}",
        cards.cards,
        Sweep(low, high),
        [node for node in ends if node != GROUND],
        (f"driven: {driven}; what arrives lies between {' and '.join(ends)}", *cards.remarks),
    )


def two_port_of(use: Use, resistance: float) -> tuple[TwoPort, float, tuple[str, ...]]:
    """Cable and contacts of `use` with `resistance` (ohm) in each, its reference in ohm, and remarks for a file.

    Raises
    ------
    ArgumentFault
        For a use whose cable is no two-port by itself.
    """
    kind, (circuit, low, high) = kind_of(use.kind), _drawn(use)
    if kind.path is None:
        raise ArgumentFault("use", use.kind, "a use whose cable can stand by itself as a two-port")
    frequency = np.geomspace(low, high, POINTS)
    found = path_two_port(circuit, kind.path, resistance * circuit.counts(), frequency)
    balanced = "between the legs, " if kind.path.near.back else ""
    # Such files hold plain characters only.
    remark = f"cable and contacts of {use.name}, {balanced}{resistance:g} ohm in every contact"
    return found, kind.path.reference, (remark,)


def _drawn(use: Use) -> tuple[Circuit, float, float]:
    """The circuit of the first curve, and the hertz between which it is drawn."""
    curves = kind_of(use.kind).curves(use)
    if not curves:
        raise ArgumentFault("use", use.kind, "a use that is a circuit over frequency")
    return curves[0].circuit, curves[0].low, curves[0].high


def _contacts(resistance: float) -> str:
    return f"{show_stated(resistance, 'Ω')} in every contact" if resistance else "ideal contacts"
