"""The fitness of a bench as plain records: what other programs read, and what the pages are written from.

Quantities are SI; None stands for "not asked" or "not known". The field names are the published format: adding one
is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import (
    ActionAnswer,
    Bound,
    BudgetAnswer,
    Interval,
    SourceAnswer,
    WarningAnswer,
)

FORMAT = "ohmsworth fitness 1"


@dataclass(frozen=True, slots=True)
class CheckAnswer:
    """One check: its name (date), resistance (ohm), and in words every rule that it breaks; and the charts' values.

    `average` is the EWMA (ohm) with its limits; `above` and `below` are the CUSUM in standard deviations.
    """

    check: str
    resistance: float
    step: float | None
    average: float
    average_low: float
    average_high: float
    above: float
    below: float
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RunLengthAnswer:
    """Checks until each chart signals, on average, after the mean has moved by `shift` standard deviations."""

    shift: float
    individuals: float
    ewma: float
    cusum: float


@dataclass(frozen=True, slots=True)
class ControlAnswer:
    """The check standard: centre, standard deviation and limits (ohm), from the first so many checks.

    `calibrated` is the value and interval of its calibration, where there is one.
    """

    name: str
    centre: float
    standard_deviation: float
    lower: float
    upper: float
    mean_range: float
    range_upper: float
    decision: float
    first: int
    calibrated: Interval | None
    checks: tuple[CheckAnswer, ...]
    run_lengths: tuple[RunLengthAnswer, ...]


@dataclass(frozen=True, slots=True)
class ComponentAnswer:
    """One component of the study: standard deviation on the scale of analysis and in ohm, percent of the total's."""

    component: str
    standard_deviation: float
    ohm: float
    percent_of_total: float


@dataclass(frozen=True, slots=True)
class AnovaAnswer:
    """A row of the analysis of variance; `component` as it comes out, which may be below zero."""

    source: str
    degrees_of_freedom: int
    sum_of_squares: float
    mean_square: float
    f: float | None
    p_value: float | None
    component: float


@dataclass(frozen=True, slots=True)
class StudyAnswer:
    """The repeatability study: "crossed", "nested" or "one operator"."""

    form: str
    specimens: int
    operators: int
    trials: int
    components: tuple[ComponentAnswer, ...]
    distinct_categories: int | None
    anova: tuple[AnovaAnswer, ...] | None


@dataclass(frozen=True, slots=True)
class ToldAnswer:
    """What a contact of true `resistance` (ohm) will be told, with which probability."""

    resistance: float
    within: float
    too_close_to_call: float
    over: float


@dataclass(frozen=True, slots=True)
class AbilityAnswer:
    """One judgement against the limit, ohm; None where no positive resistance does it.

    `within_up_to` is the largest value that still gets a clear "within"; below `right_below` and above
    `right_above` a contact is told right with the coverage or more.
    """

    standard_uncertainty: float
    degrees_of_freedom: float | None
    test_uncertainty_ratio: float
    within_up_to: float | None
    over_from: float
    right_below: float | None
    right_above: float
    told: tuple[ToldAnswer, ...]


@dataclass(frozen=True, slots=True)
class DifferenceAnswer:
    """Smallest difference of two contacts that is seen four times in five, at the level of the budget."""

    trials_each: int
    ohm: float
    relative: float | None


@dataclass(frozen=True, slots=True)
class FitnessAnswer:
    """Everything that is said of a bench; `verdict` is "fit today" or "look first", `reasons` why.

    `level` is the resistance (ohm) at which budget and differences hold: the limit, else what was read.
    """

    format: str
    sentence: str
    verdict: str
    reasons: tuple[str, ...]
    findings: tuple[str, ...]
    scale: str
    coverage: float
    limit: Bound | None
    level: float
    control: ControlAnswer | None
    study: StudyAnswer | None
    ability: AbilityAnswer | None
    differences: tuple[DifferenceAnswer, ...]
    budget: tuple[BudgetAnswer, ...]
    warnings: tuple[WarningAnswer, ...]
    actions: tuple[ActionAnswer, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
