"""From a folder of the bench to what each stage finds: trials, check standard, uncertainty, ability."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.inference.control import ControlResult, control
from ohmsworth.inference.gauge import Ability, GaugeResult, ability, gauge
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Array, Codes, Labels, ReadingTable, number_cells
from ohmsworth.resistance import Resistances, reduce_readings
from ohmsworth.work.checks import Checks, find_checks, order_doubts
from ohmsworth.work.ports import LoadedBench
from ohmsworth.work.readings_check import look_at_readings
from ohmsworth.work.results import refuse_negative

#: Sources of uncertainty, as the budget names them.
REPEATABILITY, OPERATORS, INTERACTION = "repeatability", "operators", "specimen × operator"
DAYS, CHECK_SCATTER, EMF, COUNTS = (
    "day to day",
    "scatter of the check standard",
    "thermal EMF",
    "meter counts",
)


@dataclass(frozen=True, slots=True, eq=False)
class Trials:
    """One entry a trial: its resistance (ohm), what was read, and who read it (None where nobody says)."""

    value: Array
    specimen: Labels
    operator: Labels | None


@dataclass(frozen=True, slots=True)
class Part:
    """A source of uncertainty on the scale of analysis, with its degrees of freedom."""

    source: str
    uncertainty: float
    freedom: float


@dataclass(frozen=True, slots=True, eq=False)
class BenchResults:
    """What each stage found; `level` is the resistance (ohm) at which the budget holds."""

    study: Study
    trials: Trials | None
    gauge: GaugeResult | None
    checks: Checks | None
    control: ControlResult | None
    level: float
    parts: tuple[Part, ...]
    ability: Ability | None
    doubts: tuple[Doubt, ...]
    left_out: frozenset[int]
    meters_stated: bool
    unused: tuple[str, ...]


def find_bench_results(loaded: LoadedBench) -> BenchResults:
    """Run every stage.

    Raises
    ------
    InputRefused
        When a resistance is not positive on the logarithmic scale.
    """
    study = loaded.study
    doubts: list[Doubt] = []
    left_out: frozenset[int] = frozenset()
    trials, resistances, found = None, None, None
    if loaded.table is not None:
        doubts, left_out, resistances, trials = _read(study, loaded.table)
        y = np.log(trials.value) if study.scale == "log" else trials.value
        found = gauge(y, trials.specimen, trials.operator)
    checks = find_checks(study, loaded.checks)
    doubts += order_doubts(loaded.checks)
    charted = control(checks.value, study.check.first) if checks is not None else None
    level = _level(study, trials, checks)
    used = resistances if resistances is not None else checks.resistances if checks is not None else None
    parts = _parts(study, found, checks, charted, used, level)
    limit = study.limit.resistance if study.limit else None
    able = None
    if limit is not None:
        able = ability(limit, _joined(parts, found), study.scale, study.coverage)
    stated = used is not None and bool(used.shared or (used.independent > 0).any())
    return BenchResults(
        study,
        trials,
        found,
        checks,
        charted,
        level,
        parts,
        able,
        tuple(doubts),
        left_out,
        stated,
        loaded.unused,
    )


def _read(study: Study, table: ReadingTable) -> tuple[list[Doubt], frozenset[int], Resistances, Trials]:
    """The repeatability study: readings of different operators never make one resistance."""
    people = table.operator if table.operator is not None and any(table.operator.names) else None
    apart = [column.codes for column in (people, table.mating) if column is not None]
    own = number_cells(apart) if apart else None
    if own is not None:
        table = replace(table, mating=Labels(own, tuple(str(i) for i in range(int(own.max()) + 1))))
    doubts, left_out, _ = look_at_readings(study, table)
    used = np.flatnonzero(~np.isin(table.line, list(left_out)))
    resistances = reduce_readings(table, study.bench, used)
    refuse_negative(study, table, resistances)
    first = resistances.rows[:, 0]
    return doubts, left_out, resistances, _trials(table, resistances, first, people)


def _trials(table: ReadingTable, resistances: Resistances, first: Codes, people: Labels | None) -> Trials:
    """Matings are the trials where a specimen was re-mated by one operator; else every resistance is one."""
    what = [c for c in (table.specimen, table.condition, table.contact) if c is not None]
    specimen = _joined_labels([c.take(first) for c in what])
    operator = people.take(first) if people is not None else None
    value = resistances.value
    if resistances.mating is not None:
        who = [specimen.codes] + ([operator.codes] if operator is not None else [])
        pair, mating = number_cells(who), number_cells([*who, resistances.mating.codes])
        if mating.max() > pair.max():
            begin = np.unique(mating, return_index=True)[1]
            value = np.bincount(mating, value) / np.bincount(mating)
            specimen = specimen.take(begin)
            operator = operator.take(begin) if operator is not None else None
    return Trials(value, specimen, operator)


def _joined_labels(columns: list[Labels]) -> Labels:
    """One name for each combination of the columns that hold more than one name."""
    telling = [c for c in columns if len(np.unique(c.codes)) > 1] or columns[:1]
    rows = zip(*([c.names[code] for code in c.codes] for c in telling), strict=True)
    return Labels.of([", ".join(row) for row in rows])


def _level(study: Study, trials: Trials | None, checks: Checks | None) -> float:
    """Where the budget holds: at the limit, else at what was read."""
    if study.limit is not None:
        return study.limit.resistance
    values = trials.value if trials is not None else checks.value if checks is not None else np.ones(1)
    return float(np.median(values))


def _parts(
    study: Study,
    found: GaugeResult | None,
    checks: Checks | None,
    charted: ControlResult | None,
    used: Resistances | None,
    level: float,
) -> tuple[Part, ...]:
    """Every source on the scale of analysis, largest first."""
    parts: list[Part] = []
    if found is not None:
        parts.append(Part(REPEATABILITY, found.repeatability, found.repeat_freedom))
        people = ((OPERATORS, found.operator), (INTERACTION, found.interaction))
        parts += [Part(name, size, found.bench_freedom) for name, size in people if size is not None]
    if checks is not None and charted is not None:
        parts.append(_days(study, found, checks, charted))
    if used is not None:
        shown = (p.uncertainty for p in parts if p.source in (REPEATABILITY, CHECK_SCATTER))
        parts += _meters(study, used, level, max(shown, default=0.0))
    return tuple(sorted((p for p in parts if p.uncertainty > 0), key=lambda p: -p.uncertainty))


def _days(study: Study, found: GaugeResult | None, checks: Checks, charted: ControlResult) -> Part:
    """What the check standard adds: from day to day beside a study of repeatability, else all its scatter."""
    first = charted.limits.first
    begun = checks.value[:first]
    spread = float(begun.var(ddof=1))
    unit = abs(charted.limits.centre) if study.scale == "log" else 1.0
    if found is None:
        one = spread if checks.within is None else spread + checks.within**2 * (1 - 1 / checks.each)
        return Part(CHECK_SCATTER, math.sqrt(one) / unit, first - 1.0)
    inside = 0.0 if checks.within is None else checks.within**2 / checks.each
    return Part(DAYS, math.sqrt(max(spread - inside, 0.0)) / unit, first - 1.0)


def _meters(study: Study, used: Resistances, level: float, shown: float) -> list[Part]:
    """The meters at `level`: a gain in proportion, all else as it is; counts beyond the scatter `shown` already."""
    size = np.abs(used.value)
    unit = level if study.scale == "log" else 1.0
    parts = [
        Part(
            name,
            float((share / size).mean() * level if name.endswith("gain") else share.mean()) / unit,
            np.inf,
        )
        for name, share in used.shared.items()
        if (size > 0).all() or not name.endswith("gain")
    ]
    parts.append(Part(EMF, float(used.emf.mean()) / unit, np.inf))
    counts = float(used.independent.mean()) / unit
    parts.append(Part(COUNTS, math.sqrt(max(counts**2 - shown**2, 0.0)), np.inf))
    return parts


def _joined(parts: tuple[Part, ...], found: GaugeResult | None) -> dict[str, tuple[float, float]]:
    """The parts for a sum: those of the study are one, with the degrees of freedom that they have together."""
    own = {REPEATABILITY, OPERATORS, INTERACTION}
    joined = {p.source: (p.uncertainty, p.freedom) for p in parts if p.source not in own}
    if found is not None:
        joined["bench"] = (found.bench, found.bench_freedom)
    return joined
