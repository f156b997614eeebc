"""Takes of an open, a short and a known load, and what they tell of the contact behind leads and inputs.

Whatever linear network lies between the contact and the two inputs, what is measured depends on the contact's impedance Z as

    M(Z) = (A Z + B)/(C Z + D)

A short measures Ms = B/D, an open Mo = A/C. Solved for Z:

    Z = (M D − B)/(A − M C) = (D/C) (M − Ms)/(Mo − M)

and a load of known Zstd, measured as Ml, gives D/C = Zstd (Mo − Ml)/(Ml − Ms):

    Z = Zstd (Mo − Ml)(M − Ms)/((Ml − Ms)(Mo − M))

Without an open (Mo → ∞) this is Zstd (M − Ms)/(Ml − Ms), without a load as well M − Ms. Z does not depend on the unit of the
takes, nor on a complex factor common to all of them.

Uncertainty: Z is an analytic function of the takes, so an error δ of one of them does ∂Z/∂M · δ, a complex product. Takes are
independent in `random`. A source in `shared` that has the same name in several curves is one error: its effects are
added with their signs, and a gain cancels by itself. A source that is new in every take needs a name of its own in each.

Sources: the bilinear form follows from the network equations; "open-short-load" for the correction.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.curve import Array, Complex, Curve
from ohmsworth.resistance.impedance.ratio import turning


@dataclass(frozen=True, slots=True, eq=False)
class Load:
    """A known impedance in the contact's place.

    Parameters
    ----------
    measured
        As it was measured.
    standard
        What it is; `random` may be zero, and its uncertainty is in `shared`.
    """

    measured: Curve
    standard: Curve


def corrected(measured: Curve, short: Curve, load: Load | None = None, opened: Curve | None = None) -> Curve:
    """Impedance of the contact, freed from leads and inputs.

    Parameters
    ----------
    measured
        With the contact in place.
    short
        With a short in its place: a residual impedance of the short is not told from the contact's.
    load
        With a known impedance in its place; None takes gain and scale as right.
    opened
        With nothing in its place; None takes leakage as none. It needs a load.

    Returns
    -------
    Curve
        Ohm, degrees of freedom by Welch and Satterthwaite from the traces of the random parts.

    Raises
    ------
    ArgumentFault
        When the takes have different frequencies, an open comes without a load, or two takes that have to
        differ are the same.
    """
    if opened is not None and load is None:
        raise ArgumentFault("opened", "no load", "a load as well: an open alone does not tell the scale")
    value, slopes = _solved(measured, short, load, opened)
    if not np.isfinite(value).all():
        raise ArgumentFault("load", value, "takes of short, load and open that differ from each other")
    return _propagated(measured.frequency, value, slopes)


def _solved(
    measured: Curve, short: Curve, load: Load | None, opened: Curve | None
) -> tuple[Complex, list[tuple[Curve, Complex]]]:
    """Z, and with each curve what a small change of it does to Z."""
    curves = [
        measured,
        short,
        *((load.measured, load.standard) if load else ()),
        *((opened,) if opened else ()),
    ]
    for curve in curves:
        if not np.array_equal(curve.frequency, measured.frequency):
            raise ArgumentFault("short", curve.frequency, "the frequencies of the measured curve")
    m, s = measured.value, short.value
    if load is None:
        return m - s, [(measured, np.ones_like(m)), (short, -np.ones_like(m))]
    known, through = load.standard.value, load.measured.value
    with np.errstate(divide="ignore", invalid="ignore"):
        scale = known / (through - s)
        if opened is None:
            z = (m - s) * scale
            return z, [
                (measured, scale),
                (short, scale * (m - through) / (through - s)),
                (load.measured, -z / (through - s)),
                (load.standard, (m - s) / (through - s)),
            ]
        o = opened.value
        z = scale * (o - through) * (m - s) / (o - m)
        return z, [
            (measured, scale * (o - through) * (o - s) / (o - m) ** 2),
            (short, scale * (o - through) * (m - through) / (o - m) / (through - s)),
            (load.measured, -scale * (m - s) * (o - s) / (o - m) / (through - s)),
            (load.standard, (o - through) * (m - s) / (o - m) / (through - s)),
            (opened, scale * (m - s) * (through - m) / (o - m) ** 2),
        ]


def _propagated(frequency: Array, value: Complex, slopes: list[tuple[Curve, Complex]]) -> Curve:
    random = np.zeros((len(value), 2, 2))
    spread: NDArray[np.float64] = np.zeros(len(value))
    shared: dict[str, Complex] = {}
    for curve, slope in slopes:
        turn = turning(slope)
        part = turn @ curve.random @ np.swapaxes(turn, -1, -2)
        random += part
        spread += np.trace(part, axis1=-2, axis2=-1) ** 2 / curve.degrees
        for name, effect in curve.shared.items():
            shared[name] = shared.get(name, np.zeros_like(value)) + slope * effect
    total = np.trace(random, axis1=-2, axis2=-1) ** 2
    degrees = np.divide(total, spread, out=np.full(len(value), np.inf), where=spread > 0)
    return Curve(frequency, value, random, degrees, shared)
