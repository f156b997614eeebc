"""From the takes of a resistor and a wire behind it to the wire's admittance.

Input 1 hears the volts before the resistor R, input 2 those behind it, where the wire hangs; both against the return. With the
quotients q = U₁/U₂ of three takes, g the second input's gain over the first's, and Y₀ of input 2 and the leads themselves:

    both inputs before the resistor     q_b = 1/g
    nothing behind it                   q_o = (1 + R Y₀)/g
    a wire                              q_w = (1 + R (Y₀ + Y))/g

    Y = (q_w − q_o)/(q_b R)

so that gains, the output's own resistance and what the inputs load cancel. A share x of the first input's volts that reads on
the second, and x′ the other way round, do ``δY = Y (x (1 − q_w/q_b − q_o/q_b) − x′)`` to first order. Kirchhoff's laws alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.curve import Array, Complex, Curve
from ohmsworth.resistance.impedance.from_takes import degrees_of_sum
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.ratio import ratio
from ohmsworth.resistance.impedance.tone_plan import TonePlan

#: Share of Y by which a tone may be off beside its noise: no cable's insulation keeps to one law better than that.
OF_EACH_TONE = 1e-3
#: What is told of the resistor alone has this name: it is alike at both ends of a cable.
RESISTOR = "resistor"


@dataclass(frozen=True, slots=True)
class Divider:
    """What stands before the wire.

    Parameters
    ----------
    resistance
        Of the known resistor, ohm.
    tolerance
        Half-width as a fraction of it (a rectangle).
    leads
        Farad by which the leads change at most when they are moved (half-width of a rectangle).
    crosstalk
        Largest share of one input's voltage that reads on the other.
    """

    resistance: float
    tolerance: float = 0.01
    leads: float = 2e-12
    crosstalk: float = 1e-4

    def __post_init__(self) -> None:
        if not 0 < self.resistance < np.inf:
            raise ArgumentFault("resistance", self.resistance, "more than zero")
        if not 0 <= self.leads < np.inf:
            raise ArgumentFault("leads", self.leads, "zero or more")
        for name in ("tolerance", "crosstalk"):
            if not 0 <= getattr(self, name) < 1:
                raise ArgumentFault(name, getattr(self, name), "a share from 0 to less than 1")


@dataclass(frozen=True, slots=True, eq=False)
class _Quotient:
    """U₁/U₂ at every tone; `square` is E|δ|² of it."""

    value: Complex
    square: Array
    degrees: Array


def admittance(plan: TonePlan, divider: Divider, wire: Take, joined: Take, nothing: Sequence[Take]) -> Curve:
    """Y of a wire at every tone: a curve in siemens, its real part G and its imaginary part B.

    Parameters
    ----------
    plan
        Of the takes.
    divider
        What stands before the wire.
    wire
        With the wire behind the resistor.
    joined
        With both inputs before the resistor.
    nothing
        With nothing behind the resistor but input and leads, once or more.

    Raises
    ------
    ArgumentFault
        When there is no take of `nothing`, or an input hears nothing at a tone.
    """
    if not nothing:
        raise ArgumentFault("nothing", 0, "one take or more")
    w, b, o = _quotient(wire), _quotient(joined), _mean([_quotient(one) for one in nothing])
    value = (w.value - o.value) / (b.value * divider.resistance)
    scale = np.abs(b.value * divider.resistance) ** 2
    parts = [w.square / scale, o.square / scale, np.abs(value / b.value) ** 2 * b.square]
    square = sum(parts) / 2 + (OF_EACH_TONE * np.abs(value)) ** 2
    over = (w.value + o.value) / b.value
    return Curve(
        plan.frequencies,
        np.asarray(value),
        np.asarray(square[:, None, None] * np.eye(2)),
        degrees_of_sum(parts, [w.degrees, o.degrees, b.degrees]),
        _shared(plan, divider, value, over),
    )


def own_admittance(divider: Divider, joined: Take, nothing: Take) -> Complex:
    """What input 2 has itself with its leads, in siemens, shape (tones,)."""
    share = _quotient(nothing).value / _quotient(joined).value
    return np.asarray((share - 1) / divider.resistance)


def _quotient(take: Take) -> _Quotient:
    mean = take.tones.mean
    found = ratio(mean[0], mean[1], take.tones.noise)
    return _Quotient(found.value, 2 * found.covariance[:, 0, 0], take.tones.degrees)


def _mean(found: list[_Quotient]) -> _Quotient:
    count = len(found)
    squares = [one.square / count**2 for one in found]
    value = np.mean([one.value for one in found], axis=0)
    return _Quotient(value, np.asarray(sum(squares)), degrees_of_sum(squares, [one.degrees for one in found]))


def _shared(plan: TonePlan, divider: Divider, value: Complex, over: Complex) -> Mapping[str, Complex]:
    """What one standard uncertainty of everything but noise does to Y.

    Half-widths are rectangles (GUM 4.3.7); crosstalk of unknown phase is uniform over a disc, half of its radius each way.
    """
    turn = 2j * np.pi * plan.frequencies
    onto, back = value * (1 - over) * divider.crosstalk / 2, value * divider.crosstalk / 2
    shared = {
        RESISTOR: value * divider.tolerance / np.sqrt(3),
        "leads": turn * divider.leads / np.sqrt(3),
        "crosstalk in step": onto,
        "crosstalk a quarter off": 1j * onto,
        "crosstalk back in step": back,
        "crosstalk back a quarter off": 1j * back,
    }
    return {name: np.asarray(effect) for name, effect in shared.items() if np.any(effect)}
