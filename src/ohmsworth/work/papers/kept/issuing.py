"""Issuing a paper out of the records: made of what stands there, signed with the shop's key, and kept in its log for ever."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.paper_lines import KeptPaper, paper_key, paper_line, papers_of
from ohmsworth.work.papers.canonical import digest_of
from ohmsworth.work.papers.issue import Issued
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.papered import Papered, Stand
from ohmsworth.work.papers.kept.ports import PaperReader
from ohmsworth.work.records import Face, Line, MakeFace, NewLine, Records, RevisionRefused

if TYPE_CHECKING:
    from ohmsworth.work.papers.ports import FoundPaper

_OF_TABLE = re.compile(r"\[certificate\], key '([a-z_]+)'")


@dataclass(frozen=True, slots=True)
class PaperSending:
    """In whose name a form is sent, under which key, and the last line of the log that it had shown."""

    by: str
    key: str
    seen: int


def issue_paper(papered: Papered, form: PaperForm, sending: PaperSending) -> Line:
    """Issue a certificate, or the test report of what did not pass, and keep it; the same sending twice does it once.

    Raises
    ------
    InputRefused
        With everything that is missing or wrong; `where` of a fault is a field of the form where it is about one of them.
        Nothing was kept then.
    """
    form, records = form.tidy(), papered.records
    before = next((line for line in papered.papers if line.fields.get("sent") == sending.key), None)
    if before is not None:
        return before
    faults = [
        *_changed(papered, records.lines(papered.card, sending.seen)),
        *_blank(form),
        *_taken(papered, form),
        *_superseded_faults(papered, papered.papers, form),
    ]
    made: Issued | None = None
    try:
        made = papered.make(form, _superseded(papered, form))
    except InputRefused as refused:
        told = {fault.where for fault in faults}  # the records have said what is wrong there
        faults += (fault for fault in map(_by_field, refused.faults) if fault.where not in told)
    if faults or made is None:
        raise InputRefused(tuple(faults))
    line = _line(made, papered, sending)
    try:
        (kept,) = records.add(papered.card, sending.by, [line], _still(papered, form))
    except RevisionRefused as error:  # something else was given the number in the same moment
        raise InputRefused((_given(records, form.number, 0),)) from error
    if kept.fields.get("digest") != made.certificate.digest:
        raise InputRefused((_given(records, form.number, papered.card),))
    return kept


def _superseded(papered: Papered, form: PaperForm) -> FoundPaper | None:
    old = next((one for one in papered.kept if one.number == form.supersedes), None)
    return None if old is None else kept_paper(papered.records, papered.ports.reader, papered.card, old)


def kept_paper(records: Records, reader: PaperReader, card: int, paper: KeptPaper) -> FoundPaper:
    """A paper as it was issued.

    Raises
    ------
    InputRefused
        Where its file is none any more, or was changed outside of the records, as in an export.
    """
    name = reader.name_file(paper.number)
    found = reader.read(name, records.content(card, paper.line))
    if not digest_of(found.data) == found.certificate.digest == paper.digest:
        mend = "Take the file that was handed out, or the newest copy of the records in which it is whole."
        raise InputRefused((Fault(name, "a file whose digest does not fit", "the paper as issued", mend),))
    return found


def _line(made: Issued, papered: Papered, sending: PaperSending) -> NewLine:
    paper = made.certificate
    superseded = paper.supersedes.number
    about = next((one.line for one in papered.kept if one.number == superseded), None)
    name = papered.ports.name_file(paper.number)
    return paper_line(paper, name, made.content, about, {"sent": sending.key})


def _still(papered: Papered, form: PaperForm) -> MakeFace:
    """Its face, called by the store while nobody else writes: refuses a paper on what was changed since it was made."""

    def checked(lines: Sequence[Line]) -> Face:
        now = papered.stand(lines)
        if now.basis != papered.now.basis:
            mend = "Nothing was issued. Look at what stands there now, then issue it again."
            what = f"the {papered.word}"
            raise InputRefused((Fault(what, "changed meanwhile", f"{what} as it was", mend),))
        if form.supersedes:
            others = tuple(line for line in now.papers if line.fields.get("number") != form.number)
            if faults := _superseded_faults(papered, others, form):
                raise InputRefused(tuple(faults))
        return papered.face(lines)

    return checked


def _changed(papered: Papered, since: Sequence[Line]) -> list[Fault]:
    """A paper on rows that nobody has looked at is none that somebody meant to issue."""
    line = next((one for one in reversed(since) if one.kind in papered.changing), None)
    if line is None:
        return []
    what = f"the {papered.word}"
    found, mend = (
        f"changed by {line.by} since this form was opened",
        f"Look at {papered.to_look}, then issue it.",
    )
    return [Fault(what, found, f"{what} as the form showed it", mend)]


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


def _taken(papered: Papered, form: PaperForm) -> list[Fault]:
    if not form.number:
        return []
    holder = papered.records.card_of(paper_key(papered.ports.name_file(form.number)))
    return [] if holder is None else [_given(papered.records, form.number, holder)]


def _given(records: Records, number: str, holder: int) -> Fault:
    whose = f" to {records.card(holder).kind} {holder}" if holder else ""
    mend = "A number is given once: take the next one."
    return Fault("number", f"{shorten(number)}, which was given already{whose}", "a new number", mend)


def _superseded_faults(papered: Papered, papers: tuple[Line, ...], form: PaperForm) -> list[Fault]:
    """What is wrong with the paper that this one is to take the place of, among the `papers` that there are."""
    if not form.supersedes:
        return []
    old = next((one for one in papers_of(Stand(None, papers)) if one.number == form.supersedes), None)
    found = shorten(form.supersedes)
    if old is None:
        mend = "Choose one of those that are listed."
        expected = f"a paper of this {papered.word}"
        return [Fault("supersedes", f"{found}, which is none of its papers", expected, mend)]
    if old.later:
        mend = f"Choose {shorten(old.later)}, or what took its place in turn."
        told = f"{found}, whose place {shorten(old.later)} has taken already"
        return [Fault("supersedes", told, "a paper that still holds", mend)]
    return []


def _by_field(fault: Fault) -> Fault:
    found = _OF_TABLE.search(fault.where)
    return replace(fault, where=found[1]) if found else fault
