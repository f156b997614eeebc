"""A plan as plain records: what other programs read, and what the pages are written from.

Quantities are SI, except minutes; None stands for "not asked" or "not reached". The field names are the published
format (``ohmsworth schema plan``): adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import Bound, SourceAnswer

FORMAT = "ohmsworth plan 1"


@dataclass(frozen=True, slots=True)
class DesignAnswer:
    """A design: specimens a condition, matings of each in each condition, readings (forward and reversed) of each mating.

    `specimens_in_all` counts the things to lay out, `rows` the lines of the bench sheet without the check standard.
    """

    specimens: int
    matings: int
    readings: int
    specimens_in_all: int
    rows: int
    minutes: float
    chance: float


@dataclass(frozen=True, slots=True)
class PlanScatterAnswer:
    """Scatter that the plan assumes: relative standard deviation, and where it is from."""

    level: str
    standard_deviation: float
    source: str


@dataclass(frozen=True, slots=True)
class ChanceAnswer:
    """One point of the power curve: with so many specimens a condition and matings, the best number of readings kept."""

    specimens: int
    matings: int
    readings: int
    chance: float


@dataclass(frozen=True, slots=True)
class PlanAnswer:
    """The plan of one study.

    `effect` is the planned difference as a fraction of `expected` (ohm, of the reference or the lot). `best` is the
    cheapest design with at least `chance_wanted`, None where `most_specimens` are too few; `alternatives` are the next;
    `half` is what half of its minutes can do; `most` is the best that can be had with all specimens. `curve` is the
    chance against specimens; `chance_if_wider` that of `best` if everything scatters half as much again.
    """

    format: str
    question: str
    sentence: str
    findings: tuple[str, ...]
    goal: str
    assignment: str
    conditions: tuple[str, ...]
    reference: str | None
    scale: str
    confidence: float
    chance_wanted: float
    effect: float | None
    expected: float | None
    expected_source: str | None
    margin: Bound | None
    limit: Bound | None
    content: float | None
    scatter: tuple[PlanScatterAnswer, ...]
    minutes_per_specimen: float
    minutes_per_mating: float
    minutes_per_reading: float
    most_specimens: int
    best: DesignAnswer | None
    alternatives: tuple[DesignAnswer, ...]
    half: DesignAnswer | None
    most: DesignAnswer | None
    chance_if_wider: float | None
    curve: tuple[ChanceAnswer, ...]
    smallest_exact_p_value: float | None
    specimens_without_model: int | None
    check_standard: str | None
    days: int
    operators: tuple[str, ...]
    seed: int
    cautions: tuple[str, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
