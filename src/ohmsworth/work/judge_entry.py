"""One entry, judged at the bench before it is accepted."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np

from ohmsworth.inference.conformity import OPEN
from ohmsworth.inference.so_far import OneResistance, SoFar, contact_so_far, mating_so_far, one_resistance
from ohmsworth.readings.at_rest import MOVES, Movement, last_movement
from ohmsworth.readings.entries import FIRST_LINE, table_as_asked
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.entry_faults import find_entry_faults
from ohmsworth.readings.meters import Accuracy
from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.study import Bench, Study
from ohmsworth.readings.table import OFF, Codes, ReadingTable
from ohmsworth.report.judgement import Judgement, contact_line, headline, mostly, reading_lines, refused
from ohmsworth.report.sheet import SheetRow
from ohmsworth.resistance import REVERSAL, THREE, Resistances, reduce_readings
from ohmsworth.units import UNITS, show
from ohmsworth.work.entry_doubts import find_entry_doubts
from ohmsworth.work.entry_notes import find_notes
from ohmsworth.work.left_out import left_out_before_last

#: So many of the last entries are looked at, beside all of the same contact.
_RECENT = 120


@dataclass(frozen=True, slots=True, eq=False)
class _Bearing:
    """An entry among those before it.

    It is the last row of `table`, and `own` is the resistance that it completes, among the `resistances` of its condition;
    `mating` and `contact` number those of the same mating and contact. `moved`: the mating moved while it was read.
    """

    table: ReadingTable
    resistances: Resistances
    own: int | None
    mating: Codes
    contact: Codes
    movement: Movement | None
    moved: bool


def judge_entry(
    study: Study,
    earlier: Sequence[Entry],
    entry: Entry,
    asked: SheetRow | None = None,
    kept: Collection[int] = (),
) -> Judgement:
    """Judge `entry` before it joins the accepted entries of its study.

    Parameters
    ----------
    study
        Its meters, limit and scale.
    earlier
        The accepted entries in their order.
    entry
        As typed.
    asked
        The step of the bench sheet that is being answered; None outside of a sheet.
    kept
        Places in `earlier` of the readings that their owner keeps in spite of a warning; from others that the answer leaves
        out no resistance is formed.

    Returns
    -------
    Judgement
        Never an error: what cannot be kept is told under `faults`.
    """
    faults = find_entry_faults(study, earlier, entry)
    if faults:
        return refused(tuple(faults))
    found = _bearing(study, earlier, entry, kept)
    doubts = find_entry_doubts(study, found.table, earlier, entry, found.movement, asked)
    reading = None if found.own is None else one_resistance(found.resistances, found.own, study.coverage)
    limit = limit_for(study, entry)
    contact = contact_so_far(found.resistances, found.contact, study.scale, limit, study.coverage)
    moving = found.movement == MOVES
    judged = None if contact is None else contact.verdict
    return Judgement(
        reading,
        mating_so_far(found.resistances, found.mating, study.scale),
        contact,
        "" if reading is None else mostly(reading),
        found.movement,
        OPEN if moving and judged else judged,
        None if contact is None else contact.probability,
        (),
        tuple(doubts),
        tuple(find_notes(study, earlier, entry, found.resistances, found.own, found.moved and not moving)),
        _headline(entry, reading),
        _lines(study, reading, contact, limit, moving),
        _alone(found, reading),
    )


def _alone(found: _Bearing, reading: OneResistance | None) -> float | None:
    if reading is None or reading.form not in (REVERSAL, THREE):
        return None
    return float(row_resistance(found.table)[-1])


def _headline(entry: Entry, reading: OneResistance | None) -> str:
    if reading is not None:
        return headline(reading)
    volts = entry.voltage.value if entry.voltage else 0.0
    return f"{show(volts, 'V')} with the current off"


def _lines(
    study: Study, reading: OneResistance | None, contact: SoFar | None, limit: float | None, moving: bool
) -> tuple[str, ...]:
    if reading is None:
        return (
            "It is taken off the readings of this mating that have no partner with the current reversed.",
        )
    lines = reading_lines(reading, mostly(reading), study.coverage)
    if contact is not None:
        lines.append(contact_line(contact, limit, moving))
    return tuple(lines)


def limit_for(study: Study, entry: Entry) -> float | None:
    """The limit of the contacts in ohm; None without one, and for the check standard."""
    if study.limit is None or (study.check.name and entry.condition == study.check.name):
        return None
    return study.limit.resistance


def _bearing(study: Study, earlier: Sequence[Entry], entry: Entry, kept: Collection[int]) -> _Bearing:
    places = _recent(earlier, entry)
    table = table_as_asked(study, [*(earlier[i] for i in places), entry])
    lines = np.array([*places, len(earlier)], np.int64) + FIRST_LINE
    table = replace(table, line=lines)
    last = len(table) - 1
    bench = _bench(study.bench, entry)
    left_out = left_out_before_last(study, table, [place + FIRST_LINE for place in kept])
    counted = ~np.isin(lines, list(left_out))
    rows = np.flatnonzero((table.condition.codes == table.condition.codes[last]) & counted)
    resistances = reduce_readings(table, bench, rows)
    holder = np.flatnonzero((resistances.rows == last).any(1))
    off = table.polarity[last] == OFF
    mating = _of_cell(table, resistances, table.cells())
    contact = _of_cell(table, resistances, _contacts(table))
    movement, moved = (None, False) if off else last_movement(table)
    own = None if off or not len(holder) else int(holder[0])
    return _Bearing(table, resistances, own, mating, contact, movement, moved)


def _recent(earlier: Sequence[Entry], entry: Entry) -> list[int]:
    """Places of the entries that are looked at."""
    start = max(len(earlier) - _RECENT, 0)
    own = [
        i
        for i in range(start)
        if earlier[i].specimen == entry.specimen
        and (earlier[i].condition, earlier[i].contact) == (entry.condition, entry.contact)
    ]
    return [*own, *range(start, len(earlier))]


def _contacts(table: ReadingTable) -> Codes:
    codes = table.specimen.codes
    if table.contact is not None:
        codes = codes * (len(table.contact.names) + 1) + table.contact.codes
    return codes


def _of_cell(table: ReadingTable, resistances: Resistances, codes: Codes) -> Codes:
    """Numbers of the resistances that were formed from rows with the last row's number in `codes`."""
    return np.flatnonzero(codes[resistances.rows[:, 0]] == codes[len(table) - 1])


def _bench(bench: Bench, entry: Entry) -> Bench:
    """The meters as stated; one that is not is known to its last digit, as that was typed."""
    return replace(
        bench,
        voltmeter=bench.voltmeter or _digit(entry.voltage),
        ammeter=bench.ammeter or _digit(entry.current),
        ohmmeter=bench.ohmmeter or _digit(entry.resistance),
    )


def _digit(typed: Typed | None) -> Accuracy | None:
    if typed is None:
        return None
    exponent = Decimal(typed.text).as_tuple().exponent
    return Accuracy(resolution=10.0 ** int(exponent) * UNITS[typed.unit].factor)
