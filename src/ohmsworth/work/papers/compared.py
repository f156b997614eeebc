"""A certificate beside what is kept of its cable, or lot: in a folder, and in the shop's records."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ohmsworth.errors import OhmsworthError
from ohmsworth.report.papers.certificate import Certificate
from ohmsworth.report.papers.kinds import Paper
from ohmsworth.report.papers.lot_certificate import LotCertificate
from ohmsworth.report.papers.verification import (
    CABLE,
    CURRENT,
    FAILS,
    HELD,
    HOLDS,
    LOT,
    NOT_CHECKED,
    CheckAnswer,
)
from ohmsworth.work.papers.held import HeldPaper
from ohmsworth.work.papers.issue import CABLE_FILE, TEST_FILE
from ohmsworth.work.papers.lot_body import STUDY_FILE, files_of
from ohmsworth.work.papers.ports import VerifyPorts

#: Differences that are told one by one.
_MOST_TOLD = 20


def records_checks(paper: Paper, held: HeldPaper | None, ports: VerifyPorts) -> list[CheckAnswer]:
    """What the shop's records say of a paper: issued so, still in force, and its cable unchanged."""
    if held is None:
        words = f"The records hold no paper with number {paper.number}."
        return [CheckAnswer(HELD, NOT_CHECKED, words)]
    card = f"{held.kind} {held.card}"
    if held.digest != paper.digest:
        told = f"Issued there: {held.digest}", f"in this file: {paper.digest}"
        words = f"The records hold another paper with this number, of {card}: its digest is another one."
        return [CheckAnswer(HELD, FAILS, words, told)]
    checks = [CheckAnswer(HELD, HOLDS, f"The records hold this very paper, of {card}.")]
    if held.later:
        words = f"It no longer counts: {held.later} takes its place. Why: {held.why}"
        checks.append(CheckAnswer(CURRENT, FAILS, words))
    else:
        checks.append(CheckAnswer(CURRENT, HOLDS, "No later paper takes its place."))
    return [*checks, same_now(paper, held.now, ports)]


def same_now(paper: Paper, now: Mapping[str, str], ports: VerifyPorts) -> CheckAnswer:
    """Whether the records say now what a paper says; `now` are the texts of the folder of its cable or lot, by their names."""
    if isinstance(paper, Certificate):
        texts = now.get(CABLE_FILE, ""), now.get(TEST_FILE, "")
        return same_cable(CABLE, "records", (paper, texts), ports)
    return same_lot(LOT, "records", (paper, now), ports)


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
    details = []
    try:
        then, today = (ports.read_cable(*texts) for texts in ((paper.description, paper.readings), now))
    except OhmsworthError as error:
        return _unreadable(name, where, error)
    if then.request != today.request:
        details += _differing_lines(CABLE_FILE, paper.description, now[0])
    if paper.readings.split() != now[1].split():
        details += _differing_lines(TEST_FILE, paper.readings, now[1])
    return _told(name, where, "description", details)


def same_lot(
    name: str, where: str, what: tuple[LotCertificate, Mapping[str, str]], ports: VerifyPorts
) -> CheckAnswer:
    """The same of a lot: with the certificate, the texts of the study's files as they are now, by their names."""
    paper, now = what
    before = files_of(paper)
    details = []
    try:
        then, today = (replace(ports.read_lot(texts).study, paper=None) for texts in (before, now))
    except OhmsworthError as error:
        return _unreadable(name, where, error)
    for file in sorted({*before, *now}, key=lambda file: (file != STUDY_FILE, file)):
        old, new = before.get(file, ""), now.get(file, "")
        changed = then != today if file == STUDY_FILE else old.split() != new.split()
        if changed:
            details += _differing_lines(file, old, new)
    return _told(name, where, "study", details)


def _unreadable(name: str, where: str, error: OhmsworthError) -> CheckAnswer:
    words = f"The {where} or the certificate cannot be read."
    return CheckAnswer(name, FAILS, words, tuple(str(error).splitlines()))


def _told(name: str, where: str, what: str, details: Sequence[str]) -> CheckAnswer:
    hold, say = ("hold", "say") if where == "records" else ("holds", "says")
    if not details:
        return CheckAnswer(name, HOLDS, f"The {where} {hold} the same {what} and the same readings.")
    words = f"The {where} {say} something else by now."
    return CheckAnswer(name, FAILS, words, tuple(details[:_MOST_TOLD]))


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
