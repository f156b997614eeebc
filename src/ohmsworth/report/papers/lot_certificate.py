"""The certificate of a lot as plain records: what its file holds, and what its pages are written from.

Everything is text, as in the certificate of a cable: resistances in ohm, temperatures in kelvin, shares and chances from 0 to
1; "" stands for "not known". The field names are a published format: adding one is free, changing or removing one makes a new
version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.papers.certificate import PaperHead, Signature

FORMAT = "ohmsworth lot certificate 1"


@dataclass(frozen=True, slots=True)
class PaperText:
    """A further file of the study: its name and its text."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class PaperLot:
    """The lot: what it consists of, what tells it from others, how many pieces it holds, and how the sample was drawn."""

    name: str
    number: str
    size: str
    drawn: str


@dataclass(frozen=True, slots=True)
class PaperLimit:
    """What no piece should exceed, and who says so."""

    resistance: str
    source: str


@dataclass(frozen=True, slots=True)
class PaperLotMeter:
    """A meter that the readings were taken with, `role` as in the study; accuracy as in the certificate of a cable."""

    role: str
    name: str
    serial: str
    calibrated: str
    gain: str
    counts: str
    resolution: str
    stated_uncertainty: str


@dataclass(frozen=True, slots=True)
class PaperAir:
    """Temperature: as `stated` for the bench, and from `low` to `high` as stated with the readings."""

    stated: str
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class PaperPlan:
    """The sampling plan: what it was asked to hold, its numbers, and what it does to lots with both shares.

    `kind` is "single", "double" or "variables"; the other keys are those of `ohmsworth lot --json`. `words` is a sentence.
    """

    kind: str
    acceptable: str
    rejectable: str
    producer_risk: str
    consumer_risk: str
    inspection: str
    lots_before: str
    sample: str
    accepted: str
    k: str
    rejected: str
    second: str
    accepted_both: str
    accepts_acceptable: str
    accepts_rejectable: str
    words: str


@dataclass(frozen=True, slots=True)
class PaperPiece:
    """A piece by its worst contact: resistance with its standard uncertainty, chance to be within the limit, verdict."""

    piece: str
    resistances: str
    resistance: str
    standard_uncertainty: str
    probability_within: str
    verdict: str


@dataclass(frozen=True, slots=True)
class PaperLeftOut:
    """A row of the readings that does not count, and why."""

    row: str
    reason: str


@dataclass(frozen=True, slots=True)
class LotResults:
    """What the readings show.

    `verdict` is "accept", "reject" or "cannot tell yet"; `bench_in_doubt` is "yes" or "no", "" where no check standard was read.
    The counts are of pieces; `held_against`, `distance` and the shares are those of `ohmsworth lot --json`. `sentence`,
    `findings`, `rule` and `warnings` are for people: another version may word them otherwise.
    """

    verdict: str
    bench_in_doubt: str
    coverage: str
    pieces: tuple[PaperPiece, ...]
    measured: str
    within: str
    over: str
    close: str
    held_against: str
    distance: str
    distance_least: str
    distance_most: str
    share: str
    share_low: str
    share_high: str
    left_out: tuple[PaperLeftOut, ...]
    sentence: str
    findings: tuple[str, ...]
    rule: tuple[str, ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LotCertificateBody(PaperHead):
    """Everything that the digest and the signature are over.

    `kind` is "certificate" of a lot that is accepted on a bench that nothing speaks against, and otherwise "test report".
    `description` and `readings` are the texts of study.toml and readings.csv, `others` those of further files that the study
    has; all results follow from them.
    """

    lot: PaperLot
    limit: PaperLimit
    meters: tuple[PaperLotMeter, ...]
    temperature: PaperAir
    plan: PaperPlan
    results: LotResults
    description: str
    readings: str
    others: tuple[PaperText, ...]
    made_with: str


@dataclass(frozen=True, slots=True)
class LotCertificate(LotCertificateBody):
    """The certificate of a lot, sealed as that of a cable is."""

    digest: str
    signature: Signature
