"""Papers of the records that still hold, and what the card's readings or its description say otherwise by now."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from ohmsworth.errors import InputRefused
from ohmsworth.work.papers.kept.issuing import kept_paper
from ohmsworth.work.papers.kept.papered import Papered

if TYPE_CHECKING:
    from ohmsworth.report.papers.kinds import Paper


def holding_papers(papered: Papered) -> dict[int, Paper]:
    """Papers whose place no other has taken, by their line, the last first.

    One that cannot be read is left out: opening it says why.
    """
    found: dict[int, Paper] = {}
    for paper in papered.kept:
        if paper.later:
            continue
        try:
            kept = kept_paper(papered.records, papered.ports.reader, papered.card, paper)
        except InputRefused:
            continue
        found[paper.line] = kept.certificate
    return found


def outdated_papers(papered: Papered, holding: Mapping[int, Paper]) -> dict[int, tuple[str, ...]]:
    """Of `holding` those that no longer say what the records do, with what differs."""
    from ohmsworth.report.papers.verification import FAILS

    checks = {line: papered.same(paper) for line, paper in holding.items()}
    return {line: check.details for line, check in checks.items() if check.result == FAILS}
