"""Which of the readings so far the answer leaves out by itself, for what is said of the one just read."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from ohmsworth.readings.check_standard import split_check_standard
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import ReadingTable
from ohmsworth.work.readings_check import SLIPS, find_left_out


def left_out_before_last(study: Study, table: ReadingTable, kept: Collection[int]) -> frozenset[int]:
    """Lines of `table` that the answer with its last row would leave out.

    `kept` are the lines that their owner keeps in spite of a warning. Of the mating that is being read slips alone are told:
    whether it still moves is judged from all of its readings. Beside a check standard nothing is left out.
    """
    last = int(table.line[-1])
    contacts, _ = split_check_standard(table, study.check.name)
    if len(contacts) == 0 or contacts.line[-1] != last:
        return frozenset()
    found = find_left_out(replace(study, keep=frozenset(kept), set_aside={}), contacts)
    slips = {row for doubt in found.slips if doubt.code in SLIPS for row in doubt.rows}
    mating = table.cells()
    being_read = set(table.line[mating == mating[-1]].tolist())
    return frozenset(line for line in found.lines - {last} if line in slips or line not in being_read)
