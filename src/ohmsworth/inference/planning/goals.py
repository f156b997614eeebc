"""The three goals that a plan can have, and the chance of a design to reach them."""

from __future__ import annotations

from dataclasses import dataclass
from math import comb

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.planning.bounded import chance_bounded
from ohmsworth.inference.planning.cheapest import Layout
from ohmsworth.inference.planning.compared import chance_to_detect, chance_to_settle
from ohmsworth.inference.planning.levels import Levels, difference_known, future_known

DETECT, EQUIVALENCE, LIMIT = "detect", "equivalence", "limit"
GOALS = (DETECT, EQUIVALENCE, LIMIT)


@dataclass(frozen=True, slots=True)
class Goal:
    """What is to be shown, on the scale of analysis.

    Parameters
    ----------
    kind
        "detect" a difference; show on which side of the margin it lies ("equivalence"); show that future contacts
        lie within a "limit".
    difference
        True difference of the conditions that is planned for.
    margins
        Lower and upper margin.
    room
        Limit minus the true middle of the contacts.
    content
        Share of future matings that is to lie within the limit.
    confidence
        Of the verdict; tests run at 1 − confidence.
    paired, pooled
        Whether the same specimens serve both conditions; whether conditions are taken to scatter alike.
    """

    kind: str
    difference: float = 0.0
    margins: tuple[float, float] = (-np.inf, np.inf)
    room: float = np.inf
    content: float = 0.95
    confidence: float = 0.95
    paired: bool = False
    pooled: bool = False


def chance_of(goal: Goal, levels: Levels, layout: Layout) -> float:
    """Chance that a study laid out like `layout` reaches `goal`.

    Raises
    ------
    ArgumentFault
        For a goal that is not one of GOALS.
    """
    if goal.kind == LIMIT:
        return _chance_within(goal, levels, layout)
    if goal.kind not in GOALS:
        raise ArgumentFault("goal", goal.kind, " or ".join(GOALS))
    if layout.specimens < 2:
        return 0.0
    known = difference_known(
        levels, goal.paired, goal.pooled, layout.specimens, layout.matings, layout.readings
    )
    if goal.kind == DETECT:
        return chance_to_detect(known, goal.difference, 1 - goal.confidence)
    return chance_to_settle(known, goal.difference, goal.margins, 1 - goal.confidence)


def _chance_within(goal: Goal, levels: Levels, layout: Layout) -> float:
    """Chance that the upper tolerance bound comes out below the limit."""
    if layout.specimens < 2:
        return 0.0
    future = future_known(levels, layout.specimens, layout.matings, layout.readings)
    return chance_bounded(future, goal.room, goal.content, goal.confidence)


def smallest_p(goal: Goal, specimens: int) -> float | None:
    """The smallest exact p that the design could give: 2/C(2n, n), or 2/2^n where paired; None without a comparison."""
    if goal.kind == LIMIT:
        return None
    return 2.0 ** (1 - specimens) if goal.paired else 2 / comb(2 * specimens, specimens)
