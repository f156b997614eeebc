"""What a study asks of its bench sheet: how much is read of what, in which order."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.readings.plan_request import Assignment

#: Where the study states none: specimens a condition, matings of each, and what the order is drawn from.
DEFAULT_SPECIMENS, DEFAULT_MATINGS, DEFAULT_SEED = 5, 3, 1


@dataclass(frozen=True, slots=True)
class SheetRequest:
    """The table ``[sheet]`` of a study.

    Parameters
    ----------
    conditions
        Names, in the order of treatment.
    specimens
        How many of each condition.
    matings
        Of each specimen in each condition.
    reversal
        Whether the current is sent both ways in each mating.
    assignment
        Whether each condition has its own specimens, or the same serve in all.
    seed
        From which the order is drawn.
    """

    conditions: tuple[str, ...] = ()
    specimens: int = DEFAULT_SPECIMENS
    matings: int = DEFAULT_MATINGS
    reversal: bool = True
    assignment: Assignment = "separate"
    seed: int = DEFAULT_SEED
