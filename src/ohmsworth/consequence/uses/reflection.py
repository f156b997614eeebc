"""What comes back from a line into its source, and the worst of it in a band."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import Polynomials, value_along
from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.rule import Compute
from ohmsworth.consequence.use import Array

#: Reflection below which none is told: a return loss of 200 dB, which no line has.
NO_REFLECTION = 1e-10
#: Ripples at the low end of a band that are looked at closely, points in each, and points over the whole band.
_RIPPLES, _CLOSELY, _OVER = 4, 12, 40


def return_loss(y: Complex) -> Array:
    """Return loss in dB from the volts `y` at a source's terminals per volt of its EMF: −20 log10|2y − 1|.

    Notes
    -----
    Γ = (Z − Zs)/(Z + Zs) = 2y − 1 for y = Z/(Z + Zs): told against the source's own resistance Zs. At most 200 dB.
    """
    return np.asarray(-20 * np.log10(np.abs(2 * y - 1) + NO_REFLECTION))


def band(low: float, high: float, delay: float) -> Array:
    """Hertz from `low` to `high` at which the worst reflection of a band is sought.

    Parameters
    ----------
    delay
        Second that a wave takes over the whole line, 0 for none.

    Notes
    -----
    What comes back from both ends adds and cancels in turn, every 1/(2 delay). The far end's part is strongest where the
    cable loses least, at the low end of the band: there each ripple is looked at closely, above only here and there.
    """
    over = np.geomspace(low, high, _OVER)
    per_point = 2 * delay * _CLOSELY
    if per_point * (high - low) < 1:
        return over
    closely = low + np.arange(_RIPPLES * _CLOSELY) / per_point
    return np.union1d(over, closely[closely <= high])


def worst_return_loss(polynomials: Polynomials, among: slice) -> Compute:
    """The smallest return loss `among` the frequencies of `polynomials`, as a function of the resistance."""
    part = Polynomials(polynomials.numerator[among], polynomials.denominator[among])
    return lambda ohm: np.asarray(return_loss(value_along(part, ohm)).min(axis=-1))
