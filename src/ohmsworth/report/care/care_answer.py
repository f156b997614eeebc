"""The answer about care for one contact as plain records: what other programs read, and what its report is written from.

Resistances are in ohm, costs in the shop's money, chances and shares from 0 to 1, days as year-month-day; None stands for "not
known" or "not asked". The field names are a published format: adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import ActionAnswer, Bound, SourceAnswer, WarningAnswer

FORMAT = "ohmsworth care 1"


@dataclass(frozen=True, slots=True)
class MakerAnswer:
    """What the maker's instructions say, which prevail; `stated` is false where nobody looked them up."""

    stated: bool
    who: str
    words: tuple[str, ...]
    forbids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OptionAnswer:
    """One way to begin, and `then` what follows while the contact still matters.

    `cost` is expected, the sum of `labour`, `material`, `further` and `failing`; `low` and `high` say how far that expectation
    may be off, and `cheapest` in how many of the draws behind them this way was the cheapest. `chance_bad` is that it ends with a
    contact that matters, `pays_above` the chance to matter from which it costs less than leaving it (null: never). `times_left`
    are how often the plating bears it yet, at worst and at best.
    """

    name: str
    words: str
    then: tuple[str, ...]
    cost: float
    low: float
    high: float
    labour: float
    material: float
    further: float
    failing: float
    cheapest: float
    chance_bad: float
    pays_above: float | None
    times_left_low: float | None
    times_left_high: float | None


@dataclass(frozen=True, slots=True)
class LeftOutAnswer:
    """A remedy that is not among the options, and why."""

    name: str
    why: str


@dataclass(frozen=True, slots=True)
class SwitchAnswer:
    """An input that would change the first of the options: as it is, where that changes, and what would be first beyond."""

    what: str
    value: float
    at: float
    instead: str
    words: str


@dataclass(frozen=True, slots=True)
class HelpAnswer:
    """How often a remedy leaves good a contact that mattered: the first guess, the shop's cases, and both together.

    `not_counted` are outcomes of contacts that did not matter before, which teach nothing of that.
    """

    name: str
    first_guess: float
    cases: int
    good: int
    not_counted: int
    chance: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class ChangeAnswer:
    """What a remedy did to the shop's own contacts: resistance after over before, over `contacts` of `jobs` jobs.

    The interval is null where one contact shows no scatter. `next_low` and `next_high` are where the ratio of a next job lies,
    null for a single job. `exact_p_value` is the sign-flip test of no change. `after` is the typical resistance after it,
    `no_path` counts contacts without a path before or after, which have no ratio.
    """

    name: str
    contacts: int
    jobs: int
    ratio: float
    low: float | None
    high: float | None
    next_low: float | None
    next_high: float | None
    exact_p_value: float
    after: float
    no_path: int


@dataclass(frozen=True, slots=True)
class DatedAnswer:
    """One reading of the contact's history; `counted` says whether the line goes through it."""

    day: str
    resistance: float
    counted: bool


@dataclass(frozen=True, slots=True)
class TrendPoint:
    """The line on one day, and between which resistances the next reading would lie."""

    day: str
    resistance: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class TrendAnswer:
    """The contact's history with its line: a year multiplies the resistance by `per_year`.

    `soonest` and `latest` are the days between which the next reading comes to the limit, `estimate` where the line does; null
    where the history does not show that it does.
    """

    readings: tuple[DatedAnswer, ...]
    line: tuple[TrendPoint, ...]
    per_year: float
    per_year_low: float
    per_year_high: float
    soonest: str | None
    estimate: str | None
    latest: str | None


@dataclass(frozen=True, slots=True)
class NextLookAnswer:
    """When to look again: from `soonest` on it may matter, from `latest` on it surely does; null where that is not known.

    `reason` is "air", "trend" or "history" (followed no further than it is long); `after` says whether that counts from a
    treatment that is still to be done.
    """

    soonest: str | None
    latest: str | None
    reason: str | None
    before_each_use: bool
    after: str


@dataclass(frozen=True, slots=True)
class CareAnswer:
    """What to do with one contact; `advice` names the first of the options. `why_no_look` is "" where there is a next look."""

    format: str
    subject: str
    sentence: str
    advice: str
    findings: tuple[str, ...]
    maker: MakerAnswer
    asked_on: str
    coverage: float
    currency: str
    limit: Bound
    resistance: float
    standard_uncertainty: float
    degrees_of_freedom: float | None
    chance_matters: float
    options: tuple[OptionAnswer, ...]
    left_out: tuple[LeftOutAnswer, ...]
    switches: tuple[SwitchAnswer, ...]
    helps: tuple[HelpAnswer, ...]
    changes: tuple[ChangeAnswer, ...]
    trend: TrendAnswer | None
    next_look: NextLookAnswer | None
    why_no_look: str
    actions: tuple[ActionAnswer, ...]
    warnings: tuple[WarningAnswer, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
