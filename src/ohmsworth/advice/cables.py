"""What to do with a cable after its test."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.advice.actions import Action
from ohmsworth.advice.cautions import CABLE_APART, CABLE_VOLTAGE, CUTTING, SOLDERING


def measure_cable(readings: int) -> list[Action]:
    """Before anything is measured."""
    return [
        Action(
            f"Make the {readings} measurements of the sheet, and write each into test.csv: from, to, resistance.",
            "Wires first: only what reaches from end to end is seen by the measurements against touches.",
            (CABLE_APART, CABLE_VOLTAGE),
        )
    ]


def mend_wiring(faults: Sequence[str]) -> list[Action]:
    """Wiring that is not as it should be."""
    return [
        Action(
            "Mend the wiring first, then make the measurements of what you touched again.",
            f"{len(faults)} fault{'s' if len(faults) != 1 else ''} of the wiring.",
            (CABLE_APART, SOLDERING),
        )
    ]


def open_cable(words: str) -> list[Action]:
    """Where a fault lies is known."""
    return [Action(words, "From the distance that was measured.", (CABLE_APART, CUTTING))]


def find_touch(wires: str, near: str, far: str) -> list[Action]:
    """Two wires touch, and nobody knows where."""
    return [
        Action(
            f"Measure {near} and {far}, each with the other end free: then it is told where {wires} touch.",
            "A plug is opened and a cable is cut at the right place the first time.",
            (CABLE_APART,),
        )
    ]


def find_break(wires: str) -> list[Action]:
    """Wires that do not reach."""
    return [
        Action(
            f"Look at both terminations of {wires} first. If they are sound, read the capacitance against all other wires from "
            "each end and write both under [[locate]] in the description: their ratio tells where the break is.",
            "Wires break at their ends more often than between them.",
            (CABLE_APART,),
        )
    ]


def look_at_terminations(wires: str, over: bool) -> list[Action]:
    """Wires with more resistance than they should have."""
    why = (
        "More than a good wire has."
        if over
        else "Within its bounds, yet unlike its fellows in the same cable."
    )
    words = f"Look at both terminations of {wires}: reseat, then re-crimp or re-solder, and read again."
    return [Action(words, why, (CABLE_APART, SOLDERING))]


def loosen_links(wires: str) -> list[Action]:
    """Wires over their bounds that others bridge."""
    words = f"Loosen the links at one end and read {wires} one by one: one of those that lead beside each other may not reach."
    return [Action(words, "They are read together, so that each shows what another one has.", (CABLE_APART,))]


def check_description(first: str) -> list[Action]:
    """Wires that are all off in the same way."""
    words = (
        f"Check the description and the meter before you open anything: length, conductor, temperature, leads, unit. Then read "
        f"{first} again."
    )
    return [Action(words, "What all wires have alike is hardly a fault of each of them.", (CABLE_APART,))]


def look_at_low(wires: str, under: bool) -> list[Action]:
    """Wires with less resistance than they should have."""
    why = "Less than a good wire has." if under else "Less than its fellows in the same cable have."
    words = (
        f"Find out why {wires} read so little: another way beside it, another wire than described, or leads of the meter that "
        "were taken off twice. Read again before it is passed."
    )
    return [Action(words, why, (CABLE_APART,))]


def keep_back() -> list[Action]:
    """A test with other equipment did not find what was asked."""
    return [
        Action(
            "Keep this cable back until somebody trained for such tests has found out why: do not use it or hand it over.",
            "A test that was recorded did not find what was asked of it.",
            (CABLE_VOLTAGE,),
        )
    ]


def measure_next(step: str, why: str) -> list[Action]:
    """The next measurement."""
    return [Action(step, why, (CABLE_APART,))]


def pass_cable() -> list[Action]:
    """Nothing is wrong."""
    return [
        Action(
            "Pass it, and keep the sheet with it.",
            "Every wire and every pair was measured.",
            (CABLE_VOLTAGE,),
        )
    ]
