"""How contacts age by what they are and by what was done to them, as plain records.

Times are in years, resistances as ratios without unit; None stands for "the records cannot say". The field names are a published
format: adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from ohmsworth.report.answer import Interval, SourceAnswer

FORMAT = "ohmsworth ageing 1"
#: What contacts are told apart by.
By = Literal["part", "plating", "age", "supplier lot", "treatment", "condition"]
WAYS: tuple[By, ...] = get_args(By)
#: The level of contacts before any treatment.
UNTREATED = "not treated"
#: Levels of how old a contact was when it was read first: below so many years, and in words.
AGES = (
    (1.0, "under a year old"),
    (3.0, "1 to 3 years old"),
    (10.0, "3 to 10 years old"),
    (math.inf, "over 10 years old"),
)


@dataclass(frozen=True, slots=True)
class Chosen:
    """Only specimens and readings count that have `value` under `what`."""

    what: By
    value: str


@dataclass(frozen=True, slots=True)
class CoursePoint:
    """Visits of a level that lie together: years since their courses began, resistance over that at the beginning, how many."""

    years: float
    ratio: float
    visits: int


@dataclass(frozen=True, slots=True)
class LevelAgeing:
    """One level: by what factor the resistance of its contacts grows in a year.

    So many `specimens` of those `read` were read on two days or more, at `visits`; the longest course is `followed` years long.
    `log_slope` is the logarithm of `per_year`; `between` and `within` are standard deviations of specimens' own log slopes and of
    the logarithm at one visit. `doubles` are the years to twice the resistance. `age` is that of its specimens in the middle of
    their readings (median), by the day on which they were made or received. Where nothing can be told, `why` says so.
    """

    name: str
    specimens: int
    read: int
    visits: int
    followed: float
    per_year: Interval | None
    log_slope: float | None
    standard_error: float | None
    degrees_of_freedom: float | None
    between: float | None
    within: float | None
    doubles: Interval | None
    age: float | None
    course: tuple[CoursePoint, ...]
    why: str


@dataclass(frozen=True, slots=True)
class AgeingDifference:
    """Level `of` against level `against`: the yearly factor of the one over that of the other.

    The interval of `ratio` is its own; that of `together` holds for all differences at once, and by it the `verdict` is "faster",
    "slower" or "cannot tell yet".
    """

    of: str
    against: str
    ratio: Interval
    together: Interval
    log_difference: float
    standard_error: float
    degrees_of_freedom: float | None
    p_value: float
    verdict: str


@dataclass(frozen=True, slots=True)
class AgeingAnswer:
    """How contacts age, level by level.

    `unstated` specimens were read and say nothing of what is asked by; `waiting` studies are not yet looked through.
    `own_scatter` says whether each level has its own.
    """

    format: str
    by: By
    only: tuple[Chosen, ...]
    sentence: str
    findings: tuple[str, ...]
    coverage: float
    levels: tuple[LevelAgeing, ...]
    differences: tuple[AgeingDifference, ...]
    own_scatter: bool
    unstated: int
    waiting: int
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
