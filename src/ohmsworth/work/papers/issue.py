"""Issuing a certificate: only for a test that is complete, under a number of its own, sealed and signed."""

from __future__ import annotations

import base64
import json
from dataclasses import dataclass
from datetime import datetime

from ohmsworth.cables.paper_request import PaperRequest
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.report.answer import as_json
from ohmsworth.report.cable_answer import NOT_YET, CableAnswer
from ohmsworth.report.cable_sentences import following_words, missing_words
from ohmsworth.report.papers.certificate import ALGORITHM, Certificate, Signature
from ohmsworth.work.cable_study import cable_study
from ohmsworth.work.papers.body import body_of
from ohmsworth.work.papers.canonical import digest_of, sealed_bytes
from ohmsworth.work.papers.ports import FoundPaper, IssuePorts
from ohmsworth.work.papers.records import certificate_of
from ohmsworth.work.ports import LoadedCable

_TOML, _CSV = "cable.toml", "test.csv"


@dataclass(frozen=True, slots=True)
class IssueAsked:
    """A cable to certify: the texts of its description and of its readings, and the certificate to be superseded."""

    description: str
    readings: str | None
    superseded: FoundPaper | None = None


@dataclass(frozen=True, slots=True)
class Issued:
    """A new certificate, as records, as data and as the content of its file."""

    certificate: Certificate
    data: dict[str, object]
    content: bytes


def issue(asked: IssueAsked, ports: IssuePorts) -> Issued:
    """Certify a cable whose test is complete; one that is not right gets a test report that says so.

    Raises
    ------
    InputRefused
        With everything that is missing or wrong; nothing was signed.
    """
    loaded = ports.read_cable(asked.description, asked.readings)
    now = ports.clock()
    paper, faults = _paper_faults(loaded, now)
    answer = None
    if loaded.rows is None or asked.readings is None:
        mend = "Measure the cable by its test sheet first: 'ohmsworth cable FOLDER --pdf sheet.pdf'."
        faults.append(Fault(_CSV, "no such file", "what was measured", mend))
    else:
        answer = cable_study(loaded)
        faults += _incomplete(answer)
    if paper is not None:
        faults += _superseded_faults(paper, asked.superseded)
    if faults or paper is None or answer is None or asked.readings is None:
        raise InputRefused(tuple(faults))
    before = "" if asked.superseded is None else digest_of(asked.superseded.data)
    body = body_of(
        paper, loaded.request, answer, (asked.description, asked.readings),
        now.isoformat(timespec="seconds"), before, ports.made_with,
    )  # fmt: skip
    return _sealed(as_json(body), ports)


def _sealed(data: dict[str, object], ports: IssuePorts) -> Issued:
    digest = digest_of(data)
    signature = Signature(
        ALGORITHM, _base64(ports.signer.public_key), _base64(ports.signer.sign(sealed_bytes(data)))
    )
    plain = {**data, "digest": digest, "signature": as_json(signature)}
    return Issued(certificate_of(plain, "the certificate"), plain, (file_text(plain) + "\n").encode())


def file_text(data: object) -> str:
    """The data of a certificate as they stand in its file and inside its pages."""
    return json.dumps(data, ensure_ascii=False, indent=1)


def _base64(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")


def _paper_faults(loaded: LoadedCable, now: datetime) -> tuple[PaperRequest | None, list[Fault]]:
    """What is stated for the paper, and what is wrong with it beside this cable."""
    faults = []
    if loaded.paper is None:
        mend = "Head a table [certificate] with number, shop, tested_by and date."
        faults.append(Fault(f"{_TOML}, key 'certificate'", "no such table", "a table [certificate]", mend))
    if not loaded.request.serial:
        mend = "A certificate is of one cable: write the number on it."
        faults.append(Fault(f"{_TOML}, key 'serial'", "no such key", "what tells it from others", mend))
    if loaded.paper is not None and loaded.paper.tested > now.date():
        day = loaded.paper.tested.isoformat()
        where = f"{_TOML}, [certificate], key 'date'"
        faults.append(Fault(where, f"{day}, after today", "the day of the test", "Correct the date."))
    meter = loaded.request.meter
    tested = loaded.paper.tested if loaded.paper else now.date()
    if meter is not None and meter.calibrated is not None and meter.calibrated > tested:
        found = f"{meter.calibrated.isoformat()}, after the test"
        mend = "State the calibration that held when the cable was tested."
        faults.append(Fault(f"{_TOML}, [meter], key 'calibrated'", found, "a day before the test", mend))
    return loaded.paper, faults


def _incomplete(answer: CableAnswer) -> list[Fault]:
    """What is still to be measured before anything can be said."""
    if answer.verdict != NOT_YET:
        return []
    mend = following_words(answer) or "Measure what the test sheet asks for."
    return [Fault(_CSV, f"a test that is not complete: {missing_words(answer)}", "a whole test", mend)]


def _superseded_faults(paper: PaperRequest, found: FoundPaper | None) -> list[Fault]:
    """What is wrong with the certificate that this one takes the place of."""
    if not paper.supersedes:
        return []
    where = f"{_TOML}, [certificate], key 'supersedes'"
    if found is None:
        mend = "Put the file of that certificate beside cable.toml, as it was issued."
        return [Fault(where, f"{shorten(paper.supersedes)}, of which there is no file", "its file", mend)]
    if found.certificate.number != paper.supersedes:
        told = f"{shorten(paper.supersedes)}, and a file with number {shorten(found.certificate.number)}"
        return [Fault(where, told, "the file of that number", "Put the right file beside cable.toml.")]
    if digest_of(found.data) != found.certificate.digest:
        mend = "It was changed after it was issued: find the file as it was issued."
        return [Fault(where, f"{shorten(paper.supersedes)}, whose digest does not fit", "a whole file", mend)]
    return []
