"""A film whose resistance falls with voltage: how much third harmonic that can put on a signal, with bounds."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.span import Span, positive

#: V0 in volt of films on contacts, tens to hundreds of millivolts. Source: "film-memory".
FILM_VOLTAGE = Span(0.03, 0.5)
#: Third harmonic of a square wave over its fundamental: no film of this kind gives more of its own.
_SQUARE_WAVE = 1 / 3
#: The loop has to set the current, not the contact.
LEAST_IMPEDANCE_RATIO = 10.0
#: Ends of a range of V0 that lie further apart leave no lower end: at 10 V0 the harmonic is falling again.
WIDEST_RANGE = 20.0


@dataclass(frozen=True, slots=True)
class Distortion:
    """Third harmonic of a filmed contact, as ratios of amplitudes.

    Parameters
    ----------
    voltage
        Volts across the contact at the peak of the current, R I.
    own
        Third harmonic over the contact's own fundamental.
    signal
        Third harmonic over the signal at the load.
    ceiling
        The whole voltage of the contact over that of the signal: no distortion of any order is more.
    """

    voltage: float
    own: Span
    signal: Span
    ceiling: float


def third_harmonic(voltage: float, film_voltage: float) -> Span:
    """Third harmonic of a film over its own fundamental, from least to most.

    (V/V0)²/4 for I = G V (1 + (V/V0)²), driven by a sine current; that is the most, the least is
    (V/V0)²/4 × (1 − 15/4 (V/V0)²).

    Parameters
    ----------
    voltage
        V = R I in volt: peak current times the resistance at a very small signal.
    film_voltage
        V0 in volt. A film that follows I = I0 sinh(V/Vs) has V0 = √6 Vs.

    Notes
    -----
    Series of the cubic law: V = R I (1 − u² + 3u⁴ − …), u = R I/V0. Both ends hold for the sinh law too. They
    lie within 15 % of one another below V0/5 and part above; beyond V0/2 only the upper end says anything, a third (of
    a square wave) at most.
    Source: "film-memory" for the laws; the series is checked against a numerical Fourier analysis.
    """
    if not math.isfinite(voltage):
        raise ArgumentFault("voltage", voltage, "finite volt")
    positive("film_voltage", film_voltage, "volt")
    square = (voltage / film_voltage) ** 2
    most = min(square / 4, _SQUARE_WAVE)
    return Span(max(0.0, square / 4 * (1 - 3.75 * square)), most)


def film_distortion(
    resistance: float, current: float, impedance: float, film_voltage: Span = FILM_VOLTAGE
) -> Distortion:
    """Third harmonic that a filmed contact puts on a signal.

    v3/V_load = (R/Z) (R I/V0)²/4: the harmonic drives the same loop as the signal, so the load's share cancels.

    Parameters
    ----------
    resistance
        Ohm of the film, at a dry-circuit voltage where it is largest. The whole of a contact's resistance in its
        place gives an upper end.
    current
        Peak of the loop's sine current, ampere, either sign.
    impedance
        Ohm of the whole loop, source and load and wires, at least ten times `resistance`; taken alike at the signal
        and at its third harmonic.
    film_voltage
        Range of V0 in volt, its ends at most 20 times apart.

    Notes
    -----
    The ends of `own` and `signal` are over the range of V0 and over both laws (see `third_harmonic`). A film that
    conducts unlike in the two directions, as silver sulfide can (source "Russ"), gives a second harmonic too: only
    `ceiling` covers it. Metal touching metal gives far less. Above the film's breakdown voltage (see `fritting`)
    there is no film left to distort. Source: "film-memory".

    Examples
    --------
    1 Ω of film in a line of 10 kΩ that carries 1.7 V peak:

    >>> line = film_distortion(1.0, 1.7e-4, 1e4)
    >>> f"{20 * math.log10(line.signal.high):.0f} dB at most"
    '-182 dB at most'
    """
    positive("resistance", resistance, "ohm")
    if not math.isfinite(current):
        raise ArgumentFault("current", current, "finite ampere")
    if not (math.isfinite(impedance) and impedance >= LEAST_IMPEDANCE_RATIO * resistance):
        raise ArgumentFault("impedance", impedance, f"at least {LEAST_IMPEDANCE_RATIO * resistance:g} ohm")
    if not film_voltage.high <= WIDEST_RANGE * film_voltage.low:
        raise ArgumentFault("film_voltage", film_voltage, f"ends at most {WIDEST_RANGE:g} times apart")
    voltage, ratio = resistance * abs(current), resistance / impedance
    low = third_harmonic(voltage, film_voltage.high).low
    high = third_harmonic(voltage, film_voltage.low).high
    return Distortion(voltage, Span(low, high), Span(low * ratio, high * ratio), ratio)
