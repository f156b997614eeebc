"""Closed forms of what moving coils are to an amplifier."""

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence import Use
from ohmsworth.consequence.use import number

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]


def loudspeaker_impedance(use: Use, frequency: Array) -> Complex:
    """Impedance of a loudspeaker in ohm at `frequency` in hertz, same shape, from 0 Hz.

    Z = Re + jωLe + Res/(1 + j(f² − fs²)/(B f)), B hertz wide at the resonance fs: voice coil, and in series with it a
    resistor, a coil and a capacitor side by side. Source: "loudspeaker".
    """
    rise, width = number(use, "resonance_resistance"), number(use, "resonance_width")
    # Multiplied out by B f, so that 0 Hz is no exception.
    bandwidth = width * frequency
    away = 1j * (frequency**2 - number(use, "resonance_frequency") ** 2)
    coil = number(use, "coil_resistance") + 2j * np.pi * frequency * number(use, "coil_inductance")
    return np.asarray(coil + rise * bandwidth / (bandwidth + away))


def ear_impedance(use: Use, frequency: Array) -> Complex:
    """Impedance of an ear in ohm at `frequency` in hertz, same shape, from 0 Hz.

    Z + Res/(1 + j(f² − fs²)/(B f)): a flat impedance, and in series with it a resonance that is B hertz wide.
    """
    width = number(use, "resonance_width") * frequency
    away = 1j * (frequency**2 - number(use, "resonance_frequency") ** 2)
    # Multiplied out by B f, so that 0 Hz is no exception.
    rise = number(use, "resonance_resistance") * width / (width + away)
    return np.asarray(number(use, "ear_impedance") + rise)
