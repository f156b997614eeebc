"""Papers out of a folder into a log: each to the byte as it was issued, and none that does not fit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.paper_lines import PAPER, paper_key, paper_line, papers_of
from ohmsworth.work.papers.kept.papered import Stand
from ohmsworth.work.papers.kept.ports import PaperReader
from ohmsworth.work.papers.ports import FoundPaper
from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate
from ohmsworth.work.records import CardKind, MakeFace, Records, RevisionRefused

if TYPE_CHECKING:
    from ohmsworth.report.papers.kinds import Paper

_LEAVE = "Take the file as it was issued, or leave it out of the folder."


@dataclass(frozen=True, slots=True)
class Owner:
    """What the papers of a folder are to be of: the kind of its card, what tells it from others, and what that is called.

    `mark` is the serial of a cable, or the number of a lot.
    """

    kind: CardKind
    mark: str

    @property
    def word(self) -> str:
        """What is said of it."""
        return "serial" if self.kind == "cable" else "lot"


def owner_of(paper: Paper) -> Owner:
    """What a paper is of."""
    from ohmsworth.report.papers.certificate import Certificate

    if isinstance(paper, Certificate):
        return Owner("cable", paper.cable.serial)
    return Owner("study", paper.lot.number)


def read_papers(papers: Mapping[str, bytes], owner: Owner, reader: PaperReader) -> tuple[FoundPaper, ...]:
    """The papers in files by their names, in the order in which they were issued.

    Raises
    ------
    InputRefused
        With every file that holds no whole paper, that has the number of another, or that is of something else than `owner`:
        neither of that nor of a paper whose place one of this owner takes.
    """
    faults: list[Fault] = []
    found: dict[str, FoundPaper] = {}
    for name, content in papers.items():
        try:
            paper = reader.read(name, content)
            _refuse_kind(paper, owner)
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
    faults += _of_others(found, owner)
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(sorted(found.values(), key=_issued))


def _refuse_kind(found: FoundPaper, owner: Owner) -> None:
    """Refuse the paper of a lot in a cable's folder, and the other way round."""
    paper = found.certificate
    kind = owner_of(paper).kind
    if kind == owner.kind:
        return
    words = {"cable": ("a cable", "cables"), "study": ("a lot", "lots")}
    mend = f"Leave it in the folder of its {'lot' if kind == 'study' else 'cable'}."
    told = f"the paper of {words[kind][0]}"
    where = f"certificate {shorten(paper.number)}"
    raise InputRefused((Fault(where, told, f"papers of {words[owner.kind][1]}", mend),))


def _of_others(found: Mapping[str, FoundPaper], owner: Owner) -> list[Fault]:
    """Papers of others; one whose mark was corrected is of the owner of the paper that takes its place."""
    left = {paper.certificate.number: paper.certificate for paper in found.values()}
    mine = [number for number, paper in left.items() if owner_of(paper) == owner]
    while mine:
        paper = left.pop(mine.pop(), None)
        if paper is not None and paper.supersedes.number in left:
            mine.append(paper.supersedes.number)
    what = "lot" if owner.kind == "study" else "cable"
    mend = f"Put it into the folder of its own {what}."
    return [
        Fault(f"certificate {shorten(number)}", f"a paper of {owner.word} {shorten(owner_of(paper).mark)}",
              f"papers of {owner.word} {shorten(owner.mark)}", mend)
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
    records: Records, card: int | None, papers: Sequence[FoundPaper], reader: PaperReader
) -> list[Fault]:
    """What is wrong with papers whose numbers the records know already: on another card, or another paper of this one."""
    faults: list[Fault] = []
    for paper in papers:
        name = reader.name_file(paper.certificate.number)
        holder = records.card_of(paper_key(name))
        if holder is None:
            continue
        if holder != card:
            whose = f"{records.card(holder).kind} {holder}"
            what = "cable" if owner_of(paper.certificate).kind == "cable" else "lot"
            mend = f"Look at the papers of {whose}: a number is given once."
            told = f"the number {shorten(paper.certificate.number)}, which {whose} has"
            faults.append(Fault(name, told, f"a number of this {what}", mend))
        elif digest_in(records, holder, name) != paper.certificate.digest:
            found = "another paper than the records hold under this number"
            faults.append(Fault(name, found, "the paper as it was issued", _LEAVE))
    return faults


def digest_in(records: Records, card: int, name: str) -> str:
    """The digest of the paper that a card holds under the name of its file; "" for none."""
    key = paper_key(name)
    lines = tuple(line for line in records.lines(card) if line.kind == PAPER and line.key == key)
    return next((one.digest for one in papers_of(Stand(None, lines))), "")


def take_papers(
    records: Records, card: int, papers: Sequence[FoundPaper], by: str, face: MakeFace, reader: PaperReader
) -> int:
    """Keep papers that the card does not have yet, the earlier ones first, and return how many those were.

    Raises
    ------
    InputRefused
        Where something else was given the number of one of them in this moment; earlier ones are kept then.
    """
    lines = tuple(line for line in records.lines(card) if line.kind == PAPER)
    about = {one.number: one.line for one in papers_of(Stand(None, lines))}
    added = 0
    for paper in papers:  # one by one: a later paper names the line of the one whose place it takes
        of = paper.certificate
        name = reader.name_file(of.number)
        if records.card_of(paper_key(name)) == card:
            continue
        line = paper_line(of, name, paper.content, about.get(of.supersedes.number), {"issued": of.issued})
        try:
            (kept,) = records.add(card, by, [line], face)
        except RevisionRefused as error:
            mend = "Look at the other papers, then send it again."
            fault = Fault(name, "a number that was given already", "a new number", mend)
            raise InputRefused((fault,)) from error
        about[of.number] = kept.number
        added += 1
    return added
