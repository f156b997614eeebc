"""What a use is made of: places for contacts, curves over frequency, and rules with the value from which it matters."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit import Circuit, Transfer, polynomials_of, value_along, value_with
from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.ports import Path, Signal
from ohmsworth.consequence.use import Array, Setting, Use, Worse

#: What comes out for one that goes in, below which it is nothing but rounding: −300 dB.
NOTHING_PASSES, _LEAST_RATIO = 1e-15, 1e-20
#: Ohm of each contact at a position, any shape, to an effect in its unit, same shape.
Compute = Callable[[Array], Array]
#: Hertz of shape (m,) to the impedance of each contact in ohm, shape (..., m); no number where it is not known.
ContactImpedance = Callable[[Array], Complex]


@dataclass(frozen=True, slots=True)
class Position:
    """Which contacts of a circuit have the resistance while the others are ideal, in words and by name."""

    words: str
    contacts: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """One quantity of a use over frequency.

    Parameters
    ----------
    key, words, unit
        What it is called, told and counted in.
    low, high
        Hertz over which it is drawn.
    position
        The contacts that all have the same resistance where only one is given.
    circuit
        The circuit whose contacts it depends on.
    solve
        Hertz of shape (m,) to the quantity that the circuit gives.
    show
        That quantity, complex of shape (..., m), and its ideal, shape (m,), to what the curve shows, shape (..., m).
    worse
        The direction in which it gets worse.
    """

    key: str
    words: str
    unit: str
    low: float
    high: float
    position: Position
    circuit: Circuit
    solve: Callable[[Array], Transfer]
    show: Callable[[Complex, Complex], Array]
    worse: Worse


@dataclass(frozen=True, slots=True, eq=False)
class Rule:
    """How an effect is computed and judged.

    Parameters
    ----------
    compute
        Ohm of each contact at `position`, any shape, to the effect in `unit`, same shape.
    threshold
        The value from which it matters, or None when the effect is for information.
    passing
        The sentence that is true at the threshold.
    reason, source
        Why the threshold is what it is by default.
    compute_with
        The effect where each contact has an impedance over frequency in place of a resistance; None where it takes more than
        the linear circuit at a few frequencies to tell.

    Notes
    -----
    The others are those of `Effect`.
    """

    key: str
    words: str
    unit: str
    frequency: float | None
    position: Position
    worse: Worse
    compute: Compute
    threshold: float | None
    passing: str
    reason: str
    source: str
    compute_with: Callable[[ContactImpedance], Array] | None = None


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of use.

    Parameters
    ----------
    kind
        Its name.
    settings
        What can be edited.
    check
        Raises ArgumentFault when settings that are each acceptable do not go together.
    rules
        Its effects and thresholds, in the order in which people ask.
    curves
        What it does over frequency.
    cautions
        What can hurt someone at work on such a circuit.
    highest
        Hertz up to which the circuit is believed.
    cable
        The family of cables that it takes by name, or none.
    proviso
        What follows every sentence about it, where no number may be taken for leave; it then lends no margin either.
    path
        Where its cable begins and ends, if it can stand by itself as a two-port.
    signal
        What drives the circuit of its first curve, and what arrives, where no path tells it.
    """

    kind: str
    settings: tuple[Setting, ...]
    check: Callable[[Use], None]
    rules: Callable[[Use], tuple[Rule, ...]]
    curves: Callable[[Use], tuple[Curve, ...]]
    cautions: tuple[str, ...] = ()
    highest: float = 200e3
    cable: str = ""
    proviso: str = ""
    path: Path | None = None
    signal: Signal | None = None


def shares_of(circuit: Circuit, position: Position) -> Array:
    """For each contact of `circuit` the ohm it has when every contact at `position` has 1 Ω, shape (K,)."""
    names = circuit.contacts()
    return np.where([name in position.contacts for name in names], circuit.counts(), 0.0)


def curve_at(curve: Curve, frequency: Array, position: Position) -> Compute:
    """`curve` at `frequency` (m,) as a function of one resistance, shape (...) to (..., m)."""
    return shown_at(curve, curve.solve(frequency), position)


def shown_at(curve: Curve, transfer: Transfer, position: Position) -> Compute:
    """What `curve` shows of a solved `transfer` as a function of one resistance, shape (...) to (..., m)."""
    polynomials = polynomials_of(transfer, shares_of(curve.circuit, position))
    return lambda ohm: curve.show(value_along(polynomials, ohm), transfer.ideal)


def shown_with(
    curve: Curve, transfer: Transfer, frequency: Array, position: Position, impedance: ContactImpedance
) -> Array:
    """What `curve` shows of a `transfer` solved at `frequency` (m,) where contacts have an `impedance`, shape (..., m)."""
    polynomials = polynomials_of(transfer, shares_of(curve.circuit, position))
    return curve.show(value_with(polynomials, impedance(frequency)), transfer.ideal)


def curve_with(curve: Curve, frequency: Array, position: Position) -> Callable[[ContactImpedance], Array]:
    """`curve` at `frequency` (m,) as a function of the impedance of contacts, shape (..., m)."""
    return lambda impedance: shown_with(curve, curve.solve(frequency), frequency, position, impedance)


def rule_at(
    curve: Curve,
    frequency: float,
    position: Position,
    *,
    key: str,
    words: str,
    threshold: float | None,
    passing: str,
    reason: str,
    source: str = "practice",
) -> Rule:
    """A rule about `curve` at one `frequency` (hertz)."""
    place = np.array([frequency])
    compute, with_impedance = curve_at(curve, place, position), curve_with(curve, place, position)
    return Rule(
        key=key,
        words=words,
        unit=curve.unit,
        frequency=frequency,
        position=position,
        worse=curve.worse,
        compute=lambda ohm: compute(ohm)[..., 0],
        threshold=threshold,
        passing=passing,
        reason=reason,
        source=source,
        compute_with=lambda impedance: with_impedance(impedance)[..., 0],
    )


def level_change(y: Complex, ideal: Complex) -> Array:
    """Change of level in dB against ideal contacts: 20 log10 |y/y0|; none where nothing passes anyway."""
    passes = np.abs(ideal) > NOTHING_PASSES
    ratio = np.abs(y) / np.where(passes, np.abs(ideal), 1.0)
    return decibels(np.where(passes, ratio, 1.0))


def decibels(ratio: npt.ArrayLike) -> Array:
    """20 log10 of a `ratio` of 0 or more; of nothing −400 dB, which is below all that anything can tell."""
    return np.asarray(20 * np.log10(np.maximum(ratio, _LEAST_RATIO)))
