"""What a study asks of its plan, before anything is read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

PlanGoal = Literal["detect", "equivalence", "limit"]
Assignment = Literal["separate", "either order", "before and after"]
#: Each condition its own specimens; the same specimens in all, in either order; the same ones, treated in between.
SEPARATE: Assignment = "separate"
EITHER_ORDER: Assignment = "either order"
BEFORE_AND_AFTER: Assignment = "before and after"
ASSIGNMENTS: tuple[Assignment, ...] = (SEPARATE, EITHER_ORDER, BEFORE_AND_AFTER)

#: Minutes where the study states none: finding and marking a specimen, mating it, one reading forward and reversed.
DEFAULT_MINUTES = (5.0, 2.0, 1.0)
DEFAULT_CHANCE = 0.8
MOST_SPECIMENS = 2000


@dataclass(frozen=True, slots=True)
class PlanRequest:
    """The table ``[plan]`` of a study; ratios are relative to the resistance, quantities SI.

    Parameters
    ----------
    goal
        Detect a difference, settle it against the margin, or show a lot within the limit.
    effect
        Difference that is planned for, as a fraction of the reference's resistance; None when not stated so.
    effect_resistance
        The same in ohm; None when not stated so.
    expected
        Resistance that is expected of the reference, or of the lot (ohm).
    assignment
        Whether each condition has its own specimens, or the same serve in all, in either order or treated in between.
    conditions
        Names, in the order of treatment.
    chance
        Chance of reaching the goal that the plan must have.
    content
        Share of the lot that is to lie within the limit.
    specimen, response, mating, reading
        Guessed scatter as relative standard deviations; None when not stated.
    minutes_per_specimen, minutes_per_mating, minutes_per_reading
        What each costs.
    most_specimens
        Specimens a condition that there are.
    days, operators
        Between which the readings are shared out.
    """

    goal: PlanGoal
    effect: float | None = None
    effect_resistance: float | None = None
    expected: float | None = None
    assignment: Assignment = "separate"
    conditions: tuple[str, ...] = ()
    chance: float = DEFAULT_CHANCE
    content: float = 0.95
    specimen: float | None = None
    response: float | None = None
    mating: float | None = None
    reading: float | None = None
    minutes_per_specimen: float = DEFAULT_MINUTES[0]
    minutes_per_mating: float = DEFAULT_MINUTES[1]
    minutes_per_reading: float = DEFAULT_MINUTES[2]
    most_specimens: int = MOST_SPECIMENS
    days: int = 1
    operators: tuple[str, ...] = ()

    @property
    def paired(self) -> bool:
        """Whether the same specimens serve all conditions."""
        return self.assignment != SEPARATE
