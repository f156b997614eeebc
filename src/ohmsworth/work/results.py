"""From a loaded study to the results of every stage, in the order of the data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.consequence import Use, smallest_threshold
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.inference.comparisons import ComparisonResult, compare, hold_together
from ohmsworth.inference.conditions import ConditionResult, condition_result
from ohmsworth.inference.factors import FactorResult, InteractionResult, factor_results
from ohmsworth.inference.means import specimen_means
from ohmsworth.inference.measured import Measured, leaning, measure
from ohmsworth.inference.rebuilt import History
from ohmsworth.inference.specimens import SpecimenResults, specimen_results
from ohmsworth.inference.support import lonely
from ohmsworth.inference.withheld import (
    withhold_comparison,
    withhold_condition,
    withhold_factors,
    withhold_specimens,
)
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.factors import compared
from ohmsworth.readings.home import rows_named, to_ask
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Codes, ReadingTable
from ohmsworth.readings.unsettled import Unsettled
from ohmsworth.report.answer import STATED_MARGIN, Bound
from ohmsworth.resistance import Resistances, reduce_readings
from ohmsworth.resistance.doubts import find_pairing_doubts
from ohmsworth.resistance.impedance.of_contacts import resistances_at
from ohmsworth.work.check_standard import Day, lines_aside, look_at_checks
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.readings_check import look_at_readings
from ohmsworth.work.take_doubts import take_doubts
from ohmsworth.work.uses import made_uses

#: For permutations drawn at random in designs too large to count out; the same study always gives the same answer.
SEED = 20
#: Where the rows of a table stand.
READINGS, TAKES = "readings.csv", "takes.csv"


@dataclass(frozen=True, slots=True, eq=False)
class Results:
    """What each stage found; label numbers refer to `table`."""

    study: Study
    table: ReadingTable
    used: Codes
    resistances: Resistances
    measured: Measured
    specimens: SpecimenResults
    conditions: tuple[ConditionResult, ...]
    comparisons: tuple[ComparisonResult, ...]
    factors: tuple[FactorResult, ...]
    interactions: tuple[InteractionResult, ...]
    uses: tuple[Use, ...]
    margin: Bound | None
    doubts: tuple[Doubt, ...]
    left_out: frozenset[int]
    day: Day
    unsettled: tuple[Unsettled, ...] = ()
    loaded: LoadedStudy | None = None


def find_results(loaded: LoadedStudy, history: History | None = None) -> Results:
    """Run every stage.

    Parameters
    ----------
    loaded
        The study as read.
    history
        Scatter of past studies that the answer leans on.

    Raises
    ------
    InputRefused
        When a resistance is not positive on the logarithmic scale.
    """
    study, table = loaded.study, loaded.table
    doubts, left_out, unsettled = look_at_readings(study, table)
    used = np.flatnonzero(~np.isin(table.line, list(left_out)))
    resistances = resistances_of(loaded, used)
    refuse_negative(study, table, resistances, READINGS if loaded.tone is None else TAKES)
    doubts += find_pairing_doubts(table, resistances)
    day = look_at_checks(loaded)
    doubts += day.doubts
    measured = leaning(measure(resistances, study.scale, study.scatter), history)
    uses = made_uses(study.uses)
    specimens, conditions = judged(study, measured, unsettled)
    margin = study_margin(study, uses)
    comparisons = tuple(
        withhold_comparison(c, unsettled, conditions[c.of], conditions[c.against])
        for c in _comparisons(study, table, measured, conditions, margin)
    )
    factors, interactions = _factors(study, table, measured, resistances, margin)
    return Results(
        study,
        table,
        used,
        resistances,
        measured,
        specimens,
        conditions,
        comparisons,
        withhold_factors(factors, unsettled, resistances.factors, measured.design.condition),
        interactions,
        uses,
        margin,
        (*doubts, *_study_doubts(loaded, measured)),
        left_out | lines_aside(loaded),
        day,
        unsettled,
        loaded,
    )


def resistances_of(loaded: LoadedStudy, used: Codes) -> Resistances:
    """Resistances of the rows `used`: from readings of direct current, or from takes at the tone that is asked about."""
    if loaded.tone is None or loaded.impedances is None:
        return reduce_readings(loaded.table, loaded.study.bench, used)
    return resistances_at(loaded.impedances.found, loaded.tone, used)


def judged(
    study: Study, measured: Measured, unsettled: Sequence[Unsettled]
) -> tuple[SpecimenResults, tuple[ConditionResult, ...]]:
    """Specimens and conditions against the limit; what has not settled is judged by its lowest reading."""
    limit = study.limit.resistance if study.limit else None
    specimens = specimen_results(measured, specimen_means(measured.design).value, limit, study.coverage)
    conditions = (
        condition_result(measured, c, limit, study.coverage) for c in range(measured.design.conditions)
    )
    return (
        withhold_specimens(specimens, unsettled, limit),
        tuple(withhold_condition(one, unsettled) for one in conditions),
    )


def refuse_negative(
    study: Study, table: ReadingTable, resistances: Resistances, file: str = READINGS
) -> None:
    """Refuse resistances that have no logarithm, with the lines of the `file` that they come from."""
    bad = np.flatnonzero(~(resistances.value > 0))
    if study.scale != "log" or len(bad) == 0:
        return
    raise InputRefused(
        tuple(
            Fault(
                _where(study, file, [int(table.line[r]) for r in resistances.rows[i] if r >= 0]),
                f"a resistance of {1e3 * resistances.value[i]:.3g} mΩ",
                "more than zero",
                'Check signs and polarity; for readings scattered about zero write scale = "linear".',
            )
            for i in bad
        )
    )


def _where(study: Study, file: str, lines: list[int]) -> str:
    if study.home.kept:
        return rows_named(study.home, lines)
    return f"{file}, line {', '.join(map(str, lines))}"


def study_margin(study: Study, uses: tuple[Use, ...]) -> Bound | None:
    """The smallest change that matters: as stated, else the smallest threshold of the uses."""
    if study.margin is not None:
        return Bound(study.margin, STATED_MARGIN)
    threshold = smallest_threshold(uses)
    if threshold is None or threshold.resistance is None:
        return None
    return Bound(threshold.resistance, f"{threshold.use}: {threshold.words}")


def _comparisons(
    study: Study,
    table: ReadingTable,
    measured: Measured,
    conditions: tuple[ConditionResult, ...],
    margin: Bound | None,
) -> tuple[ComparisonResult, ...]:
    if study.reference is None or len(conditions) < 2:
        return ()
    reference = table.condition.names.index(study.reference)
    amount = margin.resistance if margin else None
    pairs = [(conditions[of], conditions[against]) for of, against in compared(study, table, reference)]
    found = [compare(measured, *pair, amount, study.coverage, SEED) for pair in pairs]
    made = [result for result in found if result is not None]
    return tuple(hold_together(measured, made, study.coverage, SEED))


def _factors(
    study: Study, table: ReadingTable, measured: Measured, resistances: Resistances, margin: Bound | None
) -> tuple[tuple[FactorResult, ...], tuple[InteractionResult, ...]]:
    if study.reference is None:
        return (), ()
    return factor_results(
        measured,
        resistances.factors,
        table.condition.names.index(study.reference),
        margin.resistance if margin else None,
        study.coverage,
        study.compare == "all pairs",
        SEED,
    )


def _study_doubts(loaded: LoadedStudy, measured: Measured) -> list[Doubt]:
    """Doubts about the study as a whole."""
    doubts: list[Doubt] = []
    if loaded.impedances is not None:
        beside = loaded.tone is None  # rows, and marks, are then those of the readings
        found = take_doubts(loaded.impedances, loaded.study.home, () if beside else loaded.study.set_aside)
        doubts += [replace(one, rows=()) for one in found] if beside else found
    bench, table = loaded.study.bench, loaded.table
    missing = bench.unstated(table.resistance is not None)
    if loaded.tone is None and missing:
        keys = "add [bench.voltmeter] and [bench.ammeter] (or [bench.ohmmeter])"
        meters = to_ask(loaded.study.home, keys, "state the meters")
        doubts.append(
            Doubt(
                "NO_METER",
                f"the accuracy of the {' and '.join(missing)} is not stated: how far the readings scatter is in the uncertainty, "
                "the last digit with it; an error that all readings share is not.",
                (),
                f"{meters[:1].upper()}{meters[1:]}.",
            )
        )
    if loaded.unused:
        names = ", ".join(loaded.unused[:12])
        doubts.append(
            Doubt(
                "UNUSED_COLUMN",
                f"columns that the answer does not use: {names}.",
                (),
                "Nothing, if they are remarks.",
            )
        )
    return doubts + _scatter_doubts(table, measured)


def _borrowed(table: ReadingTable, measured: Measured) -> list[Doubt]:
    """Conditions with a single specimen of their own, among others that have more."""
    design = measured.design
    alone = [f"'{table.condition.names[c]}'" for c in np.flatnonzero(lonely(design))]
    if design.conditions < 2 or not alone:
        return []
    what = "specimen" if len(design.units) == 1 else "plug or socket"
    return [
        Doubt(
            "ONE_SPECIMEN",
            f"one {what} only under {', '.join(alone)}: its interval borrows the other conditions' scatter, and no "
            "comparison with it is judged.",
            (),
            "Measure more specimens (more plugs, more sockets) before you conclude anything about the kind.",
        )
    ]


def _scatter_doubts(table: ReadingTable, measured: Measured) -> list[Doubt]:
    if measured.engine is None:
        return [
            Doubt(
                "NO_SCATTER",
                "no reading was repeated, or all are equal: how far they scatter is not known.",
                (),
                "Take several readings, of several matings, of several specimens.",
            )
        ]
    design = measured.design
    if "specimen" in {level.name for level in design.levels} or not design.independent:
        return _borrowed(table, measured)
    return [
        Doubt(
            "ONE_SPECIMEN",
            "one specimen a condition: what is found holds for these specimens, not for their kind.",
            (),
            "Measure more specimens before you conclude anything about the kind.",
        )
    ]
