"""Readings that are in memory already, held to what a file would be held to, as a :class:`ReadingTable`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.factors import as_asked, columns_of, confounded
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import FORWARD, OFF, REVERSED, UNSTATED, Array, Labels, ReadingTable

_POLARITIES = (FORWARD, REVERSED, OFF, UNSTATED)
#: Line that the first reading has in a file, below the heading; messages and `keep` count the same way.
_FIRST_LINE = 2


def table_of(
    names: Mapping[str, Sequence[str] | None],
    numbers: Mapping[str, ArrayLike | None],
    polarity: ArrayLike | None,
    further: Mapping[str, Sequence[str]] | None = None,
) -> ReadingTable:
    """Make a table of columns by name.

    Parameters
    ----------
    names
        Columns ``specimen`` (needed), ``condition``, ``contact``, ``mating``, ``plug``, ``socket``, ``operator``; None where
        there is none.
    numbers
        Columns ``voltage`` and ``current``, or ``resistance``; ``time`` and ``temperature``. SI.
    polarity
        FORWARD, REVERSED, OFF or UNSTATED; None takes it from the sign of the current.
    further
        Columns of names beyond these: factors, and what else scatters.

    Raises
    ------
    ArgumentFault
        For columns that are missing, do not fit together, or hold no numbers.
    """
    specimen = names.get("specimen")
    if specimen is None or len(specimen) == 0:
        raise ArgumentFault("specimen", specimen, "one name a reading")
    n = len(specimen)
    labels = {key: _labels(key, column, n) for key, column in names.items()}
    columns = {key: _column(key, column, n) for key, column in numbers.items()}
    _check_kinds(columns)
    signs = _polarity(polarity, columns["current"], n)
    _check_current(columns["current"], signs)
    condition = labels["condition"] or Labels.of(["all"] * n)
    first = labels["specimen"]
    assert first is not None
    more = {"operator": names.get("operator"), **(further or {})}
    others = {key: made for key, column in more.items() if (made := _labels(key, column, n))}
    return ReadingTable(
        np.arange(_FIRST_LINE, n + _FIRST_LINE), first, condition, labels["contact"], labels["mating"], labels["plug"],
        labels["socket"], signs, columns["voltage"], columns["current"], columns["resistance"], columns["time"],
        columns["temperature"], labels.get("operator"), others=others,
    )  # fmt: skip


def asked_table(study: Study, table: ReadingTable) -> ReadingTable:
    """The table with the factors and further scatter that the study names.

    Raises
    ------
    ArgumentFault
        For a column that is not there, one specimen a condition in a comparison, a reference that is no condition, or a condition
        of which no reading is left.
    """
    there = columns_of(table)
    for name in (*study.factors, *study.scatter_by):
        if name not in there:
            found = ", ".join(sorted(there))
            raise ArgumentFault("further", found, f"the column {name}, which the study names")
    asked = as_asked(study, table)
    for name in study.scatter_by:
        if name in asked.others and confounded(asked, name):
            raise ArgumentFault(
                "further", f"each {name} under one condition", f"a {name} that read several conditions"
            )
    _check_specimens(asked)
    known = asked.condition.names
    if (study.reference is None and len(known) > 1) or study.reference not in (None, *known):
        raise ArgumentFault("reference", study.reference, f"one of {', '.join(known)}")
    _check_left(study, asked)
    return asked


def _check_left(study: Study, table: ReadingTable) -> None:
    """Every condition keeps a reading to answer from."""
    kept = (table.polarity != OFF) & ~np.isin(table.line, list(study.set_aside))
    left = np.bincount(table.condition.codes, kept, len(table.condition.names))
    for name, readings in zip(table.condition.names, left, strict=True):
        if readings == 0:
            wanted = "at least one with the current on that is not set aside"
            raise ArgumentFault("condition", f"no reading left of {name}", wanted)


def _check_specimens(table: ReadingTable) -> None:
    """A comparison needs, beside the conditions, one specimen more than it takes to tell them apart."""
    specimen, condition = table.specimen, table.condition
    conditions, specimens = len(condition.names), len(specimen.names)
    pairs = len(np.unique(np.column_stack([specimen.codes, condition.codes]), axis=0))
    enough = specimens > (1 if pairs > specimens else conditions)
    if conditions > 1 and not enough:
        wanted = "at least two specimens a condition in a comparison"
        raise ArgumentFault("specimen", f"{specimens} under {conditions} conditions", wanted)


def _labels(key: str, column: Sequence[str] | None, n: int) -> Labels | None:
    if column is None:
        return None
    texts = [str(text) for text in column]
    if len(texts) != n or not all(texts):
        raise ArgumentFault(key, f"{len(texts)} entries, {texts.count('')} empty", f"{n} names")
    return Labels.of(texts)


def _column(key: str, column: ArrayLike | None, n: int) -> Array | None:
    if column is None:
        return None
    values = np.asarray(column, float)
    if values.shape != (n,):
        raise ArgumentFault(key, f"an array of shape {values.shape}", f"{n} numbers")
    missing = key in ("time", "temperature")
    if not (np.isfinite(values) | (np.isnan(values) & missing)).all():
        raise ArgumentFault(key, "infinities or NaN", "finite numbers")
    return values


def _check_kinds(columns: Mapping[str, Array | None]) -> None:
    have = [key for key in ("voltage", "current", "resistance") if columns[key] is not None]
    if have not in (["voltage", "current"], ["resistance"]):
        raise ArgumentFault("voltage, current, resistance", have, "voltage and current, or resistance")


def _polarity(polarity: ArrayLike | None, current: Array | None, n: int) -> np.ndarray:
    if polarity is None:
        if current is None:
            return np.full(n, UNSTATED, np.int8)
        return np.where(current < 0, REVERSED, FORWARD).astype(np.int8)
    codes = np.asarray(polarity)
    if codes.shape != (n,) or not np.isin(codes, _POLARITIES).all():
        raise ArgumentFault("polarity", f"an array of shape {codes.shape}", f"{n} of {_POLARITIES}")
    return codes.astype(np.int8)


def _check_current(current: Array | None, polarity: np.ndarray) -> None:
    if current is None:
        return
    if ((current == 0) & (polarity != OFF)).any():
        raise ArgumentFault("current", 0.0, "the current that flowed, or polarity 0 where it was off")
    if (((current < 0) & (polarity == FORWARD)) | ((current > 0) & (polarity == REVERSED))).any():
        raise ArgumentFault("current", "signs against the polarity", "+ forward and − reversed")
