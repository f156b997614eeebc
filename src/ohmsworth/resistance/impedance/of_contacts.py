"""Impedances of many contacts over the same tones, and the resistances that they are at one of them.

A take of a contact is a reading like others: at each tone it has R and X, noise that is new in every take, and errors that
all takes have alike. At tone k, from ``Z = R + jX`` of take i,

    value = Re Z_ik,    independent = √u²_noise(R_ik) with its degrees of freedom,    shared[s] = Re δ_s Z_ik

with δ_s Z what one standard uncertainty of source s does, with its sign: what all takes have alike then cancels in a
difference or ratio as far as it is alike. The same holds of X with imaginary parts. Source: GUM F.1.2.3.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.table import Codes, ReadingTable
from ohmsworth.resistance.fourwire import Resistances, take_labels
from ohmsworth.resistance.impedance.curve import Array, Complex, Curve
from ohmsworth.resistance.sequence import TONES

#: What the part of a take's uncertainty that is new in every take comes from.
NOISE = "noise of the takes"
#: Hertz that are asked about where nobody says.
USUAL = 1000.0


@dataclass(frozen=True, slots=True, eq=False)
class Impedances:
    """Takes of n contacts at m tones.

    Parameters
    ----------
    table
        What was taken, a row a take; it holds no readings.
    frequency
        Hertz, ascending, shape (m,).
    value
        Z in ohm, shape (n, m).
    random
        Variance of R and of X from noise in ohm², shape (n, m, 2).
    degrees
        Degrees of freedom of `random`, shape (n, m).
    shared
        What one standard uncertainty of each source common to the takes does to Z in ohm, shape (n, m).
    """

    table: ReadingTable
    frequency: Array
    value: Complex
    random: Array
    degrees: Array
    shared: Mapping[str, Complex]


def gathered(table: ReadingTable, measured: Sequence[Curve]) -> Impedances:
    """One curve a row of `table`.

    Raises
    ------
    ArgumentFault
        When there are not as many measured as rows, or their tones differ.
    """
    if len(measured) != len(table) or not len(table):
        raise ArgumentFault(
            "measured", len(measured), f"one a row of the table, {len(table)}, and more than none"
        )
    frequency = measured[0].frequency
    if any(not np.array_equal(curve.frequency, frequency) for curve in measured):
        raise ArgumentFault("measured", "different tones", "the same tones in every take")
    names = dict.fromkeys(name for curve in measured for name in curve.shared)
    none = np.zeros(len(frequency), complex)
    return Impedances(
        table,
        frequency,
        np.array([curve.value for curve in measured]),
        np.array([curve.random[:, [0, 1], [0, 1]] for curve in measured]),
        np.array([curve.degrees for curve in measured]),
        {name: np.array([curve.shared.get(name, none) for curve in measured]) for name in names},
    )


def resistances_at(found: Impedances, tone: int, used: Codes) -> Resistances:
    """R of the takes `used` at tone number `tone`, as resistances that know their uncertainty."""
    return _at(found, tone, used, 0)


def reactances_at(found: Impedances, tone: int, used: Codes) -> Resistances:
    """X in ohm in the same form."""
    return _at(found, tone, used, 1)


def _at(found: Impedances, tone: int, used: Codes, part: int) -> Resistances:
    def parted(z: Complex) -> Array:
        return np.asarray(z.imag if part else z.real)

    number = len(used)
    return Resistances(
        parted(found.value[used, tone]),
        np.sqrt(found.random[used, tone, part]),
        {name: effect for name, both in found.shared.items() if np.any(effect := parted(both[used, tone]))},
        np.zeros(number),
        np.full(number, TONES, np.int64),
        np.column_stack([used, np.full((number, 2), -1, np.int64)]),
        **take_labels(found.table, used),
        independent_source=NOISE,
        independent_freedom=found.degrees[used, tone],
    )


def nearest_tone(frequency: Array, asked: float) -> int:
    """Number of the tone nearest to `asked` hertz on a logarithmic scale."""
    return int(np.abs(np.log(frequency / asked)).argmin())
