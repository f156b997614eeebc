"""The plan that the published single-sampling tables give for a lot, by the rule that the tables are built on.

A lot's size gives a code letter (general level II), the letter a sample size; both advance in steps of preferred numbers,
as the acceptance quality limits do, so that one plan's numbers run along a diagonal of the table. Counting letters from the
one at which zero bad pieces are accepted for a limit, the acceptance number is 0 there, then follow cells that only point
to a neighbour, then 1, 2, 3, 5 and so on. Source: MIL-STD-105E, tables I and II (the rule found from their cells).
"""

from __future__ import annotations

import math
from bisect import bisect_left

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.lots.attributes import SinglePlan
from ohmsworth.inference.lots.switching import Inspection

#: Acceptance quality limits of the tables, as shares: largest share of bad pieces counted as satisfactory.
QUALITY_LIMITS = (
    0.00065, 0.001, 0.0015, 0.0025, 0.004, 0.0065, 0.01, 0.015, 0.025, 0.04, 0.065,
)  # fmt: skip
#: Largest lot of each code letter at level II, A, B, C ... Q.
_LOTS = (8, 15, 25, 50, 90, 150, 280, 500, 1200, 3200, 10_000, 35_000, 150_000, 500_000)
_SAMPLES = (2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000)
_REDUCED = (2, 2, 2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800)
#: Letter (A is 0) at which the limit 6.5 % accepts none, one later for each smaller limit.
_ANCHORS = {limit: i for i, limit in enumerate(reversed(QUALITY_LIMITS))}
#: From the anchor on: the letter that is really used, and its (acceptance, rejection) numbers.
_NORMAL = {
    0: (0, 1),
    3: (1, 2),
    4: (2, 3),
    5: (3, 4),
    6: (5, 6),
    7: (7, 8),
    8: (10, 11),
    9: (14, 15),
    10: (21, 22),
}
_TIGHTENED = {0: (0, 1), 3: (1, 2), 4: (2, 3), 5: (3, 4), 6: (5, 6), 7: (8, 9), 8: (12, 13), 9: (18, 19)}
_REDUCING = {
    0: (0, 1),
    3: (0, 2),
    4: (1, 3),
    5: (1, 4),
    6: (2, 5),
    7: (3, 6),
    8: (5, 8),
    9: (7, 10),
    10: (10, 13),
}


def published_plan(size: int, limit: float, inspection: Inspection = "normal") -> tuple[SinglePlan, int]:
    """The published plan for a lot of `size` and its rejection number.

    Parameters
    ----------
    size
        Size of the lot, 2 or more. A sample larger than that means: look at every piece.
    limit
        One of QUALITY_LIMITS.
    inspection
        "normal", "tightened" or "reduced"; reduced plans have a gap between acceptance and rejection number.

    Examples
    --------
    >>> published_plan(400, 0.025)
    (SinglePlan(sample=50, accepted=3), 4)
    """
    anchors = [letter for known, letter in _ANCHORS.items() if math.isclose(known, limit)]
    if size < 2 or not anchors:
        raise ArgumentFault("size, limit", (size, limit), f"2 or more, and one of {QUALITY_LIMITS}")
    if inspection == "discontinued":
        raise ArgumentFault("inspection", inspection, "normal, tightened or reduced")
    anchor = anchors[0] + (inspection == "tightened")
    step = bisect_left(_LOTS, size) - anchor
    numbers = {"normal": _NORMAL, "tightened": _TIGHTENED, "reduced": _REDUCING}[inspection]
    used = _pointed(step, max(numbers), up=inspection != "tightened")
    samples = _REDUCED if inspection == "reduced" else _SAMPLES
    accepted, rejected = numbers[used]
    return SinglePlan(samples[anchor + used], accepted), rejected


def _pointed(step: int, last: int, up: bool) -> int:
    """Where the arrows of the table lead: the first of the two cells without numbers points `up`, the second down."""
    if step in (1, 2):
        return 0 if step == 1 and up else 3
    return min(max(step, 0), last)
