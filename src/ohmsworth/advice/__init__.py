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
from ohmsworth.advice.care import Care, Found, LeftOut, Option, Switch, advise_care, for_care
from ohmsworth.advice.cautions import CLEANER, HIGH_CURRENT, SOLDERING, UNPOWERED
from ohmsworth.advice.courses import Costs, Course, Prices
from ohmsworth.advice.next_look import NextLook, look_by_air, look_by_trend, shortest_of
from ohmsworth.advice.remedies import PlatingLost, Remedy, Step, usual_remedies

__all__ = [
    "CLEANER",
    "HIGH_CURRENT",
    "SOLDERING",
    "UNPOWERED",
    "Action",
    "Care",
    "Compared",
    "Costs",
    "Course",
    "Found",
    "LeftOut",
    "NextLook",
    "Option",
    "PlatingLost",
    "Prices",
    "Remedy",
    "Step",
    "Switch",
    "advise_care",
    "check_rows",
    "for_bound",
    "for_care",
    "for_circuit",
    "for_comparisons",
    "for_datasheet",
    "for_nothing",
    "for_passed",
    "for_specimens",
    "for_uncompared",
    "for_uses",
    "look_by_air",
    "look_by_trend",
    "settle_conditions",
    "settle_contacts",
    "shortest_of",
    "usual_remedies",
    "with_cautions",
]
