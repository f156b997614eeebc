"""The certificate of a cable as plain records: what its file holds, and what its pages are written from; the head of all.

Everything is text, numbers too: so the digest needs no rule for how a number is written. Resistances are in ohm, lengths in
metre, temperatures in kelvin, chances from 0 to 1; "" stands for "not known". The field names are a published format: adding
one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

FORMAT = "ohmsworth certificate 1"
#: Of a cable that is right, and of any other.
CERTIFICATE, TEST_REPORT = "certificate", "test report"
#: How a signature is made.
ALGORITHM = "Ed25519"


@dataclass(frozen=True, slots=True)
class Superseded:
    """The certificate that this one takes the place of: its number and digest, and why; "" for a first one."""

    number: str
    digest: str
    reason: str


@dataclass(frozen=True, slots=True)
class PaperCable:
    """What was tested; `temperature_stated` is "yes", or "no" where it was taken for granted."""

    name: str
    serial: str
    length: str
    length_tolerance: str
    temperature: str
    temperature_tolerance: str
    temperature_stated: str


@dataclass(frozen=True, slots=True)
class PaperMeter:
    """The meter; `calibrated` is a day, `gain` a share of the reading, `counts` in steps of `resolution`."""

    name: str
    serial: str
    calibrated: str
    gain: str
    counts: str
    resolution: str
    stated_uncertainty: str
    leads: str
    leads_uncertainty: str


@dataclass(frozen=True, slots=True)
class PaperWire:
    """A wire: from where to where, what it read with its standard uncertainty, its bounds, and the verdict."""

    name: str
    start: str
    stop: str
    kind: str
    resistance: str
    standard_uncertainty: str
    low: str
    high: str
    probability_within: str
    verdict: str


@dataclass(frozen=True, slots=True)
class PaperFault:
    """Something wrong with the wiring."""

    kind: str
    places: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class PaperResults:
    """What the readings show.

    `verdict` is "right", "wrong", "look first" or "too close to call"; `coverage` is the chance that a verdict on a wire
    needs, and `rule` says in words how one is found. Of `pairs` of nets that must not touch, `pairs_left` were not ruled out.
    `sentence`, `findings`, `rule` and the `words` of faults are for people: another version may word them otherwise.
    """

    verdict: str
    coverage: str
    nets: str
    pairs: str
    pairs_left: str
    wires: tuple[PaperWire, ...]
    faults: tuple[PaperFault, ...]
    stands_out: tuple[str, ...]
    sentence: str
    findings: tuple[str, ...]
    rule: str


@dataclass(frozen=True, slots=True)
class Signature:
    """Over the canonical form, by the private key that belongs to `public_key`; both in base64."""

    algorithm: str
    public_key: str
    value: str


@dataclass(frozen=True, slots=True)
class PaperHead:
    """What stands on every paper, whatever it is about."""

    format: str
    kind: str
    number: str
    issued: str
    tested: str
    tested_by: str
    customer: str
    shop: str
    address: str
    supersedes: Superseded


@dataclass(frozen=True, slots=True)
class CertificateBody(PaperHead):
    """Everything that the digest and the signature are over.

    `kind` is "certificate" of a cable that is right, and otherwise "test report". `issued` is a time with its offset, `tested`
    a day. `description` and `readings` are the texts of cable.toml and test.csv, from which all results follow.
    """

    cable: PaperCable
    meter: PaperMeter
    results: PaperResults
    description: str
    readings: str
    made_with: str


@dataclass(frozen=True, slots=True)
class Certificate(CertificateBody):
    """The certificate: `digest` is the SHA-256 of its canonical form without `digest` and `signature`, in hexadecimal."""

    digest: str
    signature: Signature
