"""What to do: actions with their reasons, and the cautions beside them."""

from ohmsworth.advice.actions import (
    Action,
    Compared,
    check_rows,
    for_comparisons,
    for_specimens,
    settle_contacts,
)
from ohmsworth.advice.cautions import CLEANER, COMPRESSED_GAS, HIGH_CURRENT, SOLDERING, UNPOWERED

__all__ = [
    "CLEANER",
    "COMPRESSED_GAS",
    "HIGH_CURRENT",
    "SOLDERING",
    "UNPOWERED",
    "Action",
    "Compared",
    "check_rows",
    "for_comparisons",
    "for_specimens",
    "settle_contacts",
]
