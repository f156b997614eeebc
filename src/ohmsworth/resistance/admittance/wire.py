"""What a wire's admittance is made of: a capacitance with its loss and a leak, or a path that conducts.

An insulation whose loss angle δ is alike at all frequencies has, with f₀ = 1 kHz,

    Y = G + jω (C/cos δ) (jf/f₀)^(−2δ/π)

so that C is the capacitance in parallel at f₀, tan δ the loss factor there, and C falls a little with frequency, as it must where
there is loss (Kramers and Kronig; "constant-loss"). Fitted by Gauss and Newton from a plain capacitor on.

A path has ``1/Y = R + jωL``. A wire counts as a path where the part in step is the larger one at every tone, and where it lets
more through at the lowest tone than a capacitance of `LARGEST` would.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.resistance.impedance.curve import Array, Complex, Curve
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.least_squares import LinearFit, fitted, weighted
from ohmsworth.resistance.impedance.shapes import columns_of

#: Frequency at which the capacitance is told, hertz: what meters of capacitance use.
TOLD_AT = 1000.0
#: No cable that a shop has on its bench has more, farad: 20 km of 100 pF a metre.
LARGEST = 2e-6
#: Fewest tones from which a loss is told beside a capacitance and a leak.
FOR_A_LOSS = 4
#: A part in step of fewer standard uncertainties is no path; a capacitance of fewer is too small for a loss.
_SEEN, _FOR_LOSS = 5.0, 20.0
_STEPS = 8


@dataclass(frozen=True, slots=True, eq=False)
class OpenWire:
    """A wire that hangs open.

    Parameters
    ----------
    capacitance
        C in farad at `TOLD_AT`.
    leak
        G in siemens, negative by chance where there is none.
    loss
        tan δ; None where it was not looked for.
    """

    capacitance: Estimated
    leak: Estimated
    loss: float | None


@dataclass(frozen=True, slots=True, eq=False)
class ClosedWire:
    """A wire that conducts to what it was measured against: its resistance, in ohm."""

    resistance: Estimated


def wire_of(curve: Curve) -> OpenWire | ClosedWire:
    """What a wire's admittance `curve`, in siemens, says of it.

    Raises
    ------
    ArgumentFault
        When a tone has too few degrees of freedom to be weighted.
    """
    return ClosedWire(_resistance(curve)) if _conducts(curve) else _open(curve)


def _conducts(curve: Curve) -> bool:
    if np.abs(curve.value[0]) > 2 * np.pi * curve.frequency[0] * LARGEST:
        return True
    within = np.sqrt(curve.covariance()[:, 0, 0])
    in_step, beside = curve.value.real, np.abs(curve.value.imag)
    return bool((in_step > beside).all() and np.median(in_step / within) > _SEEN)


def _resistance(curve: Curve) -> Estimated:
    """By the impedance; errors turn with −1/Y², which leaves circular noise circular."""
    turn = -1 / curve.value**2
    impedance = replace(
        curve,
        value=np.asarray(1 / curve.value),
        random=np.asarray(np.abs(turn)[:, None, None] ** 2 * curve.random),
        shared={name: np.asarray(effect * turn) for name, effect in curve.shared.items()},
    )
    shape = columns_of("series" if len(curve.frequency) > 1 else "resistance", curve.frequency)
    found = fitted(weighted(impedance), shape)
    return _widened(found, found.estimated(_unit(0, shape.shape[1])), len(curve.frequency))


def _open(curve: Curve) -> OpenWire:
    tones = len(curve.frequency)
    # G and C are the R and L of an impedance: Y = G + jωC.
    plain = fitted(weighted(curve), columns_of("series", curve.frequency))
    capacitance = plain.estimated(_unit(1, 2))
    if tones < FOR_A_LOSS or capacitance.value < _FOR_LOSS * capacitance.random:
        leak = plain.estimated(_unit(0, 2))
        return OpenWire(_widened(plain, capacitance, tones), _widened(plain, leak, tones), None)
    theta = np.append(plain.value, 0.0)
    for _ in range(_STEPS):
        model, columns = _lossy(curve.frequency, theta)
        left = replace(curve, value=np.asarray(curve.value - model + columns @ theta))
        fit = fitted(weighted(left), columns)
        theta = fit.value
    leak, capacitance = (_widened(fit, fit.estimated(_unit(k, 3)), tones) for k in (0, 1))
    return OpenWire(capacitance, leak, float(np.tan(theta[2])))


def _lossy(frequency: Array, theta: Array) -> tuple[Complex, Complex]:
    """Y with G, C and δ, and its slopes against them, shape (tones,) and (tones, 3)."""
    leak, capacitance, angle = theta
    about = np.log(1j * frequency / TOLD_AT)
    unit = 2j * np.pi * frequency / np.cos(angle) * np.exp(-2 * angle / np.pi * about)
    slopes = [
        np.ones(len(frequency), complex),
        unit,
        capacitance * unit * (np.tan(angle) - 2 / np.pi * about),
    ]
    return np.asarray(leak + capacitance * unit), np.column_stack(slopes)


def _widened(fit: LinearFit, found: Estimated, tones: int) -> Estimated:
    """With random parts as large as the residuals ask for, where these are larger than was thought (Birge's ratio)."""
    left = 2 * tones - len(fit.value)
    if left <= 0 or fit.square <= left:
        return found
    return replace(found, random=found.random * float(np.sqrt(fit.square / left)), degrees=float(left))


def _unit(place: int, length: int) -> Array:
    return np.asarray(np.eye(length)[place])
