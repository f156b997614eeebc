"""Four-wire reduction: from readings to resistances that know the meters' share of their uncertainty."""

from ohmsworth.resistance.fourwire import Resistances, reduce_readings
from ohmsworth.resistance.sequence import DIRECT, FORM_WORDS, REVERSAL, SINGLE, THREE, ZERO, group_rows

__all__ = [
    "DIRECT",
    "FORM_WORDS",
    "REVERSAL",
    "SINGLE",
    "THREE",
    "ZERO",
    "Resistances",
    "group_rows",
    "reduce_readings",
]
