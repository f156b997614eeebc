"""What to do: actions with their reasons, and the cautions beside them."""

from ohmsworth.advice.actions import (
    Action,
    Compared,
    check_rows,
    for_bound,
    for_circuit,
    for_comparisons,
    for_datasheet,
    for_nothing,
    for_passed,
    for_specimens,
    for_uncompared,
    for_uses,
    settle_conditions,
    settle_contacts,
    with_cautions,
)
from ohmsworth.advice.cautions import CLEANER, HIGH_CURRENT, SOLDERING, UNPOWERED

__all__ = [
    "CLEANER",
    "HIGH_CURRENT",
    "SOLDERING",
    "UNPOWERED",
    "Action",
    "Compared",
    "check_rows",
    "for_bound",
    "for_circuit",
    "for_comparisons",
    "for_datasheet",
    "for_nothing",
    "for_passed",
    "for_specimens",
    "for_uncompared",
    "for_uses",
    "settle_conditions",
    "settle_contacts",
    "with_cautions",
]
