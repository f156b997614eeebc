"""Papers out of a cable's folder into its log: each to the byte as it was issued, and none that does not fit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.face import name_of
from ohmsworth.work.builds.papers.kept import of_cable, paper_key, paper_line, papers_of
from ohmsworth.work.builds.papers.ports import PaperReader
from ohmsworth.work.papers.ports import FoundPaper
from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate
from ohmsworth.work.records import RevisionRefused

_LEAVE = "Take the file as it was issued, or leave it out of the folder."


def read_papers(papers: Mapping[str, bytes], toml: str, reader: PaperReader) -> tuple[FoundPaper, ...]:
    """The papers in files by their names, in the order in which they were issued.

    Raises
    ------
    InputRefused
        With every file that holds no whole paper, that has the number of another, or that is of another cable than `toml`
        describes: its serial is neither that of the description nor that of a paper whose place one of this cable takes.
    """
    faults: list[Fault] = []
    found: dict[str, FoundPaper] = {}
    for name, content in papers.items():
        try:
            paper = reader.read(name, content)
            of_cable(paper)
        except InputRefused as refused:
            faults += refused.faults
            continue
        told = verify_certificate(VerifyAsked(name, paper), reader.verifying())
        number = reader.name_file(paper.certificate.number)
        if not told.fits:
            faults.append(Fault(name, told.sentence, "a paper that is whole", _LEAVE))
        elif number in found:
            faults.append(Fault(name, "a number that another file has", "each number once", _LEAVE))
        else:
            found[number] = paper
    faults += _of_others(found, name_of(toml)[1])
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(sorted(found.values(), key=_issued))


def _of_others(found: Mapping[str, FoundPaper], serial: str) -> list[Fault]:
    """Papers of other cables; a paper whose serial was corrected is of the cable of the paper that takes its place."""
    left = {paper.certificate.number: of_cable(paper) for paper in found.values()}
    mine = [number for number, paper in left.items() if paper.cable.serial == serial]
    while mine:
        paper = left.pop(mine.pop(), None)
        if paper is not None and paper.supersedes.number in left:
            mine.append(paper.supersedes.number)
    mend = "Put it into the folder of its own cable."
    return [
        Fault(f"certificate {shorten(number)}", f"a paper of serial {shorten(paper.cable.serial)}",
              f"papers of serial {shorten(serial)}", mend)
        for number, paper in left.items()
    ]  # fmt: skip


def _issued(paper: FoundPaper) -> tuple[datetime, str]:
    """When it was issued; what states no time that can be read was issued before all others."""
    try:
        at = datetime.fromisoformat(paper.certificate.issued)
    except ValueError:
        at = datetime(1, 1, 1, tzinfo=UTC)
    return (at if at.tzinfo else at.replace(tzinfo=UTC)), paper.certificate.number


def known_faults(
    desk: CableDesk, cable: int | None, papers: Sequence[FoundPaper], reader: PaperReader
) -> list[Fault]:
    """What is wrong with papers whose numbers the records know already: of another cable, or another paper of this one."""
    faults: list[Fault] = []
    for paper in papers:
        name = reader.name_file(paper.certificate.number)
        holder = desk.records.card_of(paper_key(name))
        if holder is None:
            continue
        if holder != cable:
            mend = f"Look at the papers of cable {holder}: a number is given once."
            told = f"the number {shorten(paper.certificate.number)}, which cable {holder} has"
            faults.append(Fault(name, told, "a number of this cable", mend))
            continue
        there = next(
            one
            for one in papers_of(desk.state(holder))
            if paper_key(reader.name_file(one.number)) == paper_key(name)
        )
        if there.digest != paper.certificate.digest:
            found = "another paper than the records hold under this number"
            faults.append(Fault(name, found, "the paper as it was issued", _LEAVE))
    return faults


def take_papers(
    desk: CableDesk, cable: int, papers: Sequence[FoundPaper], by: str, reader: PaperReader
) -> int:
    """Keep papers that the cable does not have yet, the earlier ones first, and return how many those were.

    Raises
    ------
    InputRefused
        Where another cable was given the number of one of them in this moment; earlier ones are kept then.
    """
    about = {one.number: one.line for one in papers_of(desk.state(cable))}
    added = 0
    for paper in papers:  # one by one: a later paper names the line of the one whose place it takes
        of = paper.certificate
        name = reader.name_file(of.number)
        if desk.records.card_of(paper_key(name)) == cable:
            continue
        line = paper_line(of, name, paper.content, about.get(of.supersedes.number), {"issued": of.issued})
        try:
            (kept,) = desk.records.add(cable, by, [line], desk.face)
        except RevisionRefused as error:
            mend = "Look at the papers of the other cables, then send it again."
            fault = Fault(name, "a number that was given already", "a new number", mend)
            raise InputRefused((fault,)) from error
        about[of.number] = kept.number
        added += 1
    return added
