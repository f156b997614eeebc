"""What the records hold of a paper that somebody brings: found by its number."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ohmsworth.work.builds.folder import NameFile, texts_of
from ohmsworth.work.builds.log import PAPER, fold
from ohmsworth.work.builds.papers.kept import paper_key, papers_of
from ohmsworth.work.cable_ports import WrittenRow
from ohmsworth.work.papers.held import HeldPaper
from ohmsworth.work.records import Records


def held_paper(
    records: Records, number: str, name_file: NameFile, test_csv: Callable[[Sequence[WrittenRow]], bytes]
) -> HeldPaper | None:
    """The paper of this number; None where the records know none."""
    key = paper_key(name_file(number))
    cable = records.card_of(key)
    if cable is None:
        return None
    state = fold(records.lines(cable))
    line = next((one for one in state.papers if one.key == key and one.kind == PAPER), None)
    if line is None:
        return None
    paper = next(one for one in papers_of(state) if one.line == line.number)
    why = next((one.reason for one in papers_of(state) if one.number == paper.later), "")
    return HeldPaper(cable, paper.digest, paper.later, why, texts_of(state, test_csv))
