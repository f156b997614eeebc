"""The answer while readings arrive, as plain records: what the bench's pages show after each reading.

All quantities are SI; None stands for "the data cannot say yet". This is no published format: it changes with the pages.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import Bound, Interval

#: Whether to go on reading.
STOP, GO_ON, NOT_HERE, CHECK = "stop", "go on", "cannot be settled here", "check the readings"
#: How the answer is looked at: while it is read, as often as one likes, or once when the sheet is finished.
AS_READ, AT_END = "as read", "at the end"


@dataclass(frozen=True, slots=True)
class LiveDot:
    """One resistance (ohm) for the drawing; `used` says whether it is in the answer, `line` where its first reading stands."""

    specimen: str
    condition: str
    mating: str
    resistance: float
    used: bool
    line: int


@dataclass(frozen=True, slots=True)
class LiveSpecimen:
    """One specimen under one condition.

    `low` and `high` are the ordinary interval of this moment, ohm. `verdict` is that against the limit at the confidence that
    its own look needs (`confidence`, None before its first mating is complete); `plain_verdict` what the ordinary answer
    would say. Both are None without a limit. `done` of `planned` matings are complete.
    """

    id: str
    condition: str
    resistance: float
    low: float | None
    high: float | None
    verdict: str | None
    plain_verdict: str | None
    confidence: float | None
    state: str
    done: int
    planned: int
    latest: bool = True


@dataclass(frozen=True, slots=True)
class LiveCondition:
    """The specimens of one condition; `low`, `high`, `verdict`, `plain_verdict` and `confidence` as in a LiveSpecimen.

    `specimens_complete` counts those whose matings are all read.
    """

    condition: str
    specimens: int
    specimens_complete: int
    resistance: float
    low: float | None
    high: float | None
    verdict: str | None
    plain_verdict: str | None
    confidence: float | None
    state: str
    done: int
    planned: int


@dataclass(frozen=True, slots=True)
class LiveMore:
    """How much more would settle it with `chance`, if things are as found: `count` of `what` ("specimens", "matings").

    Specimens count for each condition. `on_sheet` says whether the sheet holds them already.
    """

    what: str
    count: int
    chance: float
    on_sheet: bool


@dataclass(frozen=True, slots=True)
class LiveComparison:
    """Condition `of` against condition `against`.

    `difference` (ohm) and `ratio` have the ordinary interval of this moment; `judged` is the interval of the difference that
    holds over all looks together (ends None where it has none yet). `verdict` is at the confidence `confidence`, which this
    look needs; `plain_verdict` is the ordinary answer's. Both are None without a margin. `supported` says whether there are
    specimens enough for any verdict.
    """

    of: str
    against: str
    difference: Interval
    ratio: Interval
    judged: Interval
    margin: float | None
    verdict: str | None
    plain_verdict: str | None
    confidence: float | None
    supported: bool
    done: int
    planned: int
    more: LiveMore | None


@dataclass(frozen=True, slots=True)
class LiveDoubt:
    """A grave doubt that nobody has answered: its code and words, the lines and the specimens; none for the whole study."""

    code: str
    words: str
    rows: tuple[int, ...]
    specimens: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LiveAnswer:
    """The answer at this moment.

    Parameters
    ----------
    sentence
        What is known, and whether to go on, in plain words.
    findings
        Sentences behind it.
    stop
        "stop", "go on", "cannot be settled here" or "check the readings".
    more
        What would settle it; None when it is settled, or nothing can be said.
    rule
        One line that explains how looking early is allowed for.
    looks
        "as read" or "at the end".
    coverage
        Of the study: the level of its ordinary answer.
    coverage_at_end
        Confidence that verdicts need when the sheet is finished, looks allowed for.
    done, planned
        Matings complete and on the sheet, all conditions together. `assumed` says that no sheet was given.
    dots
        Every resistance.
    axis
        Ends of a scale (ohm) that holds all dots and bounded intervals of values; None before the first reading.
    doubts, doubtful
        Grave doubts about readings that are in the answer; `doubtful` says that they are about most of these.
    faults
        Why the readings cannot be used as they are; then there are no results.
    """

    sentence: str
    findings: tuple[str, ...]
    stop: str
    more: LiveMore | None
    rule: str
    looks: str
    scale: str
    coverage: float
    coverage_at_end: float
    limit: Bound | None
    margin: Bound | None
    reference: str | None
    done: int
    planned: int
    assumed: bool
    specimens: tuple[LiveSpecimen, ...] = ()
    conditions: tuple[LiveCondition, ...] = ()
    comparisons: tuple[LiveComparison, ...] = ()
    dots: tuple[LiveDot, ...] = ()
    axis: tuple[float, float] | None = None
    doubts: tuple[LiveDoubt, ...] = ()
    doubtful: bool = False
    faults: tuple[str, ...] = ()

    @property
    def finished(self) -> bool:
        """Whether every mating of the sheet is read."""
        return self.done >= self.planned
