"""The resistance that takes of a contact stand for among readings: R at the tone that the study is answered at."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.readings.entry import Typed
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.of_contacts import USUAL, nearest_tone
from ohmsworth.units import decimals_for, scale_for
from ohmsworth.work.takes import at_tone


def resistance_at(frequencies: Sequence[float], curve: Curve) -> tuple[float, Estimated]:
    """Hertz of the tone nearest to the first of the `frequencies` asked about, 1 kHz where there is none; and R there in ohm."""
    tone = nearest_tone(curve.frequency, (*frequencies, USUAL)[0])
    return float(curve.frequency[tone]), at_tone(curve, tone).real


def as_typed(found: Estimated) -> Typed:
    """R in the digits that its uncertainty leaves sense in: two of its own."""
    value, size = found.value, found.uncertainty
    factor, unit = scale_for(size if size > abs(value) else value, "Ω")
    if unit == "pΩ":  # nobody types such a one
        factor, unit = 1e-9, "nΩ"
    digits = max(decimals_for(size / factor, 2), 0)
    return Typed(f"{value / factor:.{digits}f}", unit, "resistance")
