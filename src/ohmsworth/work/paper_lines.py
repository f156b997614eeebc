"""The lines of a log that hold a paper each: which of them counts, and which takes the place of which."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Protocol

from ohmsworth.work.records import Line, NewLine

if TYPE_CHECKING:
    from ohmsworth.report.papers.kinds import Paper

#: Holds a certificate or a test report, whose file is its content.
PAPER = "paper issued"
#: Stands before the number of each paper in what a search looks through.
PAPER_WORD = "paper"
#: Names the file of a paper by its number.
NameFile = Callable[[str], str]


class HoldsPapers(Protocol):
    """What a log amounts to that may hold papers."""

    @property
    def papers(self) -> tuple[Line, ...]:
        """The lines that hold a paper each."""


@dataclass(frozen=True, slots=True)
class KeptPaper:
    """A paper of a cable or a lot: `line` is its line of the log, whose content is its file.

    `kind`, `result` and `digest` are those of the certificate; `supersedes` is the number that it takes the place of, with
    `reason`; `later` the number that takes its own place, "" for none. `current` is the last one that holds.
    `by` and `at` tell who wrote the line and when; `issued` is the time that the paper itself states where it came in with a
    folder, "" where it was issued here.
    """

    line: int
    number: str
    kind: str
    result: str
    digest: str
    supersedes: str
    reason: str
    by: str
    at: datetime
    issued: str = ""
    later: str = ""
    current: bool = False


def papers_of(state: HoldsPapers) -> tuple[KeptPaper, ...]:
    """Every paper of a log, the last first."""
    later = {_said(line, "supersedes"): _said(line, "number") for line in state.papers}
    found: list[KeptPaper] = []
    current = False
    for line in reversed(state.papers):
        number = _said(line, "number")
        holds = number not in later
        found.append(
            KeptPaper(
                line.number, number, _said(line, "kind"), _said(line, "result"), _said(line, "digest"),
                _said(line, "supersedes"), line.reason, line.by, line.at, _said(line, "issued"), later.get(number, ""),
                holds and not current,
            )
        )  # fmt: skip
        current = current or holds
    return tuple(found)


def paper_words(state: HoldsPapers) -> list[str]:
    """What a search finds a card by: the number of each of its papers."""
    return [f"{PAPER_WORD} {_said(line, 'number')}" for line in state.papers]


def paper_key(file_name: str) -> str:
    """The key of the line that holds a paper, by the name of its file.

    No two lines of the records have the same key, on whatever card: so the store itself refuses a number that was given, also
    where two benches give it in the same moment, and two numbers whose files would have the same name.
    """
    return f"paper {file_name.casefold()}"


def paper_line(
    paper: Paper, name: str, content: bytes, about: int | None, more: Mapping[str, str]
) -> NewLine:
    """The line that keeps a paper whose file is called `name`; `about` is the line of the paper whose place it takes."""
    said = {
        "name": name, "number": paper.number, "kind": paper.kind, "result": paper.results.verdict,
        "digest": paper.digest, "supersedes": paper.supersedes.number,
    }  # fmt: skip
    reason = paper.supersedes.reason
    return NewLine(paper_key(name), PAPER, {**said, **more}, about=about, reason=reason, content=content)


def paper_files(state: HoldsPapers, content: Callable[[int], bytes], name_file: NameFile) -> dict[str, bytes]:
    """Its papers by the names that they have in a folder; `content` gives the file of a line."""
    return {name_file(_said(line, "number")): content(line.number) for line in state.papers}


def _said(line: Line, name: str) -> str:
    return str(line.fields.get(name, ""))
