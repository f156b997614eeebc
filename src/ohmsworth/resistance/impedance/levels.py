"""How strong the tones are: amplitudes for a wanted current, what stands where in the circuit, and what a dry circuit asks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.readings.dry_circuit import DRY_CURRENT
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.drive import peak
from ohmsworth.resistance.impedance.tone_plan import TonePlan

Array = NDArray[np.float64]

#: Largest share of full scale that the peak of a drive uses.
FULLEST = 0.9


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """What stands where while the tones are played; peak values unless said otherwise.

    Parameters
    ----------
    output
        Volts of the open output.
    current, current_rms
        Ampere through the contact; the second over the main part.
    tone_currents
        Of each tone, in ampere through the contact, shape (tones,).
    shunt_voltage, contact_voltage
        Volts at the two inputs.
    open_circuit
        Volts across a contact that opens.
    series_power
        Watt in the series resistor while the level check sounds, the most it has to bear.
    shunt_power
        Watt in the shunt over the main part.
    """

    output: float
    current: float
    current_rms: float
    tone_currents: Array
    shunt_voltage: float
    contact_voltage: float
    open_circuit: float
    series_power: float
    shunt_power: float

    @property
    def dry(self) -> bool:
        """Whether neither voltage nor current is more than a dry circuit allows."""
        return self.open_circuit <= DRY_VOLTAGE and self.current <= DRY_CURRENT


def amplitudes_for(
    circuit: Circuit, contact: float, current: float, crest: float, weights: Array, rms: bool = False
) -> Array:
    """Peak of each tone, full scale being 1, for a current through the contact.

    Parameters
    ----------
    circuit
        What the drive meets.
    contact
        Expected resistance of the contact in ohm.
    current
        Ampere of all that sounds at once; the peak, or with `rms` the root mean square.
    crest
        Peak of what sounds at once over its root mean square.
    weights
        Amplitudes of the tones to each other where they sound together; of one tone where they sound in turn.

    Raises
    ------
    ArgumentFault
        When the output would have to give more than `FULLEST` of full scale; `name` is "current".
    """
    most = largest_current(circuit, contact)
    wanted = current * crest if rms else current
    if not 0 < wanted <= most:
        told = most / crest if rms else most
        raise ArgumentFault("current", current, f"at most {told:.3g} A from this output through this circuit")
    root = np.sqrt(np.sum(weights**2) / 2)
    return np.asarray(weights / (root * crest) * (FULLEST * wanted / most))


def largest_current(circuit: Circuit, contact: float) -> float:
    """Peak ampere through the contact at `FULLEST` of the output."""
    return circuit.current(FULLEST * circuit.output, contact)


def largest_series(circuit: Circuit, contact: float, current: float) -> float:
    """Ohm in series, the output's own included, that leave a peak of `current` ampere; zero or less where none does.

    With row = shunt + contact, bridge B and V = 0.9 · output: ``(V/I · B − B row)/(B + row)``; without a bridge
    ``V/I − row``.
    """
    row = circuit.shunt.resistance + contact
    left = FULLEST * circuit.output / current - row
    return left if circuit.bridge is None else left * circuit.bridge / (circuit.bridge + row)


def dry_bridge(circuit: Circuit, contact: float, current: float) -> float | None:
    """Ohm across shunt and contact with which an open contact sees no more than a dry circuit allows.

    With U = 20 mV, row = shunt + contact and the series resistance S, the output being as strong as the peak of
    `current` ampere asks: ``B = S (U − I row)/(I (row + S) − U)``.

    Returns
    -------
    float or None
        Infinite where none is needed; None where no bridge does, because the row itself drops U or more: a smaller
        shunt or current does.
    """
    row = circuit.shunt.resistance + contact
    if current * row >= DRY_VOLTAGE:
        return None
    over = current * (row + circuit.series) - DRY_VOLTAGE
    return np.inf if over <= 0 else circuit.series * (DRY_VOLTAGE - current * row) / over


def level_of(plan: TonePlan, circuit: Circuit, contact: float) -> Level:
    """What the drive of `plan` brings about with a contact of `contact` ohm."""
    highest = peak(plan)
    output = highest * circuit.output
    current = circuit.current(output, contact)
    each = current * plan.amplitudes / highest
    mean_square = np.sum(each**2) / 2 / plan.turns
    row = circuit.shunt.resistance + contact
    from_output = (output - current * row) / circuit.series
    return Level(
        output=output,
        current=current,
        current_rms=float(np.sqrt(mean_square)),
        tone_currents=np.asarray(each),
        shunt_voltage=current * circuit.shunt.resistance,
        contact_voltage=current * contact,
        open_circuit=circuit.open_circuit(output),
        series_power=from_output**2 / 2 * circuit.series,
        shunt_power=float(mean_square) * circuit.shunt.resistance,
    )
