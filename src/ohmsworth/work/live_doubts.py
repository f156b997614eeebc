"""Grave doubts about readings that are in the answer so far: the ones that the whole answer leads with."""

from __future__ import annotations

from collections.abc import Iterator

from ohmsworth.report.live_answer import LiveDoubt
from ohmsworth.report.states import GRAVE, MOST_DOUBTED
from ohmsworth.work.live_results import LiveResults


def live_doubts(found: LiveResults) -> tuple[LiveDoubt, ...]:
    """Those whose readings are neither left out nor kept by the owner; one about the study as a whole has no readings."""
    answered = set(found.study.keep) | (set(found.table.line.tolist()) - _lines_used(found))
    return tuple(_doubts(found, answered))


def mostly_doubted(found: LiveResults) -> bool:
    """Whether grave doubts cover so many readings that nothing is to be concluded."""
    doubts = live_doubts(found)
    rows = {row for doubt in doubts for row in doubt.rows}
    return any(not doubt.rows for doubt in doubts) or len(rows) > MOST_DOUBTED * len(found.used)


def _lines_used(found: LiveResults) -> set[int]:
    return set(found.table.line[found.used].tolist())


def _doubts(found: LiveResults, answered: set[int]) -> Iterator[LiveDoubt]:
    table = found.table
    specimen = dict(zip(table.line.tolist(), table.specimen.codes.tolist(), strict=True))
    for doubt in found.doubts:
        rows = tuple(row for row in doubt.rows if row not in answered)
        if doubt.code in GRAVE and (rows or not doubt.rows):
            names = dict.fromkeys(table.specimen.names[specimen[row]] for row in rows)
            yield LiveDoubt(doubt.code, doubt.words, rows, tuple(names))
