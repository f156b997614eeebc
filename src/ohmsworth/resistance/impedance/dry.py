"""Is it a dry-circuit measurement: voltage, current and frequency of a take against what a film stands.

    rms = √(Σ |Vk|²/2)        largest = max |Σ Vk exp(jωk t)| over a period        no phases make more than Σ |Vk|

all tones together; in turn the largest tone alone counts. Limits: 20 mV peak across the contact, tones up to 2 kHz
("IEC60512-2-1-ac"), 100 mA ("IEC60512-4"). An open contact sees what the source puts there: `Circuit.open_circuit`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from ohmsworth.materials.film_breakdown import DRY_VOLTAGE
from ohmsworth.readings.dry_circuit import DRY_CURRENT
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.curve import Complex
from ohmsworth.resistance.impedance.drive import peak
from ohmsworth.resistance.impedance.input_scale import levels
from ohmsworth.resistance.impedance.peak import peak_of_tones
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.tone_plan import TonePlan

#: Highest alternating frequency of the millivolt level method, hertz.
DRY_FREQUENCY = 2000.0
#: Half a percent over is a set-up at its limit, not beyond it.
_AT_LIMIT = 1.005

Limit = Literal["voltage", "current", "frequency", "open circuit"]


@dataclass(frozen=True, slots=True)
class Swing:
    """How far a sum of tones goes.

    Parameters
    ----------
    rms, largest, worst
        Root mean square, largest value at the phases it had, and the sum of the peaks of all tones.
    """

    rms: float
    largest: float
    worst: float


@dataclass(frozen=True, slots=True)
class Dryness:
    """A take against the limits of a dry circuit.

    Parameters
    ----------
    voltage, current
        Across and through the contact, in volt and ampere.
    open_circuit
        Peak volts on a contact that opens.
    highest
        Highest tone in hertz.
    exceeded
        Which limits are exceeded, by the largest value.
    by_drive
        Whether volts and amperes are from what the drive should give: nobody knows the inputs' full scale.
    """

    voltage: Swing
    current: Swing
    open_circuit: float
    highest: float
    exceeded: tuple[Limit, ...]
    by_drive: bool

    @property
    def dry(self) -> bool:
        """Whether all limits are kept: by the standard, tones above 2 kHz included."""
        return not self.exceeded

    @property
    def film_kept(self) -> bool:
        """Whether voltage and current were those of a dry circuit, at whatever frequency."""
        return not {"voltage", "current"} & set(self.exceeded)


def dryness(take: Take, plan: TonePlan, circuit: Circuit, contact_input: int = 0) -> Dryness:
    """Hold a take to the limits of a dry circuit.

    Parameters
    ----------
    contact_input
        Input, 0 or 1, that hears the contact; the other hears the shunt.

    Raises
    ------
    ArgumentFault
        See `levels`.
    """
    found = levels(take.tones, plan, circuit, contact_input)
    voltage, current = swing(found.voltage, plan), swing(found.current, plan)
    highest = float(found.frequency[-1])
    opened = circuit.open_circuit(circuit.output * peak(plan))
    over: list[tuple[Limit, bool]] = [
        ("voltage", voltage.largest > _AT_LIMIT * DRY_VOLTAGE),
        ("current", current.largest > _AT_LIMIT * DRY_CURRENT),
        ("frequency", highest > _AT_LIMIT * DRY_FREQUENCY),
        ("open circuit", opened > _AT_LIMIT * DRY_VOLTAGE),
    ]
    return Dryness(
        voltage, current, opened, highest, tuple(name for name, is_over in over if is_over), found.by_drive
    )


def swing(phasors: Complex, plan: TonePlan) -> Swing:
    """How far tones with `phasors` (peak, shape (tones,)) go as `plan` plays them."""
    size = np.abs(phasors)
    if plan.way == "in turn":
        most = float(size.max())
        return Swing(most / 2**0.5, most, most)
    largest = peak_of_tones(plan.cycles, phasors)
    return Swing(float(np.sqrt((size**2).sum() / 2)), largest, float(size.sum()))
