"""What the stages find while readings arrive: as much of `results` as a verdict needs, and nothing that takes its time."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.comparisons import ComparisonResult, compare
from ohmsworth.inference.conditions import ConditionResult
from ohmsworth.inference.measured import Measured, leaning, measure
from ohmsworth.inference.specimens import SpecimenResults
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.factors import compared
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import OFF, Codes, ReadingTable
from ohmsworth.readings.unsettled import Unsettled
from ohmsworth.report.answer import Bound
from ohmsworth.resistance import Resistances
from ohmsworth.work.history import history_of
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.readings_check import look_at_readings
from ohmsworth.work.results import (
    READINGS,
    SEED,
    TAKES,
    judged,
    refuse_negative,
    resistances_of,
    study_margin,
)
from ohmsworth.work.uses import made_uses


@dataclass(frozen=True, slots=True, eq=False)
class LiveResults:
    """Label numbers refer to `table`; `specimens`, `conditions` and `comparisons` are the ordinary results of this moment."""

    study: Study
    table: ReadingTable
    used: Codes
    resistances: Resistances
    measured: Measured
    specimens: SpecimenResults
    conditions: tuple[ConditionResult, ...]
    comparisons: tuple[ComparisonResult, ...]
    margin: Bound | None
    doubts: tuple[Doubt, ...]
    unsettled: tuple[Unsettled, ...]
    loaded: LoadedStudy

    @property
    def limit(self) -> float | None:
        """Ohm."""
        return self.study.limit.resistance if self.study.limit else None


def live_results(loaded: LoadedStudy) -> LiveResults | None:
    """Run the stages; None where no resistance is read yet.

    Raises
    ------
    InputRefused
        When a resistance is not positive on the logarithmic scale.
    """
    study, table = loaded.study, loaded.table
    given = ~np.isin(table.line, list(study.set_aside))
    if not (given & (table.polarity != OFF)).any():
        return None
    doubts, left_out, unsettled = look_at_readings(study, table)
    used = np.flatnonzero(~np.isin(table.line, list(left_out)))
    resistances = resistances_of(loaded, used)
    if len(resistances) == 0:
        return None
    refuse_negative(study, table, resistances, READINGS if loaded.tone is None else TAKES)
    measured = leaning(measure(resistances, study.scale, study.scatter), history_of(loaded))
    specimens, conditions = judged(study, measured, unsettled)
    margin = study_margin(study, made_uses(study.uses))
    return LiveResults(
        study,
        table,
        used,
        resistances,
        measured,
        specimens,
        conditions,
        _comparisons(study, table, measured, conditions, margin),
        margin,
        tuple(doubts),
        unsettled,
        loaded,
    )


def _comparisons(
    study: Study,
    table: ReadingTable,
    measured: Measured,
    conditions: tuple[ConditionResult, ...],
    margin: Bound | None,
) -> tuple[ComparisonResult, ...]:
    """Those that the study asks for and that there are readings for."""
    names = table.condition.names
    if study.reference not in names or len(conditions) < 2:
        return ()
    amount = margin.resistance if margin else None
    pairs = compared(study, table, names.index(study.reference))
    found = [
        compare(measured, conditions[of], conditions[against], amount, study.coverage, SEED)
        for of, against in pairs
        if max(of, against) < len(conditions)
    ]
    return tuple(one for one in found if one is not None)
