"""Slips of the pen: a factor of ten, volts and amperes exchanged, a lead resistance left in."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.home import FOLDER, Home, to_keep, to_look
from ohmsworth.readings.study import Limit
from ohmsworth.readings.table import OFF, Array, Codes, ReadingTable, number_cells

#: How close (in decades) to a whole power of ten a deviation must be to look like a slip: ±20 %.
_CLOSE = 0.08
#: A reading's own scatter below which nothing is called an outlier, in decades (about 5 %).
_FINE = 0.02
#: Across a contact that is not meant to be heated, volt.
_MOST_VOLTS = 0.05
#: Lead and clip resistance that a two-wire reading adds, ohm (common practice: hand-held leads).
LEADS = (0.03, 3.0)


def row_resistance(table: ReadingTable) -> Array:
    """V/I (or the resistance as read) of each row, NaN for rows with the current off."""
    if table.resistance is not None:
        return np.where(table.polarity == OFF, np.nan, table.resistance)
    assert table.voltage is not None and table.current is not None
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(table.polarity == OFF, np.nan, table.voltage / table.current)


def find_slips(table: ReadingTable, limit: Limit | None, home: Home = FOLDER) -> list[Doubt]:
    """Doubts UNIT_SLIP, SLIP_OR_FAULT, SWAPPED and TWO_WIRE.

    Rows under UNIT_SLIP and SWAPPED may be left out; SLIP_OR_FAULT may be the bad contact that was looked for.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        decades = np.log10(np.abs(row_resistance(table)))
    decades[~np.isfinite(decades)] = np.nan
    reference, spread = _peers(table, decades)
    swapped = _swapped(table, decades, reference)
    apart = decades - reference
    outlying = np.abs(apart) > 6 * np.maximum(spread, _FINE)
    power = np.round(apart)
    slipped = outlying & (np.abs(power) >= 1) & (np.abs(apart - power) < _CLOSE) & ~swapped
    contradicted = _contradicted(table, decades)
    doubts = _slip_doubts(table, power, slipped & contradicted, home)
    doubts += _fault_doubts(table, power, slipped & ~contradicted)
    if swapped.any():
        doubts.append(_doubt_swapped(_lines(table, swapped), home))
    doubts += _all_swapped(table, decades, limit, home)
    doubts += _two_wire(table, decades, reference, outlying & ~slipped & ~swapped)
    return doubts + _all_two_wire(table, decades, limit)


def _peers(table: ReadingTable, decades: Array) -> tuple[Array, Array]:
    """Median and robust spread of each row's peers: its own specimen, or failing that its condition.

    A specimen with three rows or more is its own reference; with fewer, the other specimens under the same
    condition tell which of its rows stands apart.
    """
    own = number_cells([table.specimen.codes, table.condition.codes])
    reference, spread, count = _medians(decades, own)
    wide = _medians(decades, table.condition.codes)
    few = count < 3
    enough = wide[2] >= 6
    reference = np.where(few, np.where(enough, wide[0], np.nan), reference)
    spread = np.where(few, wide[1], spread)
    return reference, spread


def _medians(values: Array, group: Codes) -> tuple[Array, Array, Codes]:
    """Each row's group median, robust standard deviation and size."""
    medians, size = _group_medians(values, group)
    mad, _ = _group_medians(np.abs(values - medians[group]), group)
    return medians[group], 1.4826 * mad[group], size[group]


def _group_medians(values: Array, group: Codes) -> tuple[Array, Codes]:
    """Each group's median and size, of the values that are finite."""
    groups = int(group.max()) + 1
    order = np.lexsort((values, group))
    order = order[np.isfinite(values[order])]
    values, group = values[order], group[order]
    size = np.bincount(group, minlength=groups)
    start = np.concatenate([[0], np.cumsum(size)[:-1]])
    if len(values) == 0:
        return np.full(groups, np.nan), size
    last = len(values) - 1
    low = values[np.minimum(start + np.maximum(size - 1, 0) // 2, last)]
    high = values[np.minimum(start + size // 2, last)]
    return np.where(size > 0, (low + high) / 2, np.nan), size


def _contradicted(table: ReadingTable, decades: Array) -> np.ndarray:
    """Rows that other rows of the very same mating contradict: the contact cannot have been both."""
    median, _, count = _medians(decades, table.cells())
    # The median of two is their mean: each lies half their distance from it.
    apart = np.abs(decades - median) * np.where(count == 2, 2, 1)
    with np.errstate(invalid="ignore"):
        return (count >= 2) & (apart > 0.5)


def _slip_doubts(table: ReadingTable, power: Array, chosen: np.ndarray, home: Home) -> list[Doubt]:
    return [
        Doubt(
            "UNIT_SLIP",
            f"{times} than its fellow readings: a slipped unit or decimal mark.",
            rows,
            f"{to_look(home)}; correct the reading, or {to_keep(home)} if it is right.",
        )
        for times, rows in _by_power(table, power, chosen)
    ]


def _fault_doubts(table: ReadingTable, power: Array, chosen: np.ndarray) -> list[Doubt]:
    return [
        Doubt(
            "SLIP_OR_FAULT",
            f"about {times} than others of its kind, and nothing read in the same mating contradicts it: a slip, "
            "or a contact that is really so.",
            rows,
            "Read that contact again before you believe or dismiss it.",
        )
        for times, rows in _by_power(table, power, chosen)
    ]


def _by_power(table: ReadingTable, power: Array, chosen: np.ndarray) -> list[tuple[str, tuple[int, ...]]]:
    """The chosen rows by the power of ten that they are off by: "10 times larger" and the lines."""
    found = []
    for k in np.unique(power[chosen]):
        factor = f"{10 ** abs(k):,.0f}".replace(",", " ")
        found.append(
            (f"{factor} times {'larger' if k > 0 else 'smaller'}", _lines(table, chosen & (power == k)))
        )
    return found


def _swapped(table: ReadingTable, decades: Array, reference: Array) -> np.ndarray:
    """Rows whose voltage looks like the others' current and the reverse."""
    if table.voltage is None or table.current is None:
        return np.zeros(len(table), bool)
    volts, amperes = _log_size(table.voltage), _log_size(table.current)
    usual_volts, usual_amperes = (
        _group_medians(sizes, table.condition.codes)[0][table.condition.codes] for sizes in (volts, amperes)
    )
    with np.errstate(invalid="ignore"):
        return (
            (np.abs(volts - usual_amperes) < 0.5)
            & (np.abs(amperes - usual_volts) < 0.7)
            & (np.abs(decades - reference) > 1)
        )


def _log_size(values: Array) -> Array:
    with np.errstate(divide="ignore"):
        logs = np.log10(np.abs(values))
    return np.where(np.isfinite(logs), logs, np.nan)


def _doubt_swapped(rows: tuple[int, ...], home: Home) -> Doubt:
    return Doubt(
        "SWAPPED",
        "voltage and current look exchanged.",
        rows,
        f"Exchange the two numbers, or {to_keep(home)} if it is right.",
    )


def _all_swapped(table: ReadingTable, decades: Array, limit: Limit | None, home: Home) -> list[Doubt]:
    """The two columns exchanged throughout: 1/R is a contact's size, R is not."""
    if table.voltage is None or not np.isfinite(decades).any():
        return []
    middle = float(np.nanmedian(decades))
    # Ohms alone can be an honest film: the other way round they must be near the limit, or, without one, near a usual
    # contact and the "volts" more than anybody puts across one.
    if limit is not None:
        exchanged = abs(-middle - np.log10(limit.resistance)) < 1
    else:
        exchanged = abs(-middle + 2) < 1.5 and float(np.median(np.abs(table.voltage))) > _MOST_VOLTS
    if middle > np.log10(5) and exchanged:
        return [_doubt_swapped(_lines(table, np.isfinite(decades)), home)]
    return []


def _two_wire(table: ReadingTable, decades: Array, reference: Array, outlying: np.ndarray) -> list[Doubt]:
    """Single rows that carry a lead resistance more than their fellows."""
    with np.errstate(invalid="ignore"):
        added = 10**decades - 10**reference
        suspect = outlying & (added > LEADS[0]) & (added < LEADS[1]) & (decades - reference > np.log10(5))
    if not suspect.any():
        return []
    return [
        Doubt(
            "TWO_WIRE",
            "higher than its fellow readings by about what test leads have: a two-wire reading?",
            _lines(table, suspect),
            "Measure again with the voltmeter's own pair of leads on the contact; look for a film too.",
        )
    ]


def _all_two_wire(table: ReadingTable, decades: Array, limit: Limit | None) -> list[Doubt]:
    """Every reading like a lead's: far over the limit, and the specimens hardly differ."""
    if limit is None or not np.isfinite(decades).any():
        return []
    middle = 10 ** float(np.nanmedian(decades))
    spread = float(np.nanmedian(np.abs(decades - np.log10(middle)))) * 1.4826
    specimens = len(table.specimen.names)
    alike = spread < np.log10(1.15) and specimens > 1
    if middle > 10 * limit.resistance and LEADS[0] < middle < LEADS[1] and alike:
        return [
            Doubt(
                "TWO_WIRE",
                "every reading is far over the limit and nearly the same: the leads may be in it.",
                (),
                "Check that the voltmeter has its own pair of leads on the contact (four-wire).",
            )
        ]
    return []


def _lines(table: ReadingTable, chosen: np.ndarray) -> tuple[int, ...]:
    return tuple(table.line[chosen].tolist())
