"""What the records hold of a paper that somebody brings: found by its number."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from ohmsworth.work.paper_lines import PAPER, NameFile, paper_key, papers_of
from ohmsworth.work.papers.held import HeldPaper
from ohmsworth.work.papers.kept.papered import Stand
from ohmsworth.work.records import Line, Records

#: The texts of a card's folder as they are now, by the names of its files, from its number and its log.
TextsNow = Callable[[int, Sequence[Line]], Mapping[str, str]]


def held_paper(
    records: Records, number: str, name_file: NameFile, now: Mapping[str, TextsNow]
) -> HeldPaper | None:
    """The paper of this number; None where the records know none.

    Parameters
    ----------
    records
        Where to look.
    number
        Of the paper.
    name_file
        Names its file.
    now
        What a card of each kind that has papers says now.
    """
    key = paper_key(name_file(number))
    card = records.card_of(key)
    if card is None:
        return None
    lines = records.lines(card)
    papers = papers_of(Stand(None, tuple(line for line in lines if line.kind == PAPER)))
    paper = next((one for one in papers if paper_key(name_file(one.number)) == key), None)
    kind = records.card(card).kind
    if paper is None or kind not in now:
        return None
    why = next((one.reason for one in papers if one.number == paper.later), "")
    return HeldPaper(card, kind, paper.digest, paper.later, why, now[kind](card, lines))
