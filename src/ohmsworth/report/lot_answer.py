"""The answer about a lot as plain records: what other programs read, and what its report is written from.

Shares and chances run from 0 to 1, resistances are in ohm; None stands for "not asked" or "the data cannot say". The field
names are a published format: adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import (
    ActionAnswer,
    BenchAnswer,
    Bound,
    SourceAnswer,
    SpecimenAnswer,
    WarningAnswer,
)

FORMAT = "ohmsworth lot 1"


@dataclass(frozen=True, slots=True)
class LotPlanAnswer:
    """A plan: draw `sample`, accept with at most `accepted` bad, or with the mean `k` standard deviations off the limit.

    `second` pieces are drawn when more than `accepted` and fewer than `rejected` are bad, and `accepted_both` then holds for
    both samples. `drawn_on_average` is from a lot with the acceptable share. `accepts_acceptable` and `accepts_rejectable`
    are the chances that such lots are accepted.
    """

    kind: str
    sample: int
    accepted: int | None
    k: float | None
    rejected: int | None
    second: int | None
    accepted_both: int | None
    drawn_on_average: float
    accepts_acceptable: float
    accepts_rejectable: float


@dataclass(frozen=True, slots=True)
class PublishedPlanAnswer:
    """The published table's plan for this lot: the largest acceptance quality limit that is not above the acceptable share."""

    limit: float
    sample: int
    accepted: int
    rejected: int
    accepts_acceptable: float
    accepts_rejectable: float


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """Chance that a lot with `share` over the limit is accepted, by the plan and by the published one."""

    share: float
    accepted: float
    accepted_published: float | None


@dataclass(frozen=True, slots=True)
class LotMeasuredAnswer:
    """What the sample says: pieces by their verdicts, the number held against, the share over the limit.

    `held_against` is the acceptance number, or k; `distance`, `distance_least` and `distance_most` are standard deviations
    from mean to limit, as observed and with the uncertainty for and against. The bounds of `share` hold with `confidence`
    each. `more` pieces are still wanting.
    """

    specimens: int
    within: int
    over: int
    close: int
    more: int
    held_against: float
    distance: float | None
    distance_least: float | None
    distance_most: float | None
    share: float
    share_low: float | None
    share_high: float
    confidence: float


@dataclass(frozen=True, slots=True)
class PieceRiskAnswer:
    """Of all pieces like these: passed though bad, and held back though good, when each is judged with this guard band.

    `guard` is in standard uncertainties of one piece; `passed_up_to` is the largest reading that is passed (ohm).
    """

    policy: str
    guard: float
    passed_up_to: float
    consumer: float
    producer: float
    chosen: bool


@dataclass(frozen=True, slots=True)
class GuardPoint:
    """The same two chances over the width of the guard band, in standard uncertainties."""

    guard: float
    consumer: float
    producer: float


@dataclass(frozen=True, slots=True)
class LotAnswer:
    """Everything said of one lot; `verdict` is "accept", "reject", "cannot tell yet", or None before the sample is measured.

    `bench` is what the check standard says of the bench; None where none was read.
    """

    format: str
    question: str
    sentence: str
    verdict: str | None
    findings: tuple[str, ...]
    scale: str
    coverage: float
    limit: Bound
    size: int | None
    acceptable: float
    rejectable: float
    producer_risk: float
    consumer_risk: float
    inspection: str
    lots_before: int
    plan: LotPlanAnswer | None
    others: tuple[LotPlanAnswer, ...]
    published: PublishedPlanAnswer | None
    curve: tuple[CurvePoint, ...]
    measured: LotMeasuredAnswer | None
    piece_risks: tuple[PieceRiskAnswer, ...]
    guard_curve: tuple[GuardPoint, ...]
    specimens: tuple[SpecimenAnswer, ...]
    warnings: tuple[WarningAnswer, ...]
    actions: tuple[ActionAnswer, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
    bench: BenchAnswer | None = None
