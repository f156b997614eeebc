"""A moving coil as an amplifier sees it: voice coil, and the resonance of what it moves."""

from __future__ import annotations

import math

from ohmsworth.consequence.circuit import Capacitor, Inductor, Resistor
from ohmsworth.consequence.circuit.elements import Element
from ohmsworth.consequence.use import Use, number

#: Ohm of a resonance below which there is none.
_NOTHING = 1e-9


def moving_coil(use: Use, first: str, last: str, ohm: float, henry: float = 0.0) -> tuple[Element, ...]:
    """Parts between two nodes: R, L of the coil, and in series a resistor, a coil and a capacitor side by side.

    Z = R + jωL + Res/(1 + j(f² − fs²)/(B f)), B hertz wide at the resonance fs: C = 1/(2π B Res), Lr = 1/((2π fs)² C).
    Source: "loudspeaker".
    """
    rise = number(use, "resonance_resistance")
    rise = rise if rise > _NOTHING else 0.0
    cone, coil = (f"{first} cone", f"{first} coil")
    cone = cone if rise else last
    parts: list[Element] = [Resistor(first, coil if henry else cone, ohm)]
    if henry:
        parts.append(Inductor(coil, cone, henry))
    if rise:
        farad = 1 / (2 * math.pi * number(use, "resonance_width") * rise)
        henry_cone = 1 / ((2 * math.pi * number(use, "resonance_frequency")) ** 2 * farad)
        parts += [Resistor(cone, last, rise), Inductor(cone, last, henry_cone), Capacitor(cone, last, farad)]
    return tuple(parts)
