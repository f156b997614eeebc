"""Where a contact that does not follow Ohm's law shows itself: harmonics, and sums and differences of tones."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.tone_plan import TonePlan

Codes = NDArray[np.int64]
#: Products above this share of half the rate are lost in the converters' filters.
IN_BAND = 0.9


def product_cycles(plan: TonePlan) -> tuple[Codes, ...]:
    """Cycles of the products that are looked at, ascending, for each stretch of the main part.

    Second and third harmonic of every tone; with all tones together also sum and difference of neighbours. Products that fall
    upon a tone, or beyond what is recorded, are left out.
    """
    if plan.way == "in turn":
        return tuple(_kept(plan, tone * np.array([2, 3]), np.array([tone])) for tone in plan.cycles)
    tones = plan.cycles
    pairs = [tones[1:] + tones[:-1], np.diff(tones)]
    return (_kept(plan, np.concatenate([2 * tones, 3 * tones, *pairs]), tones),)


def _kept(plan: TonePlan, products: Codes, tones: Codes) -> Codes:
    inside = products[(products >= 1) & (products < IN_BAND * plan.period / 2)]
    return np.setdiff1d(inside, tones)
