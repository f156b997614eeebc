"""How the contacts are now, where the same ones were read in several conditions, and how far to believe the readings."""

from __future__ import annotations

from collections import Counter

from ohmsworth.inference.equivalence import ENOUGH
from ohmsworth.report.answer import (
    MOVING,
    Answer,
    ComparisonAnswer,
    ConditionAnswer,
    FrequenciesAnswer,
    WarningAnswer,
)
from ohmsworth.report.frequencies_answer import DryLimitAnswer, TakesMeasuredAnswer
from ohmsworth.resistance.impedance.sound_faults.grave import GRAVE as GRAVE_SOUND
from ohmsworth.units import show

#: Doubts that turn an answer around when the readings they are about stay in it.
GRAVE = (
    "UNIT_SLIP",
    "SLIP_OR_FAULT",
    "SWAPPED",
    "TWO_WIRE",
    "UNLIKELY_SCALE",
    "WHOLE_CONDITION_OFF",
    "WHOLE_SPECIMEN_OFF",
)
#: More than this share of the rows in grave doubt, and there is nothing to conclude.
MOST_DOUBTED = 0.5
#: A current that shows how a contact carries it, not how it treats a small signal (a dry circuit has 100 mA), ampere.
_SIGNAL_CURRENT = 0.1005


def in_doubt(answer: Answer) -> list[WarningAnswer]:
    """Grave doubts about readings that are still in the answer, though their owner has not said to keep them."""
    return [w for w in answer.warnings if _is_grave(w) and not w.set_aside and w.what_to_do != "Nothing."]


def _is_grave(warning: WarningAnswer) -> bool:
    """Takes that have no rows stand beside readings of direct current: their sound turns nothing around."""
    return warning.code in GRAVE or (warning.code in GRAVE_SOUND and bool(warning.rows))


def answered_at(answer: Answer) -> float | None:
    """The tone in hertz that an answer from takes stands at; None where readings of direct current make it."""
    return None if answer.frequencies is None else answer.frequencies.answered_at


def mostly_in_doubt(answer: Answer) -> bool:
    """Whether grave doubts cover most of the readings, so that nothing is to be concluded from them."""
    doubts = in_doubt(answer)
    rows = {row for w in doubts for row in w.rows}
    return any(not w.rows for w in doubts) or len(rows) > MOST_DOUBTED * answer.rows_used


def over_signal_current(answer: Answer) -> bool:
    """Whether the readings were taken at a current that a signal contact never carries."""
    return answer.largest_current is not None and answer.largest_current > _SIGNAL_CURRENT


def current_of_takes(found: FrequenciesAnswer | None) -> float | None:
    """The largest current, in ampere, of the takes that an answer stands on; None where it does not, or that is not known."""
    one = None if found is None or found.answered_at is None else dry_limit(found.measured, "current")
    return None if one is None else one.largest


def beyond_signal(answer: Answer) -> dict[str, str]:
    """What a signal contact never meets and the readings or takes had: "current" and "voltage", each with its size in words.

    Of takes the voltage counts as well: it is what breaks a film through.
    """
    found = answer.frequencies
    measured = None if found is None or found.answered_at is None else found.measured
    volts = dry_limit(measured, "voltage across the contact")
    said = {"current": show(answer.largest_current or 0.0, "A", 2)} if over_signal_current(answer) else {}
    if volts is not None and volts.over and volts.largest is not None:
        said["voltage"] = show(volts.largest, "V", 2)
    return said


def dry_limit(found: TakesMeasuredAnswer | None, quantity: str) -> DryLimitAnswer | None:
    """How the takes stand to one limit of a dry circuit."""
    return next((one for one in (found.dry if found else ()) if one.quantity == quantity), None)


def moving_conditions(answer: Answer) -> list[ConditionAnswer]:
    """Conditions whose readings do not settle."""
    return [c for c in answer.conditions if c.state == MOVING]


def does_not_settle(found: ComparisonAnswer, answer: Answer) -> bool:
    """Whether one of the two conditions of a comparison still moves."""
    return not {c.condition for c in moving_conditions(answer)}.isdisjoint((found.of, found.against))


def former(answer: Answer) -> set[str]:
    """Conditions in which most of their contacts are no longer: the same ones were read later in another."""
    still = Counter(s.condition for s in answer.specimens if s.latest)
    gone = Counter(s.condition for s in answer.specimens if not s.latest)
    return {condition for condition in gone if gone[condition] > still[condition]}


def present_conditions(answer: Answer) -> list[ConditionAnswer]:
    """Conditions in which contacts are now."""
    gone = former(answer)
    return [c for c in answer.conditions if c.condition not in gone]


def worst_condition(answer: Answer) -> ConditionAnswer:
    """The condition with the highest resistance, of those in which contacts are now."""
    return max(present_conditions(answer), key=lambda c: c.resistance)


def best_condition(answer: Answer) -> ConditionAnswer:
    """The condition with the lowest resistance, of those in which contacts are now."""
    return min(present_conditions(answer), key=lambda c: c.resistance)


def better(found: ComparisonAnswer) -> str:
    """The one of the two conditions that has less resistance."""
    return found.against if (found.difference.value or 0.0) > 0 else found.of


def helped(found: ComparisonAnswer) -> bool:
    """Whether the same contacts became better by enough to matter."""
    return found.verdict == ENOUGH and found.read_last is not None and found.read_last == better(found)
