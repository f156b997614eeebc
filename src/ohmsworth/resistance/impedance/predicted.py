"""What a plan can tell: the uncertainty from noise before anything is recorded, and what would be enough."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.levels import Level
from ohmsworth.resistance.impedance.tone_plan import TonePlan

Array = NDArray[np.float64]

#: Width in hertz for which the noise of an input is stated as a voltage: that of the audio band.
AUDIO_BAND = 20e3


def noise_density(noise: float, band: float = AUDIO_BAND) -> float:
    """Volts per root hertz of a white noise of `noise` volts rms over `band` hertz."""
    return noise / float(np.sqrt(band))


def seconds_of(plan: TonePlan) -> float:
    """How long each tone is listened to in a take."""
    return plan.periods * plan.period / plan.rate


def random_uncertainty(
    plan: TonePlan, level: Level, circuit: Circuit, contact: float, noise: float, takes: int
) -> Array:
    """Standard uncertainty of R from the noise of both inputs, a tone each.

    The amplitude of a tone in white noise of standard deviation σ is found from M samples within ``σ √(2/M)``, which with
    the density ``e = σ √(2/rate)`` and the time ``T = M/rate`` is ``e/√T``. R is the shunt's resistance times the ratio
    of both inputs, and the takes are averaged:

        ``u(R) = e/(I √(T takes)) √(1 + (R/R_shunt)²)``

    Parameters
    ----------
    plan, level, circuit
        What is played, and what it brings about.
    contact
        Expected resistance in ohm; its reactance is taken to be small beside the shunt.
    noise
        Density e of each input in V/√Hz.
    takes
        How many recordings there are: two, or four with the turned ones.

    Returns
    -------
    NDArray
        In ohm, shape (tones,).

    Notes
    -----
    Source: Kay example 3.14, IEEE1057 (from memory).
    """
    both = np.sqrt(1 + (contact / circuit.shunt.resistance) ** 2)
    return np.asarray(noise * both / (level.tone_currents * np.sqrt(seconds_of(plan) * takes)))


def lasting_uncertainty(circuit: Circuit, contact: float, turned: bool) -> float:
    """Standard uncertainty of R that no time mends, in ohm: the shunt's tolerance, and the crosstalk.

    Both are rectangles. A share x of the shunt's voltage that reads on the contact's input looks like x times the shunt;
    turned takes cancel it.
    """
    crosstalk = 0.0 if turned else circuit.crosstalk * circuit.shunt.resistance
    return float(np.hypot(contact * circuit.shunt.tolerance, crosstalk) / np.sqrt(3))


def times_needed(uncertainty: Array, enough: float) -> float:
    """By what the time of every take has to be multiplied for the worst tone to reach `enough` ohm; its root, for the current."""
    return float((uncertainty.max() / enough) ** 2)
