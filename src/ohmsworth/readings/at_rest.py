"""Whether the contact being read has come to rest, as far as its readings show."""

from __future__ import annotations

from typing import Literal

import numpy as np

from ohmsworth.readings.courses import read_courses
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.moving import drifting_matings, restless_matings
from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.table import ReadingTable

Movement = Literal["settled", "still moving"]
RESTED: Movement = "settled"
MOVES: Movement = "still moving"
#: Readings of a mating that it takes to call it settled.
_ENOUGH = 4
#: The last step of a mating that has come to rest, as a share.
_LAST_STEP = 0.01


def last_movement(table: ReadingTable) -> tuple[Movement | None, bool]:
    """Whether the last row's mating is at rest; None while it has too few readings.

    Also whether the mating as a whole did move: then it has come to rest, and its first readings are not its resistance.
    """
    courses = read_courses(table)
    if courses is None:
        return None, False
    cell = table.cells()[-1]
    if not bool((drifting_matings(courses) | restless_matings(courses))[cell]):
        return (RESTED if courses.count[cell] >= _ENOUGH else None), False
    return (MOVES if _last_step(table) > _LAST_STEP else RESTED), True


def _last_step(table: ReadingTable) -> float:
    """Relative change from the reading before with the current the same way, in the same mating."""
    cell = table.cells()
    same = np.flatnonzero((cell == cell[-1]) & (table.polarity == table.polarity[-1]))
    with np.errstate(divide="ignore", invalid="ignore"):
        ohm = np.abs(row_resistance(table)[same[-2:]])
    if len(ohm) < 2 or not (ohm > 0).all():
        return np.inf
    return float(abs(np.log(ohm[1] / ohm[0])))


def moving_doubt(line: int) -> Doubt:
    """Doubt STILL_MOVING, while it can still be waited for."""
    return Doubt(
        "STILL_MOVING",
        "the readings of this mating still move: this is not yet a resistance.",
        (line,),
        "Wait until the reading stands still, and read both directions again.",
    )
