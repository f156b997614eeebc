"""The resistance that takes of a contact stand for among readings: R at the tone that the study is answered at."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ohmsworth.readings.entry import Typed
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.of_contacts import USUAL, nearest_tone
from ohmsworth.units import decimals_for, scale_for
from ohmsworth.work.take_told import curve_of
from ohmsworth.work.takes import at_tone


def resistance_at(frequencies: Sequence[float], curve: Curve) -> tuple[float, Estimated]:
    """Hertz of the tone nearest to the first of the `frequencies` asked about, 1 kHz where there is none; and R there in ohm."""
    tone = nearest_tone(curve.frequency, (*frequencies, USUAL)[0])
    return float(curve.frequency[tone]), at_tone(curve, tone).real


def frequency_of(kept: Typed, told: Mapping[str, Any]) -> float | None:
    """Hertz of the tone at which takes told the R that was kept of them, by its digits; of several, that nearest to 1 kHz.

    None where no tone has it, as of takes that cannot be read any more.
    """
    try:
        curve = curve_of(told)
    except (ValueError, KeyError, TypeError, AttributeError):
        return None
    alike = [tone for tone in range(len(curve.frequency)) if as_typed(at_tone(curve, tone).real) == kept]
    hertz = curve.frequency[alike]
    return float(hertz[nearest_tone(hertz, USUAL)]) if alike else None


def as_typed(found: Estimated) -> Typed:
    """R in the digits that its uncertainty leaves sense in: two of its own."""
    value, size = found.value, found.uncertainty
    factor, unit = scale_for(size if size > abs(value) else value, "Ω")
    if unit == "pΩ":  # nobody types such a one
        factor, unit = 1e-9, "nΩ"
    digits = max(decimals_for(size / factor, 2), 0)
    return Typed(f"{value / factor:.{digits}f}", unit, "resistance")
