"""Which specimen, if it were left out, would change a verdict.

The study is fitted anew without each specimen in turn, and every verdict said again by the same functions. Where plugs and
sockets are re-paired with each other one plug or one socket is left out, with all the pairs that it took part in. Nothing
is left out that would leave a condition fewer than two: one specimen shows no scatter of its kind.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.comparisons import comparison_verdict
from ohmsworth.inference.conditions import chance_within
from ohmsworth.inference.conformity import verdict
from ohmsworth.inference.measured import Measured, measure
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Codes, Labels
from ohmsworth.resistance import Resistances

#: Larger studies are not fitted anew so often: there a single specimen hardly carries a verdict, and the answer would wait.
MOST_DROPPED = 50
MOST_CONDITIONS = 4
#: A fit of re-paired parts takes ten times as long as one of specimens.
MOST_PARTS = 8
#: One specimen shows no scatter of its kind.
_FEWEST = 2

#: What is judged: condition `of` against another, or (None) against the limit.
#: Pairs of conditions: the first is compared against the second.
Pairs = Sequence[tuple[int, int]]
Subject = tuple[int, int | None]


@dataclass(frozen=True, slots=True)
class Change:
    """What a verdict would be without one specimen, plug or socket (`kind`) of this `name`."""

    kind: str
    name: str
    verdict: str


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """One verdict, and what would change it.

    Parameters
    ----------
    of, against
        Condition (label number) against another; against the limit where `against` is None.
    verdict
        As all specimens give it.
    dropped, kept
        How many specimens (or parts) were left out, one at a time, and how many could not be.
    changes
        Those of them without which the verdict would be another.
    """

    of: int
    against: int | None
    verdict: str
    dropped: int
    kept: int
    changes: tuple[Change, ...]


def sensitivity(
    resistances: Resistances, measured: Measured, study: Study, margin: float | None, comparisons: Pairs
) -> tuple[Sensitivity, ...]:
    """Say every verdict again without each specimen in turn.

    Parameters
    ----------
    resistances
        All that the answer rests on.
    measured
        Their fit.
    study
        Whose scale, scatter, coverage and limit hold.
    margin
        Smallest change that matters (ohm); None leaves the comparisons out.
    comparisons
        Numbers of the conditions that are compared, each with the one that it is compared against.

    Returns
    -------
    tuple of Sensitivity
        Comparisons first, then conditions against the limit. Empty where the study is too large (MOST_DROPPED specimens,
        MOST_PARTS re-paired parts, MOST_CONDITIONS conditions), or too small for any specimen to be left out.
    """
    columns = _columns(resistances, measured)
    size = sum(len(np.unique(column.codes)) for column in columns.values())
    most = MOST_PARTS if measured.design.repaired else MOST_DROPPED
    if measured.engine is None or size > most or measured.design.conditions > MOST_CONDITIONS:
        return ()
    whole = _verdicts(measured, study, margin, comparisons)
    if not whole:
        return ()
    found: dict[Subject, list[Change]] = {subject: [] for subject in whole}
    dropped = 0
    for kind, column, code in _droppable(columns, resistances.condition.codes):
        rest = resistances.take(np.flatnonzero(column.codes != code))
        without = _verdicts(measure(rest, study.scale, study.scatter), study, margin, comparisons)
        dropped += 1
        for subject, said in without.items():
            if said != whole[subject]:
                found[subject].append(Change(kind, column.names[code], said))
    if not dropped:
        return ()
    return tuple(
        Sensitivity(of, other, said, dropped, size - dropped, tuple(found[of, other]))
        for (of, other), said in whole.items()
    )


def _columns(resistances: Resistances, measured: Measured) -> dict[str, Labels]:
    """What is left out one at a time: specimens, or plugs and sockets where these are re-paired with each other."""
    specimen = resistances.specimen
    if not measured.design.repaired:
        return {"specimen": specimen}
    return {"plug": resistances.plug or specimen, "socket": resistances.socket or specimen}


def _droppable(columns: dict[str, Labels], condition: Codes) -> list[tuple[str, Labels, int]]:
    """Those without which each of their conditions keeps at least two of every kind."""
    conditions = np.unique(condition)
    present = {
        kind: np.array([len(np.unique(column.codes[condition == c])) for c in conditions])
        for kind, column in columns.items()
    }
    found = []
    for kind, column in columns.items():
        for code in np.unique(column.codes).tolist():
            rest = column.codes != code
            for other, numbers in columns.items():
                left = np.array([len(np.unique(numbers.codes[rest & (condition == c)])) for c in conditions])
                if ((left < _FEWEST) & (left < present[other])).any():
                    break
            else:
                found.append((kind, column, code))
    return found


def _verdicts(
    measured: Measured, study: Study, margin: float | None, comparisons: Pairs
) -> dict[Subject, str]:
    """Every verdict of the study, by what it is on."""
    found: dict[Subject, str] = {}
    conditions = range(measured.design.conditions)
    if margin is not None:
        for of, against in comparisons:
            said = comparison_verdict(measured, of, against, margin, study.coverage)
            if said is not None:
                found[of, against] = said
    if study.limit is not None:
        for of in conditions:
            chance = chance_within(measured, of, study.limit.resistance)
            found[of, None] = verdict(chance, study.coverage)
    return found
