"""What the contact adds to the harmonics and products that its current brings along.

The current is not pure: the drive's own harmonics flow through the contact as well and drop I(f) Z(f) across it. The shunt
tells them. With the phasors of both inputs and their ratio at the tones, ρ = Yc/Ys, taken to the line's frequency,

    excess = (Yc − ρ Ys) × full scale of the contact's input        volt, = V(3f) − Z(3f) I(3f)
    E|n|² = (w N wᴴ + |Ys|² E|δρ|²) × full scale²,  w = (1, −ρ)

ρ at the line: its real part by straight lines between the tones, its imaginary part over the frequency as well, beyond the
tones as at the last one. This is exact for R + jωL. Gain and phase of the inputs are in ρ, and so cancel.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.resistance.impedance.curve import Array, Complex
from ohmsworth.resistance.impedance.input_scale import Levels, of_both
from ohmsworth.resistance.impedance.phasors import Lines, Take
from ohmsworth.resistance.impedance.ratio import ratio
from ohmsworth.resistance.impedance.tone_plan import TonePlan


@dataclass(frozen=True, slots=True, eq=False)
class Excess:
    """Voltage at the lines of `products` that the contact itself makes.

    Parameters
    ----------
    value
        In volt, peak, shape (lines,).
    noise
        E|n|² of it in volt², shape (lines,).
    degrees
        Degrees of freedom of `noise`, shape (lines,).
    """

    value: Complex
    noise: Array
    degrees: Array


def excess_of(take: Take, plan: TonePlan, levels: Levels, contact_input: int = 0) -> Excess:
    """Excess at the products of a take.

    Parameters
    ----------
    levels
        Volts and amperes of the same take.
    contact_input
        Input, 0 or 1, that hears the contact; the other hears the shunt.
    """
    tones, products = take.tones, take.products
    at_tones = ratio(*of_both(tones, contact_input), _of_pair(tones, contact_input))
    f = np.asarray(products.cycles * (plan.rate / plan.period), float)
    rho, spread = _carried(plan.frequencies, at_tones.value, np.trace(at_tones.covariance, 0, 1, 2), f)
    across, beside = of_both(products, contact_input)
    weights = np.stack([np.ones_like(rho), -rho], -1)
    noise = np.einsum("li,lij,lj->l", weights, _of_pair(products, contact_input), weights.conj()).real
    scale = levels.full_scale[0]
    return Excess(
        (across - rho * beside) * scale,
        (noise + np.abs(beside) ** 2 * spread) * scale**2,
        products.degrees,
    )


def _of_pair(lines: Lines, contact_input: int) -> Complex:
    """Noise of the two inputs, the contact's first."""
    order = [contact_input, 1 - contact_input]
    return lines.noise[:, order][:, :, order]


def _carried(at: Array, value: Complex, spread: Array, frequency: Array) -> tuple[Complex, Array]:
    """ρ and E|δρ|² from the tones to other frequencies."""
    real, slope = np.interp(frequency, at, value.real), np.interp(frequency, at, value.imag / at)
    return real + 1j * frequency * slope, np.interp(frequency, at, spread)
