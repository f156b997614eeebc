"""Is a contact ohmic: harmonics and products of its own, against what noise and inputs explain.

A contact that does not follow Ohm's law makes of the voltage u(t) that its impedance alone would have

    v = u + κ2 u² + κ3 u³

and so lines at twice and three times each tone and at their sums and differences. From a film whose conductance grows with
voltage (`ohmsworth.materials.third_harmonic`) κ3 = −1/V0²; of a contact with the share s of film in its resistance κ3 = −s³/V0².
A film that conducts unlike in the two directions has a κ2. κ2 and κ3 are fitted to the excess (`excess.py`) of all lines with
the lines of u² and u³ (`products.py`), each line weighted by its noise.

    third-harmonic index of a tone of peak V1      20 lg |V3/V1| = 20 lg (|κ3| V1²/4)
    second                                          20 lg |V2/V1| = 20 lg (|κ2| V1/2)

What an input itself distorts looks the same: of a tone as large as the whole take it makes a share d of harmonic at most, which
may look like κ3 = 4 d/P² or κ2 = 2 d/P at each of the two inputs, P the sum of the tones' peaks across the contact.
Sources: "film-memory" for the law, "IEC60440" for the index, "Currie" for limits (`detection.py`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.film_harmonics import FILM_VOLTAGE
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.curve import Array, Complex, Curve
from ohmsworth.resistance.impedance.detection import (
    FALSE_ALARM,
    chance_of,
    combined_chance,
    critical_factor,
    limit_factor,
    signed_critical_factor,
    signed_limit_factor,
)
from ohmsworth.resistance.impedance.estimated import Estimated, subtracted
from ohmsworth.resistance.impedance.excess import Excess, excess_of
from ohmsworth.resistance.impedance.input_scale import Levels, levels
from ohmsworth.resistance.impedance.least_squares import Consistency, LinearFit, consistency, fitted, weighted
from ohmsworth.resistance.impedance.noise import MAINS_WIDTH, near_mains
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.powers import Cycles, Products, products_of
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.windows import windows_for

#: Hum is not looked for above this, in hertz; below, a line keeps so many zeros of the windows' response from the mains.
HUM_UP_TO, LOBES = 2000.0, 3.0

Verdict = Literal["not seen", "inputs may explain it", "contact"]


@dataclass(frozen=True, slots=True, eq=False)
class ProductLines:
    """Line by line.

    Parameters
    ----------
    frequency
        In hertz, shape (lines,).
    tone
        Frequency of the tone of which it is a harmonic; NaN for sums and differences, shape (lines,).
    order
        2 or 3, shape (lines,).
    excess
        Complex volt, peak, shape (lines,).
    critical, limit
        Volt above which noise is found once in twenty times, and volt that would be found in 19 of 20.
    p_value
        Chance of as much by noise.
    index, index_limit
        |excess| and `limit` in dB of the tone's own voltage across the contact; NaN for sums and differences.
    """

    frequency: Array
    tone: Array
    order: Array
    excess: Complex
    critical: Array
    limit: Array
    p_value: Array
    index: Array
    index_limit: Array


@dataclass(frozen=True, slots=True)
class Bend:
    """κ2 or κ3 by all lines together.

    Parameters
    ----------
    coefficient
        In 1/V or 1/V².
    critical, limit
        |κ| above which noise is found once in twenty times, and |κ| that would be found in 19 of 20.
    inputs
        Largest |κ| that the inputs may feign.
    p_value
        Two-sided chance of as much by noise.
    any_p
        Chance of as much energy at the lines of this order, whatever its phase, by noise.
    index, index_limit
        |κ| and `limit` in dB for the largest tone.
    verdict
        "contact" only where it is above the critical value and above what the inputs may feign.
    """

    coefficient: Estimated
    critical: float
    limit: float
    inputs: float
    p_value: float
    any_p: float
    index: float
    index_limit: float
    verdict: Verdict


@dataclass(frozen=True, slots=True, eq=False)
class NonOhmic:
    """What a contact adds to its signal.

    Parameters
    ----------
    lines
        Of the straight take, line by line.
    second, third
        κ2 and κ3.
    fit
        Whether the lines of the straight take are those of u² and u³.
    largest
        Peak volts across the contact of the largest tone, to which the indices belong.
    turned_p
        Chance of the difference of κ3 between straight and swapped take; None without a swapped one.
    """

    lines: ProductLines
    second: Bend
    third: Bend
    fit: Consistency
    largest: float
    turned_p: float | None


@dataclass(frozen=True, slots=True, eq=False)
class _Seen:
    """One take: its lines, which of them are products, and the fit."""

    levels: Levels
    products: Products
    excess: Excess
    chosen: Cycles
    fit: LinearFit
    agreement: Consistency


def nonohmic(
    take: Take,
    plan: TonePlan,
    circuit: Circuit,
    contact_input: int = 0,
    swapped: Take | None = None,
    input_distortion: float = 0.0,
) -> NonOhmic:
    """Look for harmonics and products that the contact makes.

    Parameters
    ----------
    contact_input
        Input, 0 or 1, that hears the contact in `take`; in `swapped` it is the other one.
    swapped
        A take with the inputs swapped: κ2 and κ3 are then the mean of both, and where they differ by more than noise,
        that difference is the inputs' at the least.
    input_distortion
        d, the largest share of harmonic that an input makes of a tone as large as the whole take: from a take of
        an ordinary resistor in the contact's place.

    Raises
    ------
    ArgumentFault
        When no line of second or none of third order is among the take's products, or see `levels`.
    """
    if not 0 <= input_distortion < 1:
        raise ArgumentFault("input_distortion", input_distortion, "a share, zero or more")
    straight = _seen(take, plan, circuit, contact_input)
    turned = None if swapped is None else _seen(swapped, plan, circuit, 1 - contact_input)
    size = np.abs(straight.levels.voltage)
    largest = float(size.max())
    whole = largest if plan.way == "in turn" else float(size.sum())
    lines = _lines(straight, plan, take.products.cycles[straight.chosen])
    bends, turned_p = [], None
    for order, feigned, ratio in ((2, 4 / whole, largest / 2), (3, 8 / whole**2, largest**2 / 4)):
        each = [seen.fit.estimated(np.eye(2)[order - 2]) for seen in (straight, turned) if seen is not None]
        inputs, coefficient = feigned * input_distortion, each[0]
        if len(each) == 2:
            difference = subtracted(*each)
            turned_p = difference.p_value()
            coefficient = _mean(*each)
            inputs = max(inputs, abs(difference.value) if turned_p < FALSE_ALARM else 0.0)
        bends.append(_bend(coefficient, inputs, ratio, combined_chance(lines.p_value[lines.order == order])))
    return NonOhmic(lines, bends[0], bends[1], straight.agreement, largest, turned_p)


def film_voltage(coefficient: float, share: float = 1.0) -> float:
    """V0 = √(s³/−κ3) in volt, of a film that is the `share` s of the contact's resistance; infinite for κ3 ≥ 0.

    Source: "film-memory", inverse of `ohmsworth.materials.third_harmonic` at small voltages.
    """
    if not 0 < share <= 1:
        raise ArgumentFault("share", share, "more than zero, one at most")
    return float(np.sqrt(share**3 / -coefficient)) if coefficient < 0 else np.inf


def is_usual_film(coefficient: float) -> bool:
    """Whether a film with V0 from 30 to 500 mV may make this κ3, whatever its share of the contact.

    A smaller share asks for a smaller V0: films are ruled out only where all of the contact as film would still ask for
    less than 30 mV, or where κ3 is not negative.
    """
    return FILM_VOLTAGE.low <= film_voltage(coefficient) < np.inf


def _seen(take: Take, plan: TonePlan, circuit: Circuit, contact_input: int) -> _Seen:
    found = levels(take.tones, plan, circuit, contact_input)
    made = products_of(found.voltage, plan.cycles, take.products.cycles, plan.way)
    excess = excess_of(take, plan, found, contact_input)
    usable = made.clear & ~_in_hum(plan, take.products.cycles)
    for name, part in (("second", made.square), ("third", made.cube)):
        if not (np.abs(part[usable]) > 0).any():
            raise ArgumentFault("products", take.products.cycles, f"lines of {name} order among them")
    chosen = np.flatnonzero(usable & ((made.square != 0) | (made.cube != 0)))
    columns = np.column_stack([made.square, made.cube])[chosen]
    noise = excess.noise[chosen, None, None] / 2 * np.eye(2)
    data = weighted(Curve(chosen.astype(float), excess.value[chosen], noise, excess.degrees[chosen], {}))
    fit = fitted(data, columns)
    left = excess.value[chosen] - columns @ fit.value
    return _Seen(found, made, excess, chosen, fit, consistency(data, columns, left))


def _in_hum(plan: TonePlan, cycles: Cycles) -> NDArray[np.bool_]:
    """Lines that hum may reach: as far as the windows' lobes leak, up to the highest harmonic of the mains that counts."""
    hertz = cycles * (plan.rate / plan.period)
    hop = windows_for(plan.periods).hop * plan.period / plan.rate
    return (hertz < HUM_UP_TO) & near_mains(hertz, max(MAINS_WIDTH, LOBES / hop))


def _lines(seen: _Seen, plan: TonePlan, wanted: Cycles) -> ProductLines:
    """Line by line; `wanted` are the cycles of the chosen lines."""
    chosen, excess = seen.chosen, seen.excess
    value, noise, degrees = excess.value[chosen], excess.noise[chosen], excess.degrees[chosen]
    harmonic = seen.products.harmonic[chosen]
    f = plan.frequencies
    own = np.where(harmonic >= 0, np.abs(seen.levels.voltage)[harmonic], np.nan)
    sigma = np.sqrt(noise)
    limit = sigma * np.array([limit_factor(float(nu)) for nu in degrees])
    with np.errstate(divide="ignore"):
        index = 20 * np.log10(np.abs(value) / own)
    return ProductLines(
        np.asarray(wanted * (plan.rate / plan.period), float),
        np.where(harmonic >= 0, f[harmonic], np.nan),
        np.where(seen.products.cube[chosen] != 0, 3, 2),
        value,
        sigma * np.array([critical_factor(float(nu)) for nu in degrees]),
        limit,
        chance_of(np.abs(value), noise, degrees),
        index,
        20 * np.log10(limit / own),
    )


def _mean(one: Estimated, other: Estimated) -> Estimated:
    """Plain mean of two takes: weights by their noise would let the inputs' part of one of them prevail."""
    squares = one.random**2, other.random**2
    spread = squares[0] ** 2 / one.degrees + squares[1] ** 2 / other.degrees
    degrees = sum(squares) ** 2 / spread if spread > 0 else np.inf
    return Estimated((one.value + other.value) / 2, float(np.sqrt(sum(squares))) / 2, degrees, {})


def _bend(coefficient: Estimated, inputs: float, ratio: float, any_p: float) -> Bend:
    u, nu, size = coefficient.uncertainty, coefficient.freedom, abs(coefficient.value)
    critical, limit = u * signed_critical_factor(nu), u * signed_limit_factor(nu)
    verdict: Verdict = "not seen"
    if size > critical:
        verdict = "contact" if size > critical + inputs else "inputs may explain it"
    index, index_limit = (
        20 * float(np.log10(part * ratio)) if part > 0 else -np.inf for part in (size, limit)
    )
    return Bend(
        coefficient, critical, limit, inputs, coefficient.p_value(), any_p, index, index_limit, verdict
    )
