"""Volts and amperes of a take: what full scale of each input is, by what is known of the circuit.

Where the inputs' full scale is known it is taken. Where it is not, the drive tells it at the tone nearest to 1 kHz: with the
output V = amplitude × full scale of the output and the contact Z ≈ |Yc/Ys| Rs, the circuit's current I makes I Rs across the
shunt,

    full scale = I Rs/|Ys|        for both inputs alike

which is as good as the output's setting is known. Y: phasors, full scale 1; c contact, s shunt.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.curve import Array, Complex
from ohmsworth.resistance.impedance.drive import LEVEL_FREQUENCY
from ohmsworth.resistance.impedance.phasors import Lines
from ohmsworth.resistance.impedance.tone_plan import TonePlan


@dataclass(frozen=True, slots=True, eq=False)
class Levels:
    """What a take had across and through the contact.

    Parameters
    ----------
    frequency
        Of the tones in hertz, shape (tones,).
    voltage
        Across the contact, phasors in volt, peak, shape (tones,).
    current
        Through it, phasors in ampere, peak, shape (tones,).
    full_scale
        Peak volts that read as 1, of the contact's input and of the shunt's.
    by_drive
        Whether they were taken from what the drive should give.
    """

    frequency: Array
    voltage: Complex
    current: Complex
    full_scale: tuple[float, float]
    by_drive: bool


def levels(tones: Lines, plan: TonePlan, circuit: Circuit, contact_input: int = 0) -> Levels:
    """Volts and amperes of the tones of a take.

    Parameters
    ----------
    tones
        Lines at the tones of `plan`, in its order.
    contact_input
        Input, 0 or 1, that hears the contact; the other hears the shunt.

    Raises
    ------
    ArgumentFault
        When there is no such input, the lines are not the plan's, or the shunt's input hears nothing.
    """
    across, beside = of_both(tones, contact_input)
    if not np.array_equal(tones.cycles, plan.cycles):
        raise ArgumentFault("tones", tones.cycles, f"the tones of the plan, {plan.cycles}")
    if not (np.abs(beside) > 0).all():
        raise ArgumentFault("tones", beside, "a signal on the shunt's input at every tone")
    f = plan.frequencies
    if circuit.inputs is not None:
        full_scale = circuit.inputs[contact_input], circuit.inputs[1 - contact_input]
    else:
        k = int(np.abs(f - LEVEL_FREQUENCY).argmin())
        ohm = circuit.shunt.resistance
        driven = circuit.output * float(plan.amplitudes[k])
        current = circuit.current(driven, ohm * float(np.abs(across[k] / beside[k])))
        full_scale = (current * ohm / float(np.abs(beside[k])),) * 2
    return Levels(
        f,
        across * full_scale[0],
        beside * full_scale[1] / circuit.shunt.impedance(f),
        full_scale,
        circuit.inputs is None,
    )


def of_both(lines: Lines, contact_input: int) -> tuple[Complex, Complex]:
    """Mean phasors of the contact's input and of the shunt's, full scale 1, each of shape (lines,).

    Raises
    ------
    ArgumentFault
        When `contact_input` is neither 0 nor 1.
    """
    if contact_input not in (0, 1):
        raise ArgumentFault("contact_input", contact_input, "0 or 1")
    mean = lines.mean
    return mean[contact_input], mean[1 - contact_input]
