"""Readings of the check standard from every file, as one series of checks in order of time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from ohmsworth.inference.gauge import pooled_deviation
from ohmsworth.readings.check import CheckTable
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Array
from ohmsworth.resistance import Resistances, reduce_readings


@dataclass(frozen=True, slots=True, eq=False)
class Checks:
    """One entry a check, in order: its resistance (ohm) and name.

    `within` is the standard deviation of single resistances within a check, pooled, None where each has one;
    `each` is how many resistances a check has, on average; `resistances` are those of the file with the last check.
    """

    value: Array
    name: tuple[str, ...]
    within: float | None
    each: float
    resistances: Resistances


@dataclass(frozen=True, slots=True, eq=False)
class _Series:
    """The checks of one file; `moment` is None where they do not say on which date they were read."""

    value: Array
    name: tuple[str, ...]
    size: Array
    squares: Array
    moment: Array | None
    resistances: Resistances


def find_checks(study: Study, tables: Sequence[CheckTable]) -> Checks | None:
    """One series of all `tables`, in order of time, or one table after the other where a date is missing; None of none."""
    series = [_series(study, table) for table in map(partial(_kept, study), tables) if len(table.table)]
    if not series:
        return None
    value, size, squares = (
        np.concatenate([getattr(one, field) for one in series]) for field in ("value", "size", "squares")
    )
    source = np.repeat(np.arange(len(series)), [len(one.value) for one in series])
    moments = [one.moment for one in series if one.moment is not None]
    order = np.arange(len(value))
    if len(moments) == len(series):
        order = np.argsort(np.concatenate(moments), kind="stable")
    names = [name for one in series for name in one.name]
    last = series[int(source[order[-1]])].resistances
    many = size > 1
    within = None
    if many.any():
        freedom = size[many] - 1
        within = pooled_deviation(np.asarray(np.sqrt(squares[many] / freedom)), freedom)[0]
    return Checks(value[order], tuple(names[i] for i in order), within, float(size.mean()), last)


def _kept(study: Study, check: CheckTable) -> CheckTable:
    """Without the rows of readings.csv that the owner leaves out."""
    out = np.isin(check.table.line, list(study.set_aside))
    if not check.among_contacts or not out.any():
        return check
    rows = np.flatnonzero(~out)
    return replace(
        check,
        table=check.table.take(rows),
        date=check.date.take(rows) if check.date is not None else None,
        moment=check.moment[rows] if check.moment is not None else None,
    )


def order_doubts(tables: Sequence[CheckTable]) -> list[Doubt]:
    """Checks of two files that cannot be put in order of time."""
    if len(tables) < 2 or all(table.moment is not None for table in tables):
        return []
    words = (
        "the check standard is read in check.csv and in readings.csv, and not all of its rows say on which date: "
        "those of readings.csv are taken for the later ones."
    )
    mend = "Add a column 'date' to both files (year-month-day); in readings.csv the check standard's rows need it only."
    return [Doubt("CHECK_ORDER", words, (), mend)]


def _series(study: Study, check: CheckTable) -> _Series:
    """Rows of one name are one check; without names every resistance is one."""
    table = check.table if check.date is None else replace(check.table, mating=check.date)
    found = reduce_readings(table, study.bench, np.arange(len(table)))
    row = found.rows.max(1, initial=-1)
    if check.date is None:
        order = np.argsort(row, kind="stable")
        found, row = found.take(order), row[order]
        ones, moment = np.ones(len(found)), check.moment[row] if check.moment is not None else None
        names = tuple(f"check {i + 1}" for i in range(len(found)))
        return _Series(found.value, names, ones, 0 * ones, moment, found)
    assert found.mating is not None
    present, code = np.unique(found.mating.codes, return_inverse=True)
    size = np.bincount(code).astype(float)
    mean = np.bincount(code, found.value) / size
    squares = np.asarray(np.bincount(code, (found.value - mean[code]) ** 2), float)
    names = tuple(check.date.names[i] for i in present)
    moment = None
    if check.moment is not None:
        moment = np.array([check.moment[row[code == i]].min() for i in range(len(present))])
    return _Series(mean, names, size, squares, moment, found)
