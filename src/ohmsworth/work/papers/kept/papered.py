"""What papers are issued of: a cable or a lot of the records, as its card stands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from ohmsworth.work.paper_lines import KeptPaper, papers_of
from ohmsworth.work.papers.kept.ports import PaperPorts
from ohmsworth.work.records import Line, MakeFace, Records

if TYPE_CHECKING:
    from ohmsworth.report.papers.kinds import Paper
    from ohmsworth.report.papers.verification import CheckAnswer
    from ohmsworth.work.papers.issue import Issued
    from ohmsworth.work.papers.kept.form import PaperForm
    from ohmsworth.work.papers.ports import FoundPaper


@dataclass(frozen=True, slots=True)
class Stand:
    """What a log says that a paper rests on, and the papers that it holds."""

    basis: object
    papers: tuple[Line, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Papered:
    """A cable or a lot that papers are issued of.

    Parameters
    ----------
    records, ports
        Where it is kept, and what issues and reads papers.
    card
        Number of its card.
    word, to_look
        "cable" or "lot"; what to look at where it was changed.
    toml
        Its description, as last written.
    now
        What its log amounts to: what a paper that is made of it rests on.
    read_at
        When what counts was read.
    changing
        Kinds of lines that change what a paper says.
    stand
        The same of another log.
    face
        How its card is shown.
    make
        Makes a paper of a form and the paper to be superseded; raises InputRefused.
    same
        Whether a paper still says what the card does.
    """

    records: Records
    ports: PaperPorts
    card: int
    word: str
    to_look: str
    toml: str
    now: Stand
    read_at: tuple[datetime, ...]
    changing: frozenset[str]
    stand: Callable[[Sequence[Line]], Stand]
    face: MakeFace
    make: Callable[[PaperForm, FoundPaper | None], Issued]
    same: Callable[[Paper], CheckAnswer]

    @property
    def papers(self) -> tuple[Line, ...]:
        """The lines of its log that hold a paper each."""
        return self.now.papers

    @property
    def kept(self) -> tuple[KeptPaper, ...]:
        """Its papers, the last first."""
        return papers_of(self)
