"""A certificate beside what is kept of its cable, or lot: in a folder, and in the shop's records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ohmsworth.errors import OhmsworthError
from ohmsworth.report.papers.certificate import Certificate
from ohmsworth.report.papers.kinds import Paper
from ohmsworth.report.papers.lot_certificate import LotCertificate
from ohmsworth.report.papers.verification import (
    CABLE,
    CURRENT,
    FAILS,
    FOLDER,
    HELD,
    HOLDS,
    NOT_CHECKED,
    CheckAnswer,
)
from ohmsworth.work.papers.held import HeldPaper
from ohmsworth.work.papers.lot_body import STUDY_FILE, files_of
from ohmsworth.work.papers.ports import VerifyPorts

#: Differences that are told one by one.
_MOST_TOLD = 20


def records_checks(paper: Paper, held: HeldPaper | None, ports: VerifyPorts) -> list[CheckAnswer]:
    """What the shop's records say of a paper: issued so, still in force, and its cable unchanged."""
    if held is None:
        words = f"The records hold no paper with number {paper.number}."
        return [CheckAnswer(HELD, NOT_CHECKED, words)]
    cable = f"cable {held.cable}"
    if held.digest != paper.digest:
        told = f"Issued there: {held.digest}", f"in this file: {paper.digest}"
        words = f"The records hold another paper with this number, of {cable}: its digest is another one."
        return [CheckAnswer(HELD, FAILS, words, told)]
    checks = [CheckAnswer(HELD, HOLDS, f"The records hold this very paper, of {cable}.")]
    if held.later:
        words = f"It no longer counts: {held.later} takes its place. Why: {held.why}"
        checks.append(CheckAnswer(CURRENT, FAILS, words))
    else:
        checks.append(CheckAnswer(CURRENT, HOLDS, "No later paper takes its place."))
    if isinstance(paper, Certificate):  # papers of lots are kept in their folders, and not there
        checks.append(same_cable(CABLE, "records", (paper, held.now), ports))
    return checks


def same_cable(
    name: str, where: str, what: tuple[Certificate, tuple[str, str]], ports: VerifyPorts
) -> CheckAnswer:
    """The check `name`: whether what is kept `where` says now what the certificate says; its own table may be another by now.

    Parameters
    ----------
    name
        Of the check.
    where
        "folder" or "records", for the sentences.
    what
        The certificate, and the texts of cable.toml and test.csv as they are now.
    ports
        Of verifying.
    """
    paper, now = what
    verb = "hold" if where == "records" else "holds"
    details = []
    try:
        then, today = (ports.read_cable(*texts) for texts in ((paper.description, paper.readings), now))
    except OhmsworthError as error:
        words = f"The {where} or the certificate cannot be read."
        return CheckAnswer(name, FAILS, words, tuple(str(error).splitlines()))
    if then.request != today.request:
        details += _differing_lines("cable.toml", paper.description, now[0])
    if paper.readings.split() != now[1].split():
        details += _differing_lines("test.csv", paper.readings, now[1])
    if not details:
        return CheckAnswer(name, HOLDS, f"The {where} {verb} the same description and the same readings.")
    says = "say" if where == "records" else "says"
    return CheckAnswer(name, FAILS, f"The {where} {says} something else by now.", tuple(details[:_MOST_TOLD]))


def same_lot(paper: LotCertificate, now: Mapping[str, str], ports: VerifyPorts) -> CheckAnswer:
    """Whether the folder says now what the certificate says; its own table may be another by now.

    Parameters
    ----------
    paper
        The certificate.
    now
        The texts of the study's files as they are now, by their names.
    ports
        Of verifying.
    """
    before = files_of(paper)
    details = []
    try:
        then, today = (replace(ports.read_lot(texts).study, paper=None) for texts in (before, now))
    except OhmsworthError as error:
        words = "The folder or the certificate cannot be read."
        return CheckAnswer(FOLDER, FAILS, words, tuple(str(error).splitlines()))
    for name in sorted({*before, *now}, key=lambda name: (name != STUDY_FILE, name)):
        old, new = before.get(name, ""), now.get(name, "")
        changed = then != today if name == STUDY_FILE else old.split() != new.split()
        if changed:
            details += _differing_lines(name, old, new)
    if not details:
        return CheckAnswer(FOLDER, HOLDS, "The folder holds the same study and the same readings.")
    return CheckAnswer(FOLDER, FAILS, "The folder says something else by now.", tuple(details[:_MOST_TOLD]))


def _differing_lines(name: str, then: str, now: str) -> list[str]:
    before, after = then.splitlines(), now.splitlines()
    told = []
    for k in range(max(len(before), len(after))):
        old, new = (lines[k].strip() if k < len(lines) else "nothing" for lines in (before, after))
        if old != new:
            told.append(
                f"{name}, line {k + 1}: {old or 'an empty line'} in the certificate, {new or 'an empty line'} now"
            )
    return told
