"""What several studies know together of one comparison, as plain records.

Resistances are in ohm, ratios have no unit, shares run from 0 to 1; None stands for "the studies cannot say". The field names are
a published format: adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import Bound, Interval, SourceAnswer

FORMAT = "ohmsworth known 1"


@dataclass(frozen=True, slots=True)
class StudyKnown:
    """What one study says: the ratio with its interval, its logarithm with its standard error, and its weight among all.

    `specimens` were read under `of` and under `against`, `pairs` of them under both.
    """

    name: str
    question: str
    specimens: tuple[int, int]
    pairs: int
    ratio: Interval
    log_ratio: float
    standard_error: float
    degrees_of_freedom: float | None
    weight: float


@dataclass(frozen=True, slots=True)
class UnusedStudy:
    """A study that does not count, and why, as a sentence."""

    name: str
    why: str


@dataclass(frozen=True, slots=True)
class BetweenStudies:
    """How far true ratios differ between studies: standard deviation of their logarithms, with its interval.

    `square` and `p_value` are Cochran's Q and the chance of as much where they do not differ; `share` is that of the scatter of
    the ratios that lies between studies. `high` is null where no difference is too large.
    """

    spread: float
    low: float
    high: float | None
    square: float
    p_value: float
    share: float


@dataclass(frozen=True, slots=True)
class WithoutStudy:
    """All but the study of this name; `decides` says that the conclusion, which of both is the higher, changes without it."""

    name: str
    ratio: Interval
    decides: bool


@dataclass(frozen=True, slots=True)
class InOhm:
    """The same in ohm, for contacts that have `base` under `against`, the middle of the studies, held against the margin.

    `difference` is what all studies say together, `next_lot` what a new lot would show; a verdict is one of the guide's words.
    """

    base: float
    margin: Bound
    difference: Interval
    verdict: str
    next_lot: Interval | None
    next_verdict: str | None


@dataclass(frozen=True, slots=True)
class KnownAnswer:
    """Condition `of` against condition `against` over several studies.

    `together` is their common ratio, `log_mean` and `standard_error` its logarithm's; `guarded` says that the studies agree
    better than their uncertainties lead one to expect, and that the interval was not narrowed for that. `next_lot` is the true
    ratio in the next study or lot. `between` and `next_lot` are null for a single study, `in_ohm` where no study has a margin.
    """

    format: str
    of: str
    against: str
    sentence: str
    findings: tuple[str, ...]
    coverage: float
    studies: tuple[StudyKnown, ...]
    unused: tuple[UnusedStudy, ...]
    together: Interval
    log_mean: float
    standard_error: float
    degrees_of_freedom: float | None
    p_value: float
    guarded: bool
    between: BetweenStudies | None
    next_lot: Interval | None
    without: tuple[WithoutStudy, ...]
    in_ohm: InOhm | None
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
