"""Four-wire reduction: from readings to resistances that know the meters' share of their uncertainty."""

from ohmsworth.resistance.fourwire import COUNTS, Resistances, reduce_readings
from ohmsworth.resistance.sequence import DIRECT, FORM_WORDS, REVERSAL, SINGLE, THREE, TONES, ZERO, group_rows

__all__ = [
    "COUNTS",
    "DIRECT",
    "FORM_WORDS",
    "REVERSAL",
    "SINGLE",
    "THREE",
    "TONES",
    "ZERO",
    "Resistances",
    "group_rows",
    "reduce_readings",
]
