"""Verdicts on conditions that do not settle: none from their average, only what even their lowest readings show.

A contact that moved by a factor while it was read may move by as much again. So it is over a limit where its lowest
reading, divided by that factor once more, is over it; it is never within, for what has not settled may yet rise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ohmsworth.inference.comparisons import ComparisonResult
from ohmsworth.inference.conditions import ConditionResult
from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER
from ohmsworth.inference.equivalence import ENOUGH, OPEN
from ohmsworth.inference.specimens import SpecimenResults
from ohmsworth.readings.unsettled import Unsettled


def unsettled_verdict(first: Unsettled, limit: float) -> str:
    """Over where even the lowest reading under `first`, fallen as far again, is over `limit` (ohm); else too close to call."""
    return _by_lowest(first.lowest, first.factor, limit)


def _by_lowest(lowest: float, factor: float, limit: float) -> str:
    return OVER if lowest > factor * limit else CLOSE


def withhold_specimens(
    found: SpecimenResults, unsettled: Sequence[Unsettled], limit: float | None
) -> SpecimenResults:
    """The specimens with those of unsettled conditions judged by their own lowest reading; `limit` in ohm."""
    if not unsettled:
        return found
    probability, verdicts = found.probability.copy(), list(found.verdicts)
    for member in unsettled:
        low = dict(zip(member.specimen.tolist(), member.low.tolist(), strict=True))
        for i in np.flatnonzero(found.condition == member.condition).tolist():
            probability[i] = np.nan
            if limit is not None:
                verdicts[i] = _by_lowest(low[int(found.specimen[i])], member.factor, limit)
    return replace(found, probability=probability, verdicts=tuple(verdicts))


def withhold_condition(found: ConditionResult, unsettled: Sequence[Unsettled]) -> ConditionResult:
    """The condition without what only an average of settled readings can say, where it is unsettled."""
    if all(member.condition != found.condition for member in unsettled):
        return found
    return replace(found, tolerance=None, probability_within=None, probability_over=None)


def withhold_comparison(
    found: ComparisonResult, unsettled: Sequence[Unsettled], first: ConditionResult, second: ConditionResult
) -> ComparisonResult:
    """The comparison of `first` with `second` as its lowest readings show it, where one of them is unsettled.

    Enough to matter where the lowest reading of the unsettled one, fallen as far again, lies more than the margin above the
    interval of the other; else it cannot be told.
    """
    moving = {member.condition: member for member in unsettled}
    if not moving.keys() & {found.of, found.against}:
        return found
    verdict = OPEN
    for one, other in ((found.of, second), (found.against, first)):
        if one not in moving or other.condition in moving or found.margin is None or other.high is None:
            continue
        if moving[one].lowest / moving[one].factor - other.high > found.margin:
            verdict = ENOUGH
    return replace(found, verdict=verdict, settle=())
