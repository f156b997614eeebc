"""From the takes of a contact to its impedance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.ratio import ratio
from ohmsworth.resistance.impedance.tone_plan import TonePlan

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]


@dataclass(frozen=True, slots=True, eq=False)
class Takes:
    """The takes of one contact as it was mated once.

    Parameters
    ----------
    straight
        Shunt on the first input, contact on the second.
    swapped
        The other way round.
    turned, swapped_turned
        The same, with the two leads of the contact exchanged at the input.
    """

    straight: Take
    swapped: Take | None = None
    turned: Take | None = None
    swapped_turned: Take | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """An impedance, and what the takes tell of the interface.

    Parameters
    ----------
    curve
        The contact's impedance.
    inputs
        The second input's gain over that of the first, shape (tones,); None without a swapped take.
    leak
        What reads at the contact's input without the contact, as a share of what the shunt's reads, shape (directions, tones):
        straight, then swapped; a direction without its turned take is missing.
    """

    curve: Curve
    inputs: Complex | None
    leak: Complex


@dataclass(frozen=True, slots=True, eq=False)
class _Way:
    """Contact over shunt as one way of connecting them reads it; `square` is E|δ|² of it."""

    value: Complex
    square: Array
    degrees: Array
    leak: Complex | None


def impedance(plan: TonePlan, circuit: Circuit, takes: Takes) -> Measured:
    """Z at every tone.

    With r₁ contact over shunt read straight, r₂ swapped and g the second input's gain over the first's,

        r₁ = g Z/Zₛ + x₁,    r₂ = Z/(g Zₛ) + x₂,    turned: r = −g Z/Zₛ + x

    so that half the difference of a take and its turned one is free of the crosstalk x (and of whatever both legs of the contact
    have in common), and ``Z = Zₛ √(r₁ r₂)`` free of g. Noise is propagated to first order; the phasors are never made
    magnitudes, so that noise adds nothing to R on the average.

    Parameters
    ----------
    plan
        Of the takes.
    circuit
        Its shunt, and what is known of the interface where no take cancels it.
    takes
        After lock-in.
    """
    straight = _way(takes.straight, takes.turned, contact=1)
    swapped = None if takes.swapped is None else _way(takes.swapped, takes.swapped_turned, contact=0)
    if swapped is None:
        value, square, degrees = straight.value, straight.square, straight.degrees
        inputs = None
    else:
        value = np.sqrt(straight.value * swapped.value)
        # Of the two roots the one on the side of what was read straight.
        value = np.where((value * straight.value.conj()).real < 0, -value, value)
        parts = [np.abs(value / way.value / 2) ** 2 * way.square for way in (straight, swapped)]
        square = parts[0] + parts[1]
        degrees = degrees_of_sum(parts, [straight.degrees, swapped.degrees])
        inputs = np.asarray(straight.value / value)
    shunt = circuit.shunt.impedance(plan.frequencies)
    random = (np.abs(shunt) ** 2 * square / 2)[:, None, None] * np.eye(2)
    ways = [straight] if swapped is None else [straight, swapped]
    shared = _shared(plan, circuit, value * shunt, ways)
    leak = np.array([way.leak for way in ways if way.leak is not None])
    curve = Curve(plan.frequencies, np.asarray(value * shunt), random, degrees, shared)
    return Measured(curve, inputs, leak.reshape(-1, len(plan.cycles)))


def _way(plain: Take, turned: Take | None, contact: int) -> _Way:
    value, square, degrees = _read(plain, contact)
    if turned is None:
        return _Way(value, square, degrees, None)
    other, more, others = _read(turned, contact)
    both = degrees_of_sum([square, more], [degrees, others])
    return _Way((value - other) / 2, (square + more) / 4, both, (value + other) / 2)


def _read(take: Take, contact: int) -> tuple[Complex, Array, Array]:
    """Contact over shunt, E|δ|² of it and its degrees of freedom."""
    order = [contact, 1 - contact]
    mean = take.tones.mean[order]
    read = ratio(mean[0], mean[1], take.tones.noise[:, order][:, :, order])
    return read.value, 2 * read.covariance[:, 0, 0], take.tones.degrees


def degrees_of_sum(squares: Sequence[Array], degrees: Sequence[Array]) -> Array:
    """Effective degrees of freedom of a sum of squares (GUM G.4.1); all of them where there is no noise."""
    total = np.sum(squares, axis=0)
    share = np.sum([s**2 / n for s, n in zip(squares, degrees, strict=True)], axis=0)
    every = np.sum(degrees, axis=0)
    return np.asarray(np.where(total > 0, total**2 / np.where(total > 0, share, 1.0), every))


def _shared(plan: TonePlan, circuit: Circuit, value: Complex, ways: list[_Way]) -> Mapping[str, Complex]:
    """What one standard uncertainty of everything but noise does to Z.

    A half-width of a rectangle is √3 standard uncertainties (GUM 4.3.7). An error of unknown phase that is at most m is taken
    as uniform over the disc of that radius, m/2 in its real and its imaginary part.
    """
    shunt = circuit.shunt
    across = shunt.impedance(plan.frequencies)
    turn = 2j * np.pi * plan.frequencies
    shared = {
        "shunt": value * (shunt.tolerance / np.sqrt(3)) * shunt.resistance / across,
        "shunt's inductance": value * turn * (shunt.inductance_tolerance / np.sqrt(3)) / across,
    }
    open_ways = sum(way.leak is None for way in ways) / len(ways)
    if open_ways:
        most = across * circuit.crosstalk * open_ways
        shared |= {"crosstalk in step": most / 2, "crosstalk a quarter off": 1j * most / 2}
    if len(ways) == 1:
        most = value * circuit.mismatch
        shared |= {"inputs' gain": most / 2, "inputs' phase": 1j * most / 2}
    return {name: np.asarray(effect) for name, effect in shared.items() if np.any(effect)}
