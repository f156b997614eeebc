"""The papers that a cable has: which of them counts, and which takes the place of which."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.builds.log import PAPER, CableState
from ohmsworth.work.records import Line, NewLine

if TYPE_CHECKING:
    from ohmsworth.report.papers.certificate import Certificate
    from ohmsworth.report.papers.kinds import Paper
    from ohmsworth.work.papers.ports import FoundPaper


@dataclass(frozen=True, slots=True)
class KeptPaper:
    """A paper of a cable: `line` is its line of the log, whose content is its file.

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


def of_cable(found: FoundPaper) -> Certificate:
    """The certificate of a cable in a file.

    Raises
    ------
    InputRefused
        Where it is the paper of something else.
    """
    from ohmsworth.report.papers.certificate import Certificate

    paper = found.certificate
    if isinstance(paper, Certificate):
        return paper
    mend = "Leave it in the folder of its lot: the records keep papers of cables."
    raise InputRefused(
        (Fault(f"certificate {shorten(paper.number)}", "the paper of a lot", "papers of cables", mend),)
    )


def papers_of(state: CableState) -> tuple[KeptPaper, ...]:
    """Every paper of a cable, the last first."""
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


def _said(line: Line, name: str) -> str:
    return str(line.fields.get(name, ""))
