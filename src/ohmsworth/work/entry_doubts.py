"""Everything about an entry that is asked before it is accepted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from ohmsworth.readings.at_rest import MOVES, Movement, moving_doubt
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.dry_circuit import find_wet
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.entry_signs import not_reversed_doubt, off_doubt
from ohmsworth.readings.entry_slips import (
    current_again_doubt,
    current_doubt,
    first_doubts,
    jump_doubt,
    negative_doubt,
    slip_doubt,
)
from ohmsworth.readings.expected import expected_current
from ohmsworth.readings.explained import explain
from ohmsworth.readings.moving import find_copies
from ohmsworth.readings.scale import find_unlikely
from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import OFF, ReadingTable
from ohmsworth.report.sheet import SheetRow

#: Where a reading before had this share of it, the question was answered then.
_ANSWERED = 0.8
#: Two readings may differ by so many times the allowance for a thermal EMF before it is too large.
_EMFS = 8
_SIGNS = {1: "+", -1: "-", 0: "0", 2: ""}


def find_entry_doubts(
    study: Study,
    table: ReadingTable,
    earlier: Sequence[Entry],
    entry: Entry,
    movement: Movement | None,
    asked: SheetRow | None,
) -> list[Doubt]:
    """Every doubt about `entry`, the last row of `table`; a slip is told alone, for all else would follow from it."""
    line = int(table.line[-1])
    doubts = list(_off_sheet(entry, asked, line))
    if table.polarity[-1] == OFF:
        return doubts + off_doubt(table)
    doubts += [*not_reversed_doubt(earlier, entry, line), *_negative(study, table, line)]
    slips = _slips(study, table, entry, line, _last_current(earlier))
    if slips:
        return doubts + slips
    doubts += _jump(study, table, line)
    if movement == MOVES:
        doubts.append(moving_doubt(line))
    doubts += [doubt for doubt in find_copies(table) if line in doubt.rows]
    return doubts + _wet(study, table)


def _last_current(earlier: Sequence[Entry]) -> Typed | None:
    """The current that stands on the page while the next reading is typed."""
    return earlier[-1].current if earlier else None


def _slips(study: Study, table: ReadingTable, entry: Entry, line: int, last: Typed | None) -> list[Doubt]:
    found = explain(table, entry, study)
    if found is None:
        return []
    if found.doubted:
        return [slip_doubt(entry, found, line)]
    doubts = []
    if table.current is not None:
        doubt = current_doubt(float(table.current[-1]), expected_current(table), line)
        doubts += [doubt] if doubt else []
    ohm = float(row_resistance(table)[-1])
    again = current_again_doubt(entry, last, ohm, found.expected, line)
    if again is not None:
        return [again]
    if found.expected.level in ("limit", "study", "nothing"):
        doubts += first_doubts(study, ohm, found.expected, line) or _unlikely(study, table)
    return doubts


def _unlikely(study: Study, table: ReadingTable) -> list[Doubt]:
    return find_unlikely(table.take(np.array([len(table) - 1])), study)


def _negative(study: Study, table: ReadingTable, line: int) -> list[Doubt]:
    if table.voltage is None:
        return []
    ohm, volts = float(row_resistance(table)[-1]), float(table.voltage[-1])
    doubt = negative_doubt(ohm, volts, study.bench.emf_allowance, line)
    return [doubt] if doubt else []


def _jump(study: Study, table: ReadingTable, line: int) -> list[Doubt]:
    ohm = row_resistance(table)
    fine = 0.0
    if table.current is not None:
        fine = _EMFS * study.bench.emf_allowance / abs(float(table.current[-1]))
    before = _mating_before(table, ohm)
    doubt = jump_doubt(before, _SIGNS[int(table.polarity[-1])], float(ohm[-1]), fine, line)
    return [doubt] if doubt else []


def _mating_before(table: ReadingTable, ohm: np.ndarray) -> list[tuple[str, float]]:
    """Polarity and resistance of the readings before the last in its mating."""
    cell = table.cells()
    rows = np.flatnonzero((cell == cell[-1]) & np.isfinite(ohm))
    return [(_SIGNS[int(table.polarity[r])], float(ohm[r])) for r in rows.tolist() if r != len(table) - 1]


def _wet(study: Study, table: ReadingTable) -> list[Doubt]:
    """Doubts about a dry circuit that no reading before has raised already."""
    if table.voltage is None or table.current is None:
        return []
    found = find_wet(table.take(np.array([len(table) - 1])), study)
    new_volts, new_amperes = (_new(np.abs(column)) for column in (table.voltage, table.current))
    return [
        doubt
        for doubt in found
        if doubt.rows and (new_amperes if doubt.code == "OVER_DRY_CURRENT" else new_volts)
    ]


def _new(sizes: np.ndarray) -> bool:
    """Whether the last of `sizes` goes beyond those before it."""
    return len(sizes) < 2 or float(np.nanmax(sizes[:-1])) < _ANSWERED * float(sizes[-1])


def _off_sheet(entry: Entry, asked: SheetRow | None, line: int) -> Iterator[Doubt]:
    if asked is None:
        return
    wanted = {
        "specimen": (entry.specimen, asked.specimen),
        "condition": (entry.condition, asked.condition),
        "mating": (entry.mating, str(asked.mating)),
        "polarity": (entry.polarity, asked.polarity),
    }
    other = [f"the {name} '{is_}', not '{want}'" for name, (is_, want) in wanted.items() if is_ != want]
    if other:
        yield Doubt(
            "NOT_AS_ASKED",
            f"step {asked.step} of the bench sheet asks for another reading; this one has {' and '.join(other)}.",
            (line,),
            "Connect what the step asks for, or enter this as a reading outside of the sheet.",
        )
