"""A balanced circuit: what it passes of the signal, and what it makes of hum that is common to both legs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.line import Line
from ohmsworth.consequence.network import (
    Complex,
    at_load,
    before_chain,
    before_series,
    load_admittance,
    series_impedance,
    voltage_at_load,
)

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class BalancedCircuit:
    """Source, contacts, cable, contacts, load.

    Parameters
    ----------
    source_impedance
        Ohm between the legs, half of it in each.
    source_common
        Ohm from the hum to the middle of the source: 0 drives both legs fully.
    line
        The cable.
    load_impedance
        Ohm between the legs at the load, everything counted.
    load_common
        Ohm from each leg to the screen at the load.
    contacts_near, contacts_far
        Contacts in series in each conductor at the source end and at the load end of the cable.
    """

    source_impedance: float
    source_common: float
    line: Line
    load_impedance: float
    load_common: float
    contacts_near: float
    contacts_far: float


@dataclass(frozen=True, slots=True)
class Gains:
    """Voltage between the legs at the load, per volt.

    `differential` for 1 V of signal between the legs, `conversion` for 1 V of hum on both, complex.
    """

    differential: Complex
    conversion: Complex


def gains(
    circuit: BalancedCircuit,
    chain: Complex,
    plus: npt.ArrayLike,
    minus: npt.ArrayLike,
    screen: npt.ArrayLike = 0.0,
) -> Gains:
    """Solve `circuit` with contacts of `plus`, `minus`, `screen` ohm each in leg +, leg − and screen.

    Parameters
    ----------
    circuit
        The circuit.
    chain
        `line_chain` of the circuit's cable, shape (frequencies, 4, 4).
    plus, minus, screen
        Ohm at least 0, shapes that broadcast; their shape (...) gives results of (..., frequencies).
    """
    contact = series_impedance(plus, minus, screen)[..., None, :, :]
    inner = circuit.source_impedance / 2
    source = series_impedance(inner, inner, circuit.source_common)
    state = at_load(load_admittance(circuit.load_impedance, circuit.load_common))
    state = before_series(state, circuit.contacts_far * contact)
    state = before_chain(state, chain)
    state = before_series(state, circuit.contacts_near * contact + source)
    wanted = voltage_at_load(state.voltage, 0.5, -0.5)
    hum = voltage_at_load(state.voltage, 1.0, 1.0)
    return Gains(wanted[0] - wanted[1], hum[0] - hum[1])


def level_change(circuit: BalancedCircuit, chain: Complex, resistance: npt.ArrayLike) -> Array:
    """Change of level in dB when every contact of both legs has `resistance` in place of zero.

    20 log10 |G(R)/G(0)|, shape of `resistance` followed by the number of frequencies of `chain`.
    """
    ideal = np.abs(gains(circuit, chain, 0.0, 0.0).differential)
    present = np.abs(gains(circuit, chain, resistance, resistance).differential)
    return np.asarray(20 * np.log10(present / ideal))


def rejection(circuit: BalancedCircuit, chain: Complex, resistance: npt.ArrayLike, receiver: float) -> Array:
    """Common-mode rejection in dB when every contact of one leg has `resistance` and the other leg is ideal.

    −20 log10(|V+ − V−|/Vcm + 10^(−receiver/20)): volts between the legs at the load per volt of hum on both,
    plus, in the worst phase, what the receiver itself makes of the hum.

    Parameters
    ----------
    circuit, chain
        The circuit, and `line_chain` of its cable.
    resistance
        Ohm of each contact, any shape.
    receiver
        The receiver's own rejection in dB.

    Notes
    -----
    Shape of `resistance` followed by the number of frequencies of `chain`.
    """
    converted = np.abs(gains(circuit, chain, resistance, 0.0).conversion)
    return np.asarray(-20 * np.log10(converted + 10 ** (-receiver / 20)))
