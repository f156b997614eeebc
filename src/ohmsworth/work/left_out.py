"""Which of the readings so far the answer leaves out by itself, for what is said of the one just read."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from ohmsworth.readings.check_standard import split_check_standard
from ohmsworth.readings.entries import FIRST_LINE, table_as_asked
from ohmsworth.readings.entry import Entry
from ohmsworth.readings.entry_faults import find_entry_faults
from ohmsworth.readings.study import Study
from ohmsworth.work.readings_check import SLIPS, find_left_out

#: So many of the last readings are looked at.
_RECENT = 200


def left_out_before(
    study: Study, earlier: Sequence[Entry], entry: Entry, kept: Collection[int]
) -> frozenset[int]:
    """Places in `earlier` of the readings that the answer with `entry` would leave out.

    `kept` are the places of those that their owner keeps in spite of a warning. Of the mating that is being read slips alone are
    told: whether it still moves is judged from all of its readings.
    """
    if find_entry_faults(study, earlier, entry):
        return frozenset()
    start = max(len(earlier) - _RECENT, 0)
    table = table_as_asked(study, [*earlier[start:], entry])
    contacts, _ = split_check_standard(table, study.check.name)
    if len(contacts) == 0 or contacts.line[-1] != table.line[-1]:
        return frozenset()
    marked = replace(study, keep=frozenset(i - start + FIRST_LINE for i in kept if i >= start), set_aside={})
    found = find_left_out(marked, contacts)
    slips = {row for doubt in found.slips if doubt.code in SLIPS for row in doubt.rows}
    places = {line: line - FIRST_LINE + start for line in found.lines if line != table.line[-1]}
    return frozenset(
        place for line, place in places.items() if line in slips or earlier[place].cell != entry.cell
    )
