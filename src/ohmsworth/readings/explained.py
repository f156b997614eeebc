"""What a reading that stands off from those before it is best explained by: as it stands, or a slip of the hand.

Every explanation says how likely it is beforehand and how likely the numbers are if it is true; a slip is asked about
when the slips together are likelier than the reading as it stands.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

import numpy as np

from ohmsworth.errors import QuantityFault
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.expected import Expected, expected_current, expected_resistance
from ohmsworth.readings.slips import LEADS
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import ReadingTable

AS_TYPED, VOLTAGE, CURRENT, RESISTANCE, EXCHANGED, TWO_WIRE = (
    "as typed",
    "voltage",
    "current",
    "resistance",
    "exchanged",
    "two-wire",
)
#: How often each happens, as rough as such a thing can be known: a decimal mark goes astray once in a few hundred readings.
_SLIP = {1: 0.004, 2: 0.001, 3: 0.002}
_EXCHANGE, _LEADS = 0.002, 0.004
#: A reading that follows none of the rest: a bad contact, or one that is off by no power of ten. Per decade.
_STRAY, _STRAY_DENSITY = 0.01, 0.1
#: A lead's resistance is as likely in one part of its two decades as in another.
_LEAD_DENSITY = 1 / math.log10(LEADS[1] / LEADS[0])
_LEAD_STANDS_OUT = math.log10(5)


@dataclass(frozen=True, slots=True)
class Explanation:
    """`kind` with the power of ten that was typed too much, and its probability among all explanations."""

    kind: str
    power: int
    probability: float


@dataclass(frozen=True, slots=True)
class Explained:
    """The likeliest slip, the probability of all slips together, and what was expected."""

    slip: Explanation
    probability: float
    expected: Expected

    @property
    def doubted(self) -> bool:
        """Whether a slip is likelier than the reading as it stands."""
        return self.probability > 0.5


def explain(table: ReadingTable, entry: Entry, study: Study) -> Explained | None:
    """Weigh the explanations of the last row of `table`, which `entry` made; None where it has no resistance."""
    numbers = _numbers(table)
    if numbers is None:
        return None
    ohm, ampere = numbers
    resistance = expected_resistance(table, study)
    current = expected_current(table) if table.current is not None else None
    weights = list(_weights(ohm, ampere, resistance, current, entry))
    top = max(weight for _, _, weight in weights)
    sizes = [math.exp(weight - top) for _, _, weight in weights]
    total = sum(sizes)
    slips = [
        Explanation(kind, power, size / total)
        for (kind, power, _), size in zip(weights, sizes, strict=True)
        if kind != AS_TYPED
    ]
    best = max(slips, key=lambda one: one.probability)
    return Explained(best, sum(one.probability for one in slips), resistance)


def _numbers(table: ReadingTable) -> tuple[float, float | None] | None:
    """Logarithms of the last row's resistance and current."""
    if table.resistance is not None:
        size = abs(float(table.resistance[-1]))
        return (math.log10(size), None) if size > 0 else None
    assert table.voltage is not None and table.current is not None
    volts, amperes = abs(float(table.voltage[-1])), abs(float(table.current[-1]))
    if not (volts > 0 and amperes > 0 and np.isfinite(volts + amperes)):
        return None
    return math.log10(volts) - math.log10(amperes), math.log10(amperes)


def _weights(
    ohm: float, ampere: float | None, resistance: Expected, current: Expected | None, entry: Entry
) -> Iterator[tuple[str, int, float]]:
    """Each explanation with its power of ten and the logarithm of its weight."""
    flow = 0.0 if current is None or ampere is None else current.log_density(ampere)
    likely = resistance.log_density(ohm)
    stray = math.log(_STRAY * _STRAY_DENSITY)
    yield AS_TYPED, 0, float(np.logaddexp(likely, stray)) + flow
    for size, prior in _SLIP.items():
        for power in (size, -size):
            if current is None or ampere is None:
                yield RESISTANCE, power, math.log(prior) + resistance.log_density(ohm - power)
                continue
            yield VOLTAGE, power, math.log(prior) + resistance.log_density(ohm - power) + flow
            shifted = resistance.log_density(ohm + power) + current.log_density(ampere - power)
            yield CURRENT, power, math.log(prior) + shifted
    turned = exchanged(entry)
    if turned is not None and current is not None:
        volts, amperes = (math.log10(abs(one.value)) for one in turned)
        weight = resistance.log_density(volts - amperes) + current.log_density(amperes)
        yield EXCHANGED, 0, math.log(_EXCHANGE) + weight
    lead = 10**ohm - 10**resistance.middle
    if LEADS[0] < lead < LEADS[1] and ohm - resistance.middle > _LEAD_STANDS_OUT:
        yield TWO_WIRE, 0, math.log(_LEADS * _LEAD_DENSITY) + flow


def exchanged(entry: Entry) -> tuple[Typed, Typed] | None:
    """Voltage and current with their numbers exchanged, each field keeping its unit; None where that is nothing new."""
    volts, amperes = entry.voltage, entry.current
    if volts is None or amperes is None or volts.text == amperes.text:
        return None
    turned = (
        Typed(amperes.text, volts.unit, volts.dimension),
        Typed(volts.text, amperes.unit, amperes.dimension),
    )
    try:
        return turned if all(one.value for one in turned) else None
    except QuantityFault:  # no such size
        return None


def moved(typed: Typed, power: int) -> Typed:
    """The same digits with the decimal mark `power` places to the left.

    Examples
    --------
    >>> moved(Typed("2.510", "mV", "voltage"), 1).text
    '0.2510'
    """
    return Typed(format(Decimal(typed.text).scaleb(-power), "f"), typed.unit, typed.dimension)
