"""Issuing a paper of a cable in the records: made of its rows, signed with the shop's key, and kept in its log for ever."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.log import DESCRIBED, MEASURED, PUT_BACK, WITHDRAWN, CableState, fold
from ohmsworth.work.builds.papers.form import PaperForm
from ohmsworth.work.builds.papers.kept import KeptPaper, paper_key, paper_line, papers_of
from ohmsworth.work.builds.papers.ports import CablePaperPorts
from ohmsworth.work.builds.writing import Sending
from ohmsworth.work.papers.canonical import digest_of
from ohmsworth.work.papers.issue import IssueAsked, Issued, issue
from ohmsworth.work.records import Face, Line, MakeFace, NewLine, RevisionRefused

if TYPE_CHECKING:
    from ohmsworth.work.papers.ports import FoundPaper

_OF_TABLE = re.compile(r"\[certificate\], key '([a-z_]+)'")


def issue_paper(
    desk: CableDesk, ports: CablePaperPorts, cable: int, form: PaperForm, seen: int, sending: Sending
) -> Line:
    """Issue a certificate, or the test report of a cable that did not pass, and keep it; the same sending twice does it once.

    `seen` is the last line of the cable's log that the form had shown.

    Raises
    ------
    InputRefused
        With everything that is missing or wrong; `where` of a fault is a field of the form where it is about one of them.
        Nothing was kept then.
    """
    state, form = desk.state(cable), form.tidy()
    before = next((line for line in state.papers if line.fields.get("sent") == sending.key), None)
    if before is not None:
        return before
    faults = [
        *_changed(desk.records.lines(cable, seen)),
        *_blank(form),
        *_taken(desk, ports, form),
        *_superseded_faults(state, form),
    ]
    made: Issued | None = None
    try:
        made = _made(desk, ports, cable, state, form)
    except InputRefused as refused:
        told = {fault.where for fault in faults}  # the records have said what is wrong there
        faults += (fault for fault in map(_by_field, refused.faults) if fault.where not in told)
    if faults or made is None:
        raise InputRefused(tuple(faults))
    line = _line(made, ports, state, sending)
    try:
        (kept,) = desk.records.add(cable, sending.by, [line], _still(state, form, desk.face))
    except RevisionRefused as error:  # another cable was given the number in the same moment
        raise InputRefused((_given(form.number, 0),)) from error
    if kept.fields.get("digest") != made.certificate.digest:
        raise InputRefused((_given(form.number, cable),))
    return kept


def _made(desk: CableDesk, ports: CablePaperPorts, cable: int, state: CableState, form: PaperForm) -> Issued:
    issuing = ports.issuing()
    readings = desk.teller.ports.test_csv(state.written).decode() if state.counted else None
    old: FoundPaper | None = None
    superseded = next((one for one in papers_of(state) if one.number == form.supersedes), None)
    if superseded is not None:
        old = kept_paper(desk, ports, cable, superseded)
    return issue(IssueAsked(ports.with_paper(state.toml, form), readings, old), issuing)


def kept_paper(desk: CableDesk, ports: CablePaperPorts, cable: int, paper: KeptPaper) -> FoundPaper:
    """A paper as it was issued.

    Raises
    ------
    InputRefused
        Where its file is none any more, or was changed outside of the records, as in an export.
    """
    name = ports.name_file(paper.number)
    found = ports.read(name, desk.records.content(cable, paper.line))
    if not digest_of(found.data) == found.certificate.digest == paper.digest:
        mend = "Take the file that was handed out, or the newest copy of the records in which it is whole."
        raise InputRefused((Fault(name, "a file whose digest does not fit", "the paper as issued", mend),))
    return found


def _line(made: Issued, ports: CablePaperPorts, state: CableState, sending: Sending) -> NewLine:
    paper = made.certificate
    superseded = paper.supersedes.number
    about = next((one.line for one in papers_of(state) if one.number == superseded), None)
    return paper_line(paper, ports.name_file(paper.number), made.content, about, {"sent": sending.key})


def _still(before: CableState, form: PaperForm, face: MakeFace) -> MakeFace:
    """`face`, called by the store while nobody else writes: refuses a paper on what was changed since it was made."""

    def checked(lines: Sequence[Line]) -> Face:
        now = fold(lines)
        if now.toml != before.toml or now.written != before.written:
            mend = "Nothing was issued. Look at what stands there now, then issue it again."
            raise InputRefused((Fault("the cable", "changed meanwhile", "the cable as it was", mend),))
        if form.supersedes:
            others = tuple(line for line in now.papers if line.fields.get("number") != form.number)
            if faults := _superseded_faults(replace(now, papers=others), form):
                raise InputRefused(tuple(faults))
        return face(lines)

    return checked


def _changed(since: Sequence[Line]) -> list[Fault]:
    """A paper on rows that nobody has looked at is none that somebody meant to issue."""
    line = next(
        (one for one in reversed(since) if one.kind in (DESCRIBED, MEASURED, WITHDRAWN, PUT_BACK)), None
    )
    if line is None:
        return []
    found, mend = f"changed by {line.by} since this form was opened", "Look at its rows, then issue it."
    return [Fault("the cable", found, "the cable as the form showed it", mend)]


#: Answers without which there is no paper: what is expected, and what to do.
_NEEDED = {
    "number": ("a number that no other paper has", "Write one, such as 2026-014."),
    "tested_by": ("whoever tested it", "Write the name."),
    "date": ("the day of the test", "Choose it."),
    "shop": ("the name of the shop", "Write it down under Settings, then come back."),
}


def _blank(form: PaperForm) -> list[Fault]:
    faults = [Fault(name, "nothing", *words) for name, words in _NEEDED.items() if not getattr(form, name)]
    if form.supersedes and not form.reason:
        mend = "Say it in a few words: it stands on the paper."
        faults.append(Fault("reason", "nothing", "why the earlier paper is corrected", mend))
    if form.reason and not form.supersedes:
        mend = "Choose the paper that this one corrects, or leave the reason empty."
        faults.append(Fault("supersedes", "nothing", "what the reason is of", mend))
    return faults


def _taken(desk: CableDesk, ports: CablePaperPorts, form: PaperForm) -> list[Fault]:
    if not form.number:
        return []
    holder = desk.records.card_of(paper_key(ports.name_file(form.number)))
    return [] if holder is None else [_given(form.number, holder)]


def _given(number: str, holder: int) -> Fault:
    whose = f" to cable {holder}" if holder else ""
    mend = "A number is given once: take the next one."
    return Fault("number", f"{shorten(number)}, which was given already{whose}", "a new number", mend)


def _superseded_faults(state: CableState, form: PaperForm) -> list[Fault]:
    """What is wrong with the paper that this one is to take the place of, as the records know it."""
    if not form.supersedes:
        return []
    old = next((one for one in papers_of(state) if one.number == form.supersedes), None)
    found = shorten(form.supersedes)
    if old is None:
        mend = "Choose one of those that are listed."
        return [Fault("supersedes", f"{found}, which is none of its papers", "a paper of this cable", mend)]
    if old.later:
        mend = f"Choose {shorten(old.later)}, or what took its place in turn."
        told = f"{found}, whose place {shorten(old.later)} has taken already"
        return [Fault("supersedes", told, "a paper that still holds", mend)]
    return []


def _by_field(fault: Fault) -> Fault:
    found = _OF_TABLE.search(fault.where)
    return replace(fault, where=found[1]) if found else fault
