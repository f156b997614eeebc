"""What a contact's impedance may look like over frequency, as columns whose sum it is.

    resistance   Z = R
    series       Z = R + jωL
    film         Z = R + jωL + Rf/(1 + jf/fc)        fc = 1/(2π Rf Cf): film resistance, capacitance across it
    skin         Z = R + jωL + Rs (w(f/fc) − 1)      w: impedance of a round wire over its resistance, fc where a = δ

ω = 2πf. A film falls with frequency, a conductor with skin effect rises: as f² far below fc, as √f far above. In "film" R is the
contact without film; in "skin" it is all of the resistance at direct current, Rs the part of it that has skin effect. Sources:
skin-effect; the film is a resistance with a capacitance across it.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from ohmsworth.materials.skin import MAGNETIC_CONSTANT, wire_impedance
from ohmsworth.resistance.impedance.curve import Array, Complex

#: A shape with a corner frequency.
Bent = Literal["film", "skin"]
Shape = Literal["resistance", "series", "film", "skin"]


def columns_of(shape: Shape, frequency: Array, corner: float = np.inf) -> Complex:
    """Columns of the linear parameters: R; L; Rf or Rs. Shape (tones, 1 to 3), frequencies in hertz."""
    one = np.ones(len(frequency), complex)
    if shape == "resistance":
        return one[:, None]
    straight = [one, 2j * np.pi * frequency]
    if shape == "series":
        return np.column_stack(straight)
    return np.column_stack([*straight, bend(shape, frequency, corner)])


def bend(shape: Bent, frequency: Array, corner: float) -> Complex:
    """What one ohm of film, or of a conductor with skin effect, adds; shape (tones,)."""
    if shape == "film":
        return np.asarray(1 / (1 + 1j * frequency / corner))
    per_metre = MAGNETIC_CONSTANT * corner
    return np.asarray(wire_impedance(per_metre, frequency) / per_metre - 1)


def bend_slope(shape: Bent, frequency: Array, corner: float) -> Complex:
    """Change of `bend` with the logarithm of the corner; shape (tones,)."""
    step = 1e-4
    up, down = (bend(shape, frequency, corner * np.exp(s)) for s in (step, -step))
    return np.asarray((up - down) / (2 * step))
