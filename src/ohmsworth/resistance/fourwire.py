"""From volts and amperes to ohms, with the thermal EMF cancelled and the meters' share of uncertainty kept.

Reversal      R = (V₊ − V₋) / (I₊ − I₋)
Three         R = (V₁ − 2V₂ + V₃) / (I₁ − 2I₂ + I₃)     (a linear drift of the EMF cancels too)
Zero          R = (V − V₀) / I
One polarity  R = V / I, with an allowance for the EMF in the uncertainty
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypedDict

import numpy as np

from ohmsworth.readings.meters import Accuracy, independent_uncertainty, shared_uncertainties
from ohmsworth.readings.study import Bench
from ohmsworth.readings.table import Array, Codes, Labels, ReadingTable, take_each
from ohmsworth.resistance.sequence import DIRECT, REVERSAL, SINGLE, THREE, ZERO, Groups, group_rows

#: What the part of a meter's uncertainty that is new in every resistance comes from.
COUNTS = "meter counts"


@dataclass(frozen=True, slots=True, eq=False)
class Resistances:
    """One entry a resistance; uncertainties are standard ones in ohm.

    Parameters
    ----------
    value
        Resistance (ohm).
    independent
        Meter uncertainty that is new in every resistance.
    shared
        Meter uncertainty common to all: name of the source -> array like `value`.
    emf
        Uncertainty from the thermal EMF that a single polarity leaves in.
    form, rows
        How each was formed and from which rows of the table (−1 where unused).
    specimen, condition, contact, mating, plug, socket, factors, others
        What was measured, as in the table.
    independent_source
        What `independent` comes from.
    independent_freedom
        Degrees of freedom of `independent`, an array like it; None where it is as good as known.
    """

    value: Array
    independent: Array
    shared: dict[str, Array]
    emf: Array
    form: Codes
    rows: Codes
    specimen: Labels
    condition: Labels
    contact: Labels | None
    mating: Labels | None
    plug: Labels | None
    socket: Labels | None
    factors: Mapping[str, Labels] = field(default_factory=dict)
    others: Mapping[str, Labels] = field(default_factory=dict)
    independent_source: str = COUNTS
    independent_freedom: Array | None = None

    def __len__(self) -> int:
        return len(self.value)

    def take(self, chosen: Codes) -> Resistances:
        """The same for a selection of entries."""
        return Resistances(
            self.value[chosen],
            self.independent[chosen],
            {name: part[chosen] for name, part in self.shared.items()},
            self.emf[chosen],
            self.form[chosen],
            self.rows[chosen],
            **take_labels(self, chosen),
            independent_source=self.independent_source,
            independent_freedom=None
            if self.independent_freedom is None
            else self.independent_freedom[chosen],
        )


class LabelColumns(TypedDict):
    """What was measured, column by column."""

    specimen: Labels
    condition: Labels
    contact: Labels | None
    mating: Labels | None
    plug: Labels | None
    socket: Labels | None
    factors: Mapping[str, Labels]
    others: Mapping[str, Labels]


def take_labels(source: ReadingTable | Resistances, rows: Codes) -> LabelColumns:
    """What was measured in the chosen rows."""
    return {
        "specimen": source.specimen.take(rows),
        "condition": source.condition.take(rows),
        "contact": source.contact.take(rows) if source.contact else None,
        "mating": source.mating.take(rows) if source.mating else None,
        "plug": source.plug.take(rows) if source.plug else None,
        "socket": source.socket.take(rows) if source.socket else None,
        "factors": take_each(source.factors, rows),
        "others": take_each(source.others, rows),
    }


# Weight of each row of a group, by form; rows beyond the form have weight zero.
_WEIGHTS = np.zeros((5, 3))
_WEIGHTS[SINGLE, 0] = _WEIGHTS[DIRECT, 0] = 1
_WEIGHTS[ZERO, :2] = (1, -1)
_WEIGHTS[REVERSAL, :2] = (1, -1)
_WEIGHTS[THREE] = (1, -2, 1)
# A zero reading has no current in it; leaving its ammeter reading out keeps the meter's own offset out.
_CURRENT_WEIGHTS = _WEIGHTS.copy()
_CURRENT_WEIGHTS[ZERO, 1] = 0
# An ohmmeter shows both polarities with the same sign; a zero reading (leads together) is still subtracted.
_OHM_WEIGHTS = np.abs(_WEIGHTS) / np.abs(_WEIGHTS).sum(1, keepdims=True)
_OHM_WEIGHTS[ZERO] = _WEIGHTS[ZERO]


def reduce_readings(table: ReadingTable, bench: Bench, used: Codes) -> Resistances:
    """Turn the rows `used` of a table into resistances.

    Parameters
    ----------
    table
        All readings.
    bench
        Stated accuracy of the meters; what is not stated contributes nothing (the answer says so).
    used
        Row numbers (not file lines) that take part.
    """
    cell = table.cells()[used]
    time = None if table.time is None else table.time[used]
    groups = group_rows(cell, table.polarity[used], time)
    rows = np.where(groups.rows >= 0, used[groups.rows], -1)
    if table.resistance is not None:
        return _from_resistance(table, bench, groups, rows)
    return _from_voltage(table, bench, groups, rows)


def _from_voltage(table: ReadingTable, bench: Bench, groups: Groups, rows: Codes) -> Resistances:
    assert table.voltage is not None and table.current is not None
    weights, current_weights = _WEIGHTS[groups.form], _CURRENT_WEIGHTS[groups.form]
    volts, amperes = _pick(table.voltage, rows), _pick(table.current, rows)
    drop, current = (weights * volts).sum(1), (current_weights * amperes).sum(1)
    value = drop / current
    shared: dict[str, Array] = {}
    independent = np.zeros(len(value))
    for name, accuracy, readings, weight in (
        ("voltmeter", bench.voltmeter, volts, weights / current[:, None]),
        ("ammeter", bench.ammeter, amperes, current_weights * (value / current)[:, None]),
    ):
        if accuracy is not None:
            shared |= _shared_parts(name, accuracy, readings, weight)
            independent = np.hypot(independent, _rss(weight * independent_uncertainty(accuracy, readings)))
    emf = np.where(groups.form == SINGLE, bench.emf_allowance / np.sqrt(3) / np.abs(current), 0.0)
    return _assemble(table, groups, rows, value, independent, shared, emf)


def _from_resistance(table: ReadingTable, bench: Bench, groups: Groups, rows: Codes) -> Resistances:
    """Readings in ohm: the two polarities are averaged (an ohmmeter's sign is its own affair)."""
    assert table.resistance is not None
    weights = _OHM_WEIGHTS[groups.form]
    readings = _pick(table.resistance, rows)
    value = (weights * readings).sum(1)
    form = np.where(groups.form == SINGLE, DIRECT, groups.form)
    shared, independent = _ohmmeter_parts(bench.ohmmeter, readings, weights)
    return _assemble(table, Groups(form, rows), rows, value, independent, shared, np.zeros(len(value)))


def _ohmmeter_parts(
    accuracy: Accuracy | None, readings: Array, weights: Array
) -> tuple[dict[str, Array], Array]:
    if accuracy is None:
        return {}, np.zeros(len(readings))
    shared = _shared_parts("ohmmeter", accuracy, readings, weights)
    return shared, _rss(weights * independent_uncertainty(accuracy, readings))


def _shared_parts(meter: str, accuracy: Accuracy, readings: Array, weights: Array) -> dict[str, Array]:
    """What a meter's errors do to each resistance, all readings erring together and with their sign."""
    return {
        f"{meter} {name}": np.abs((weights * np.sign(readings) * part).sum(1))
        for name, part in shared_uncertainties(accuracy, readings).items()
    }


def _pick(column: Array, rows: Codes) -> Array:
    return np.where(rows >= 0, column[rows], 0.0)


def _rss(parts: Array) -> Array:
    return np.asarray(np.sqrt((parts**2).sum(1)))


def _assemble(
    table: ReadingTable,
    groups: Groups,
    rows: Codes,
    value: Array,
    independent: Array,
    shared: dict[str, Array],
    emf: Array,
) -> Resistances:
    return Resistances(
        value,
        independent,
        shared,
        emf,
        groups.form,
        rows,
        **take_labels(table, rows[:, 0]),
    )
