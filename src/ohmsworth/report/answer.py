"""The answer to a study as plain records: what other programs read, and what the report is written from.

All quantities are SI; None stands for "the data cannot say". The field names are the published format
(``ohmsworth schema``): adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ohmsworth.report.frequencies_answer import (
    BesideDirectAnswer,
    ComparisonCurveAnswer,
    ConditionCurveAnswer,
    TakesMeasuredAnswer,
)
from ohmsworth.report.use_answers import UseAnswer

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

#: Name and version of the format.
FORMAT = "ohmsworth answer 1"
#: Source of a margin that the study itself states.
STATED_MARGIN = "stated in the study"
#: Whether a contact, or a condition, came to rest while it was read.
SETTLED, MOVING = "settled", "still moving"


@dataclass(frozen=True, slots=True)
class Interval:
    """An estimate with its interval."""

    value: float | None
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Bound:
    """A limit or margin (ohm), and who says so."""

    resistance: float
    source: str


@dataclass(frozen=True, slots=True)
class SpecimenAnswer:
    """One specimen under one condition.

    `resistance`, `standard_uncertainty`, `low` and `high` are in ohm; `readings` counts the resistances formed from
    its rows; `state` is "settled" or "still moving"; `latest` says whether this is the condition in which the specimen was
    read last, and so how it is now.
    """

    id: str
    condition: str
    resistance: float
    standard_uncertainty: float | None
    low: float | None
    high: float | None
    degrees_of_freedom: float | None
    readings: int
    probability_within: float | None
    verdict: str | None
    state: str
    latest: bool = True


@dataclass(frozen=True, slots=True)
class ConditionAnswer:
    """The population of specimens under one condition.

    `statistic` is "median" (logarithmic scale) or "mean". At least `tolerance_content` of next matings of next specimens
    lie below `tolerance_bound`, with the study's coverage as confidence. `state` is "settled" or "still moving": of readings
    that do not settle no average decides anything, so that probabilities and bound are null and the verdict is "over" only
    where even the lowest readings are. `movement` is then the highest over the lowest reading of one mating (median of the
    matings), `lowest_reading` and `highest_reading` those of the condition in ohm; null where it is settled.
    """

    condition: str
    specimens: int
    readings: int
    statistic: str
    resistance: float
    standard_uncertainty: float | None
    low: float | None
    high: float | None
    degrees_of_freedom: float | None
    tolerance_bound: float | None
    tolerance_content: float
    probability_within: float | None
    probability_next_over: float | None
    verdict: str | None
    state: str = SETTLED
    movement: float | None = None
    lowest_reading: float | None = None
    highest_reading: float | None = None


@dataclass(frozen=True, slots=True)
class NeededAnswer:
    """A design that would settle an open comparison with a chance of `power`, if things are as found.

    `more_specimens` says how many a condition that is beyond those measured already.
    """

    specimens_per_condition: int
    more_specimens: int
    matings_per_specimen: int
    power: float


@dataclass(frozen=True, slots=True)
class ComparisonAnswer:
    """Condition `of` against condition `against`.

    `difference` is in ohm, `ratio` has no unit. `exact_p_value` and the smallest it could be come from permutations (or sign
    flips when paired) of the specimens' means; `exact_complete` says whether all were counted. The intervals of
    `difference_together` and `ratio_together` hold for all comparisons of the answer at once; null for a single one. `read_last`
    names the condition in which the same specimens were read last, and so how they are now; null where they are separate.
    """

    of: str
    against: str
    paired: bool
    pairs: int
    difference: Interval
    ratio: Interval
    degrees_of_freedom: float | None
    p_value: float
    exact_p_value: float | None
    smallest_exact_p_value: float | None
    exact_complete: bool | None
    margin: float | None
    verdict: str
    settle: tuple[NeededAnswer, ...]
    difference_together: Interval | None = None
    ratio_together: Interval | None = None
    read_last: str | None = None


@dataclass(frozen=True, slots=True)
class LevelAnswer:
    """One level of a factor, averaged over the other factors: ohm."""

    level: str
    resistance: Interval


@dataclass(frozen=True, slots=True)
class LevelComparisonAnswer:
    """Level `of` of a factor against level `against`, averaged over the other factors; as in a ComparisonAnswer."""

    of: str
    against: str
    difference: Interval
    ratio: Interval
    difference_together: Interval | None
    ratio_together: Interval | None
    degrees_of_freedom: float | None
    p_value: float
    verdict: str


@dataclass(frozen=True, slots=True)
class TestAnswer:
    """An F test: statistic, degrees of freedom above and below, p-value; null where there is none."""

    statistic: float | None
    above: int
    below: float | None
    p_value: float | None


@dataclass(frozen=True, slots=True)
class FactorAnswer:
    """What one of several factors does by itself; `test` is that it does nothing."""

    factor: str
    levels: tuple[LevelAnswer, ...]
    comparisons: tuple[LevelComparisonAnswer, ...]
    test: TestAnswer


@dataclass(frozen=True, slots=True)
class InteractionAnswer:
    """Whether what one factor does depends on another; `test` is that it does not.

    Where both have two levels, `ratio` compares the first factor's effect at the second one's second level with that at its
    first (logarithmic scale only); the levels stand in the order of the factors' own records.
    """

    factors: tuple[str, str]
    test: TestAnswer
    ratio: Interval | None


@dataclass(frozen=True, slots=True)
class ScatterAnswer:
    """Scatter of one level: ohm on the linear scale, dimensionless (of ln R) on the logarithmic one.

    `condition` is None where the conditions share it; `merged` names levels that cannot be told apart from it.
    """

    level: str
    condition: str | None
    standard_deviation: float
    groups: int
    merged: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BudgetAnswer:
    """One contribution to the uncertainty of a condition's median or mean: ohm, and share of the variance."""

    source: str
    contribution: float
    share: float
    reduce_by: str


@dataclass(frozen=True, slots=True)
class LengthAnswer:
    """Length of a conductor (metre) with the resistance of `subject` (a condition, or a difference)."""

    subject: str
    conductor: str
    length: Interval


@dataclass(frozen=True, slots=True)
class WarningAnswer:
    """A doubt: stable code, lines of readings.csv, what to do; `set_aside` if the rows were left out."""

    code: str
    words: str
    rows: tuple[int, ...]
    what_to_do: str
    set_aside: bool


@dataclass(frozen=True, slots=True)
class ActionAnswer:
    """Something to do next, why, and the cautions that belong beside it."""

    words: str
    why: str
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChangeAnswer:
    """The verdict as it would be without the one specimen, plug or socket (`kind`) of this `id`."""

    kind: str
    id: str
    verdict: str


@dataclass(frozen=True, slots=True)
class SensitivityAnswer:
    """Whether a single specimen carries a verdict.

    The verdict is on condition `of` against condition `against`, or against the limit where that is null. So many specimens as
    `left_out` says (re-paired plugs and sockets instead) were left out, one at a time; `kept` could not be, for fewer than two
    would remain. `changes` lists those without which the verdict would be another.
    """

    of: str
    against: str | None
    verdict: str
    left_out: int
    kept: int
    changes: tuple[ChangeAnswer, ...]


@dataclass(frozen=True, slots=True)
class PartAnswer:
    """A plug or socket (`kind`) that is re-paired with others, against the middle of its kind under the same `conditions`.

    `effect` is a ratio on the logarithmic scale, a difference in ohm on the linear one; its interval is null where its kind was
    found not to scatter, or there is no other to compare with. `partners` counts what it was paired with, `above` those with
    which it lies above what they and the condition explain. `stands_out` is "high" or "low" where the interval says so.
    """

    kind: str
    id: str
    conditions: tuple[str, ...]
    effect: Interval
    partners: int
    above: int
    readings: int
    stands_out: str | None


@dataclass(frozen=True, slots=True)
class SourceAnswer:
    """A source that the answer leans on."""

    key: str
    citation: str
    standing: str


@dataclass(frozen=True, slots=True)
class BenchAnswer:
    """What the check standard says of the bench: `verdict` is "fit today" or "look first", `reasons` why.

    `checks` is how many checks there are, `last` the name (date) of the last, `charted` whether they were enough to set limits.
    """

    verdict: str
    sentence: str
    reasons: tuple[str, ...]
    check_standard: str
    checks: int
    last: str
    charted: bool


@dataclass(frozen=True, slots=True)
class LeantAnswer:
    """How one estimate leans on past studies: the middle of condition `of`, or its difference from `against`.

    `found` is the scatter of one specimen's mean in this study (for a difference its standard error), `expected` what past
    studies expect of it with the range that they leave open, `together` what is known from both (scale of analysis; 95 %
    ranges). `weight` is what the history was given beforehand; `in_proportion` and `as_expected` are the probabilities
    afterwards that this level scatters in proportion with the others, and that the whole study scatters as past ones did;
    `word` is "fits", "in proportion" or "does not fit". `alone` (ohm) and `verdict_alone` are what this study says by
    itself; `width` is the interval's over that one's (scale of analysis).
    """

    of: str
    against: str | None
    found: float
    expected: Interval
    together: Interval
    weight: float
    in_proportion: float
    as_expected: float
    word: str
    alone: Interval
    width: float
    verdict_alone: str | None


@dataclass(frozen=True, slots=True)
class HistoryAnswer:
    """The past studies whose scatter was leant on, their specimens together, and what that changed.

    `strangers` are conditions that no past study has under their name: all conditions of theirs stand for them.
    """

    studies: tuple[str, ...]
    specimens: int
    strangers: tuple[str, ...]
    estimates: tuple[LeantAnswer, ...]


@dataclass(frozen=True, slots=True)
class AtFrequencyAnswer:
    """The conditions and comparisons at one frequency that was asked about: `tone` is the hertz of the nearest tone."""

    asked: float
    tone: float
    conditions: tuple[ConditionAnswer, ...]
    comparisons: tuple[ComparisonAnswer, ...]


@dataclass(frozen=True, slots=True)
class FrequenciesAnswer:
    """What `takes` recordings of contacts say at the tones `frequency` (hertz).

    `answered_at` is the tone at which the answer itself stands, null where readings of direct current make it. `remarks` say
    what is to be known when reading the curves; `measured` is how the takes were made, null where that is not known.
    """

    takes: int
    answered_at: float | None
    frequency: tuple[float, ...]
    at: tuple[AtFrequencyAnswer, ...]
    curves: tuple[ConditionCurveAnswer, ...]
    comparisons: tuple[ComparisonCurveAnswer, ...]
    direct: tuple[BesideDirectAnswer, ...]
    remarks: tuple[str, ...]
    measured: TakesMeasuredAnswer | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """Everything that one study says.

    `sentence` is the answer in words, `ambient` the bench's temperature in kelvin, `largest_current` the largest current in
    the readings or takes in ampere, null where resistances were read directly. `bench` is null where no check standard was read.
    `sensitivity` is empty where no specimen was left out (the study is too large, or has too few), `parts` where plugs and
    sockets are not re-paired, `factors` where there is one factor only; `history` is null unless the study names past ones, and
    `frequencies` unless its contacts were measured with tones.
    """

    format: str
    question: str
    sentence: str
    findings: tuple[str, ...]
    scale: str
    coverage: float
    reference: str | None
    limit: Bound | None
    margin: Bound | None
    ambient: float
    rows: int
    rows_used: int
    resistances: int
    specimens: tuple[SpecimenAnswer, ...]
    conditions: tuple[ConditionAnswer, ...]
    comparisons: tuple[ComparisonAnswer, ...]
    scatter: tuple[ScatterAnswer, ...]
    budget_of: str
    budget: tuple[BudgetAnswer, ...]
    equivalent_length: tuple[LengthAnswer, ...]
    uses: tuple[UseAnswer, ...]
    warnings: tuple[WarningAnswer, ...]
    actions: tuple[ActionAnswer, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
    largest_current: float | None = None
    factors: tuple[FactorAnswer, ...] = ()
    interactions: tuple[InteractionAnswer, ...] = ()
    bench: BenchAnswer | None = None
    sensitivity: tuple[SensitivityAnswer, ...] = ()
    parts: tuple[PartAnswer, ...] = ()
    history: HistoryAnswer | None = None
    frequencies: FrequenciesAnswer | None = None


def as_json(answer: DataclassInstance) -> dict[str, Any]:
    """An answer (of any of the commands) as JSON-ready dicts; infinities and NaN become null."""
    return {field.name: _plain(getattr(answer, field.name)) for field in dataclasses.fields(answer)}


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value
