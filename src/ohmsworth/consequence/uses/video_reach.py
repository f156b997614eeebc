"""How far a serial video signal reaches, and what contacts take of it."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import wave_constants
from ohmsworth.consequence.rule import Compute, Position
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.cables import coaxial
from ohmsworth.consequence.uses.video_circuit import RUN

_DECIBEL_IN_A_NEPER = 20 / np.log(10)


def reach(use: Use, position: Position) -> Compute:
    """Metres of cable at which the whole loss at half the clock is the budget, for contacts at `position`.

    l = (A − 20 log10 |(Zs + r1 + Z0)(Zl + r2 + Z0)/(2 Z0 (Zs + Zl))|)/(8.686 Re γ), r1 and r2 ohm of all contacts at the
    source and at the input, centre and screen together.

    Notes
    -----
    What is reflected to and fro between the ends is left out: after the budget of 20 dB both ways it is 40 dB down, and
    below what any input sees. Where contacts alone eat the budget, nothing is left: 0 m, and not the negative length of
    the formula.
    """
    gamma, z0 = wave_constants(coaxial(use), number(use, "clock") / 2)
    source, load = number(use, "source_impedance"), number(use, "load_impedance")
    near, far = (_ohms(use, position, end) for end in (0, 1))
    per_metre = _DECIBEL_IN_A_NEPER * gamma.real[0]

    def compute(resistance: Array) -> Array:
        r = np.asarray(resistance, dtype=float)
        ends = (source + near * r + z0[0]) * (load + far * r + z0[0]) / (2 * z0[0] * (source + load))
        left = number(use, "loss_budget") - 20 * np.log10(np.abs(ends))
        return np.asarray(np.maximum(left / per_metre, 0.0))

    return compute


def reach_lost(use: Use, position: Position) -> Compute:
    """Metres by which contacts at `position` shorten the reach."""
    found = reach(use, position)
    whole = found(np.zeros(()))
    return lambda resistance: np.asarray(whole - found(resistance))


def _ohms(use: Use, position: Position, end: int) -> float:
    """Contacts at `position` that the current passes at one end, 0 at the source and 1 at the input."""
    count = number(use, ("contacts_near", "contacts_far")[end])
    return count * sum(name in position.contacts for name in RUN.contacts()[end::2])
