"""What a certificate says, out of what was measured and stated: used to issue one, and to see whether one says what follows."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.cables.request import CableMeter, CableRequest
from ohmsworth.readings.paper_request import PaperRequest
from ohmsworth.report.cable_answer import RIGHT, CableAnswer, CableWireAnswer
from ohmsworth.report.papers.certificate import (
    CERTIFICATE,
    FORMAT,
    TEST_REPORT,
    CertificateBody,
    PaperCable,
    PaperFault,
    PaperMeter,
    PaperResults,
    PaperWire,
    Superseded,
)
from ohmsworth.report.papers.certificate_words import decision_rule

#: Digits of a number: more than any meter has, and fewer than differ from one computer to another.
DIGITS = 6


def number_text(value: float | None) -> str:
    """A number as it stands in a certificate; "" for none.

    Examples
    --------
    >>> number_text(0.7901), number_text(293.15), number_text(None)
    ('0.7901', '293.15', '')
    """
    return "" if value is None else f"{value:.{DIGITS}g}"


def body_of(
    paper: PaperRequest,
    request: CableRequest,
    answer: CableAnswer,
    texts: tuple[str, str],
    issued: str,
    superseded_digest: str,
    made_with: str,
) -> CertificateBody:
    """The certificate without its seal.

    Parameters
    ----------
    texts
        Of cable.toml and of test.csv.
    issued
        When, as ISO 8601 with an offset.
    superseded_digest
        Of the certificate that this one takes the place of; "" for a first one.
    """
    return CertificateBody(
        format=FORMAT,
        kind=CERTIFICATE if answer.verdict == RIGHT else TEST_REPORT,
        number=paper.number,
        issued=issued,
        tested=paper.tested.isoformat(),
        tested_by=paper.tested_by,
        customer=paper.customer,
        shop=paper.shop,
        address=paper.address,
        supersedes=Superseded(paper.supersedes, superseded_digest, paper.reason),
        cable=_cable(request, answer),
        meter=_meter(request.meter),
        results=_results(answer),
        description=texts[0],
        readings=texts[1],
        made_with=made_with,
    )


def _cable(request: CableRequest, answer: CableAnswer) -> PaperCable:
    return PaperCable(
        answer.name,
        answer.serial,
        number_text(answer.length),
        number_text(answer.length_tolerance),
        number_text(answer.temperature),
        number_text(answer.temperature_tolerance),
        "yes" if request.stated else "no",
    )


def _meter(meter: CableMeter | None) -> PaperMeter:
    assert meter is not None  # nothing is judged without one
    accuracy = meter.accuracy
    return PaperMeter(
        meter.name,
        meter.serial,
        meter.calibrated.isoformat() if meter.calibrated else "",
        number_text(accuracy.gain),
        number_text(accuracy.counts),
        number_text(accuracy.resolution),
        number_text(accuracy.standard),
        number_text(meter.leads.value),
        number_text(meter.leads.uncertainty),
    )


def _results(answer: CableAnswer) -> PaperResults:
    return PaperResults(
        answer.verdict or "",
        number_text(answer.coverage),
        str(answer.nets),
        str(answer.pairs),
        str(answer.pairs_left),
        _wires(answer.wires),
        tuple(PaperFault(fault.kind, fault.places, fault.words) for fault in answer.faults),
        tuple(one.wire for one in answer.stands_out),
        answer.sentence,
        answer.findings,
        decision_rule(answer.coverage),
    )


def _wires(wires: Sequence[CableWireAnswer]) -> tuple[PaperWire, ...]:
    return tuple(
        PaperWire(
            wire.name, wire.start, wire.stop, wire.kind,
            number_text(wire.resistance), number_text(wire.standard_uncertainty),
            number_text(wire.low), number_text(wire.high),
            number_text(wire.probability_within), wire.verdict or "",
        )
        for wire in wires
    )  # fmt: skip
