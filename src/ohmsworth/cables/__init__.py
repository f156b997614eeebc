"""Cables: how one is built, what it should read, what is wrong with it, and where."""

from ohmsworth.cables.alike import Fellows, StandsOut, compare_fellows
from ohmsworth.cables.build import Build, End, Place, Wire, WireKind
from ohmsworth.cables.distance import Distance, Quantity
from ohmsworth.cables.expected import (
    Expected,
    ExpectedCapacitance,
    expected_capacitance,
    expected_loop,
    expected_resistance,
)
from ohmsworth.cables.fewest import Asked, Question, next_question, separating, touching
from ohmsworth.cables.wiring import WiringFault, wiring_faults

__all__ = [
    "Asked",
    "Build",
    "Distance",
    "End",
    "Expected",
    "ExpectedCapacitance",
    "Fellows",
    "Place",
    "Quantity",
    "Question",
    "StandsOut",
    "Wire",
    "WireKind",
    "WiringFault",
    "compare_fellows",
    "expected_capacitance",
    "expected_loop",
    "expected_resistance",
    "next_question",
    "separating",
    "touching",
    "wiring_faults",
]
