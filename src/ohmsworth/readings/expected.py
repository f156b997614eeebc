"""What the next reading may be expected to show, from those before it: a middle, how far it may stray, and why."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.study import Bench, Study
from ohmsworth.readings.table import OFF, Array, Codes, ReadingTable, number_cells

#: How far readings may stray (decades) before the study itself has shown it: within a mating (7 %), between the matings of a
#: contact (20 %), between specimens (23 %), and between conditions, of which tarnish makes one up to a hundred times the other.
_WITHIN, _MATINGS, _SPECIMENS, _CONDITIONS = 0.03, 0.08, 0.09, 0.8
#: From a limit: contacts that are sold for it are half of it as a rule; without one, a contact as they are sold (ohm).
_OF_LIMIT, _FROM_LIMIT = 0.5, 0.7
_SOLD, _FROM_SOLD = 5e-3, 1.0
#: A current as four-wire benches send it (ampere), and how closely it is set again (decades).
_CURRENT, _ANY_CURRENT, _SET_AGAIN = 0.1, 0.7, 0.02
#: Readings that such a guess is worth beside those of the study.
_WORTH = 5.0
_LN10 = math.log(10)


@dataclass(frozen=True, slots=True)
class Expected:
    """A middle (common logarithm), a scale about it (decades) with its degrees of freedom, and what they rest on.

    `level` is "mating", "contact", "condition", "study", "limit" or "nothing"; `number` counts what it is a middle of.
    """

    middle: float
    scale: float
    freedom: float
    level: str
    number: int

    def log_density(self, value: float) -> float:
        """Logarithm of the density of Student's t at `value`, per decade."""
        if not math.isfinite(value):
            return -math.inf
        f, z = self.freedom, (value - self.middle) / self.scale
        norm = math.lgamma((f + 1) / 2) - math.lgamma(f / 2) - 0.5 * math.log(f * math.pi)
        return norm - math.log(self.scale) - (f + 1) / 2 * math.log1p(z * z / f)


def table_decades(table: ReadingTable) -> Array:
    """Common logarithm of each row's resistance; NaN where there is none."""
    with np.errstate(divide="ignore", invalid="ignore"):
        decades = np.log10(np.abs(row_resistance(table)))
    return np.where(np.isfinite(decades), decades, np.nan)


def expected_resistance(table: ReadingTable, study: Study) -> Expected:
    """What the last row's resistance may be expected to be, from all rows before it."""
    decades = table_decades(table)[:-1]
    mating, contact, condition = _levels(table)
    before = np.isfinite(decades)
    same = [np.flatnonzero(before & (codes[:-1] == codes[-1])) for codes in (mating, contact, condition)]
    if len(same[0]):
        return _mating(table, study.bench, decades, same[0])
    matings = _middles(decades, mating[:-1], before)
    if len(same[1]):
        return _contact(matings, contact, condition)
    if len(same[2]):
        return _condition(matings, contact, condition)
    return _elsewhere(decades[before], study)


def _levels(table: ReadingTable) -> tuple[Codes, Codes, Codes]:
    """Numbers of mating, contact and condition of each row, each inside the next."""
    condition = table.condition.codes
    columns = [condition, table.specimen.codes]
    if table.contact is not None:
        columns.append(table.contact.codes)
    contact = number_cells(columns)
    return table.cells(), contact, condition


def _mating(table: ReadingTable, bench: Bench, decades: Array, rows: Codes) -> Expected:
    """The last readings of the same mating; a thermal EMF may part the two polarities."""
    last = rows[-3:]
    middle = float(np.median(decades[last]))
    scale = _WITHIN
    if table.voltage is not None:
        volts = float(np.median(np.abs(table.voltage[last])))
        scale = math.hypot(scale, 2 * bench.emf_allowance / max(volts, 1e-12) / _LN10)
    return Expected(middle, scale, _WORTH, "mating", len(rows))


@dataclass(frozen=True, slots=True, eq=False)
class _Middles:
    """The middle of each mating, and a row of it (for its contact and condition)."""

    value: Array
    row: Codes


def _middles(decades: Array, mating: Codes, before: np.ndarray) -> _Middles:
    rows = np.flatnonzero(before)
    values, row = _grouped(decades[rows], mating[rows])
    return _Middles(values, rows[row])


def _grouped(values: Array, group: Codes) -> tuple[Array, Codes]:
    """The median of each group, and the place of its first value."""
    kept, first, place = np.unique(group, return_index=True, return_inverse=True)
    order = np.lexsort((values, place))
    size = np.bincount(place, minlength=len(kept))
    start = np.concatenate([[0], np.cumsum(size)[:-1]]).astype(np.int64)
    ordered = values[order]
    return (ordered[start + (size - 1) // 2] + ordered[start + size // 2]) / 2, first


def _contact(matings: _Middles, contact: Codes, condition: Codes) -> Expected:
    """The contact's own earlier matings; how far matings stray is learnt from all contacts of its condition."""
    here = condition[matings.row] == condition[-1]
    value, group = matings.value[here], contact[matings.row][here]
    own = value[group == contact[-1]]
    squares, freedom = _squares(value, group)
    scale, worth = _learnt(_MATINGS, squares, freedom)
    return Expected(float(np.median(own)), scale * math.sqrt(1 + 1 / len(own)), worth, "contact", len(own))


def _condition(matings: _Middles, contact: Codes, condition: Codes) -> Expected:
    here = condition[matings.row] == condition[-1]
    value, _ = _grouped(matings.value[here], contact[matings.row][here])
    squares = float(np.sum((value - value.mean()) ** 2))
    scale, worth = _learnt(_SPECIMENS, squares, len(value) - 1)
    return Expected(
        float(np.median(value)), scale * math.sqrt(1 + 1 / len(value)), worth, "condition", len(value)
    )


def _elsewhere(decades: Array, study: Study) -> Expected:
    """Nothing read under this condition yet: the limit, the other conditions, or what contacts are as a rule."""
    if study.limit is not None:
        return Expected(math.log10(_OF_LIMIT * study.limit.resistance), _FROM_LIMIT, _WORTH, "limit", 0)
    if len(decades):
        return Expected(float(np.median(decades)), _CONDITIONS, _WORTH, "study", len(decades))
    return Expected(math.log10(_SOLD), _FROM_SOLD, _WORTH, "nothing", 0)


def _squares(values: Array, group: Codes) -> tuple[float, int]:
    """Sum of squares about the groups' means, and its degrees of freedom."""
    place = np.unique(group, return_inverse=True)[1]
    size = np.bincount(place)
    means = np.bincount(place, values) / size
    return float(np.sum((values - means[place]) ** 2)), len(values) - len(size)


def _learnt(guess: float, squares: float, freedom: int) -> tuple[float, float]:
    """A scale and its worth: the guess, and what the study has shown, each by its degrees of freedom."""
    worth = _WORTH + freedom
    return math.sqrt((_WORTH * guess**2 + squares) / worth), worth


def expected_current(table: ReadingTable) -> Expected:
    """What the last row's current may be expected to be, as a common logarithm of ampere."""
    assert table.current is not None
    amperes = np.abs(table.current[:-1][table.polarity[:-1] != OFF])
    amperes = amperes[amperes > 0]
    if len(amperes) == 0:
        return Expected(math.log10(_CURRENT), _ANY_CURRENT, _WORTH, "nothing", 0)
    return Expected(float(np.log10(np.median(amperes[-9:]))), _SET_AGAIN, _WORTH, "study", len(amperes))
