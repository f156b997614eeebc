"""Issuing a certificate: only for a test that is complete, under a number of its own, sealed and signed."""

from __future__ import annotations

import base64
import json
from dataclasses import dataclass
from datetime import date, datetime

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.readings.paper_request import PaperRequest
from ohmsworth.report.answer import as_json
from ohmsworth.report.cable_answer import NOT_YET, CableAnswer
from ohmsworth.report.cable_sentences import following_words, missing_words
from ohmsworth.report.papers.certificate import ALGORITHM, Certificate, Signature
from ohmsworth.report.papers.kinds import Paper
from ohmsworth.work.cable_study import cable_study
from ohmsworth.work.papers.body import body_of
from ohmsworth.work.papers.canonical import digest_of, sealed_bytes
from ohmsworth.work.papers.ports import FoundPaper, IssuePorts
from ohmsworth.work.papers.records import certificate_of
from ohmsworth.work.ports import LoadedCable

CABLE_FILE, TEST_FILE = "cable.toml", "test.csv"


@dataclass(frozen=True, slots=True)
class IssueAsked:
    """A cable to certify: the texts of its description and of its readings, and the certificate to be superseded."""

    description: str
    readings: str | None
    superseded: FoundPaper | None = None


@dataclass(frozen=True, slots=True)
class Issued:
    """A new certificate, as records, as data and as the content of its file."""

    certificate: Paper
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
    paper, faults = loaded.paper, _cable_faults(loaded, now)
    answer = None
    if loaded.rows is None or asked.readings is None:
        mend = "Measure the cable by its test sheet first: 'ohmsworth cable FOLDER --pdf sheet.pdf'."
        faults.append(Fault(TEST_FILE, "no such file", "what was measured", mend))
    else:
        answer = cable_study(loaded)
        faults += _incomplete(answer)
    if paper is not None:
        faults += superseded_faults(paper, asked.superseded, CABLE_FILE)
    if faults or paper is None or answer is None or asked.readings is None:
        raise InputRefused(tuple(faults))
    before = "" if asked.superseded is None else digest_of(asked.superseded.data)
    body = body_of(
        paper, loaded.request, answer, (asked.description, asked.readings),
        now.isoformat(timespec="seconds"), before, ports.made_with,
    )  # fmt: skip
    return sealed(as_json(body), ports)


def sealed(data: dict[str, object], ports: IssuePorts) -> Issued:
    """The data of a paper with its digest and the shop's signature."""
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


def _cable_faults(loaded: LoadedCable, now: datetime) -> list[Fault]:
    """What is missing or wrong in what is stated for the paper, and of the cable."""
    meter = loaded.request.meter
    calibrated = (("meter", meter.calibrated),) if meter is not None and meter.calibrated is not None else ()
    faults = stated_faults(CABLE_FILE, loaded.paper, calibrated, now)
    if not loaded.request.serial:
        mend = "A certificate is of one cable: write the number on it."
        faults.append(Fault(f"{CABLE_FILE}, key 'serial'", "no such key", "what tells it from others", mend))
    return faults


def stated_faults(
    file: str, paper: PaperRequest | None, calibrated: tuple[tuple[str, date], ...], now: datetime
) -> list[Fault]:
    """What is missing or wrong in what a file states for its paper.

    Parameters
    ----------
    file
        Its name.
    paper
        What is stated; None for nothing.
    calibrated
        The table of each meter, and when it was calibrated last.
    now
        The time of issue.
    """
    faults = []
    if paper is None:
        mend = "Head a table [certificate] with number, shop, tested_by and date."
        faults.append(Fault(f"{file}, key 'certificate'", "no such table", "a table [certificate]", mend))
    if paper is not None and paper.tested > now.date():
        where, found = f"{file}, [certificate], key 'date'", f"{paper.tested.isoformat()}, after today"
        faults.append(Fault(where, found, "the day of the test", "Correct the date."))
    for table, day in calibrated:
        if day > (paper.tested if paper else now.date()):
            mend = "State the calibration that held on the day of the test."
            found = f"{day.isoformat()}, after the test"
            faults.append(Fault(f"{file}, [{table}], key 'calibrated'", found, "a day before the test", mend))
    return faults


def _incomplete(answer: CableAnswer) -> list[Fault]:
    """What is still to be measured before anything can be said."""
    if answer.verdict != NOT_YET:
        return []
    mend = following_words(answer) or "Measure what the test sheet asks for."
    return [Fault(TEST_FILE, f"a test that is not complete: {missing_words(answer)}", "a whole test", mend)]


def superseded_faults(paper: PaperRequest, found: FoundPaper | None, file: str) -> list[Fault]:
    """What is wrong with the certificate that this one takes the place of; `file` is the one that names it."""
    if not paper.supersedes:
        return []
    where = f"{file}, [certificate], key 'supersedes'"
    if found is None:
        mend = f"Put the file of that certificate beside {file}, as it was issued."
        return [Fault(where, f"{shorten(paper.supersedes)}, of which there is no file", "its file", mend)]
    if found.certificate.number != paper.supersedes:
        told = f"{shorten(paper.supersedes)}, and a file with number {shorten(found.certificate.number)}"
        return [Fault(where, told, "the file of that number", f"Put the right file beside {file}.")]
    if isinstance(found.certificate, Certificate) != (file == CABLE_FILE):
        told, mend = f"{shorten(paper.supersedes)}, a paper of another kind", "Name a paper of the same kind."
        return [Fault(where, told, "a lot's paper for a lot, a cable's for a cable", mend)]
    if digest_of(found.data) != found.certificate.digest:
        mend = "It was changed after it was issued: find the file as it was issued."
        return [Fault(where, f"{shorten(paper.supersedes)}, whose digest does not fit", "a whole file", mend)]
    return []
