"""Verdicts on conditions that do not settle: none from their average, only what even their lowest readings show.

A contact that moved by a factor while it was read may move by as much again. So it is over a limit where its lowest
reading, divided by that factor once more, is over it; it is never within, for what has not settled may yet rise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from ohmsworth.inference.comparisons import ComparisonResult
from ohmsworth.inference.conditions import ConditionResult
from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER
from ohmsworth.inference.equivalence import ENOUGH, OPEN
from ohmsworth.inference.factors import FactorResult, difference_weights, find_cells
from ohmsworth.inference.specimens import SpecimenResults
from ohmsworth.readings.table import Codes, Labels
from ohmsworth.readings.unsettled import Unsettled


def unsettled_verdict(first: Unsettled, limit: float) -> str:
    """Over where even the lowest reading under `first`, fallen as far again, is over `limit` (ohm); else too close to call."""
    return _by_lowest(first.lowest, first.movement, limit)


def _by_lowest(lowest: float, movement: float, limit: float) -> str:
    return OVER if lowest > movement * limit else CLOSE


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
                verdicts[i] = _by_lowest(low[int(found.specimen[i])], member.movement, limit)
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
        if moving[one].lowest / moving[one].movement - other.high > found.margin:
            verdict = ENOUGH
    return replace(found, verdict=verdict, settle=())


def withhold_factors(
    found: Sequence[FactorResult],
    unsettled: Sequence[Unsettled],
    factors: Mapping[str, Labels],
    condition: Codes,
) -> tuple[FactorResult, ...]:
    """The factors, with no verdict on two levels where an average that is compared holds an unsettled condition.

    `factors` and `condition` are those of each observation.
    """
    if not unsettled:
        return tuple(found)
    cells = find_cells(factors, condition)
    moving = [member.condition for member in unsettled]
    told = []
    for one in found:
        number = cells.factors.index(one.name)
        levels = cells.names[number]
        compared = []
        for pair in one.comparisons:
            weights = difference_weights(cells, number, levels.index(pair.of), levels.index(pair.against))
            restless = weights is not None and any(side[moving].any() for side in weights)
            compared.append(replace(pair, verdict=OPEN) if restless else pair)
        told.append(replace(one, comparisons=tuple(compared)))
    return tuple(told)
