"""A lossy line as shorter ones behind each other, so that no chain matrix outgrows its digits."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

from ohmsworth.consequence.circuit.cable import CablesAt
from ohmsworth.consequence.circuit.chain import LARGEST_LOSS, too_long
from ohmsworth.consequence.circuit.elements import Circuit, Complex, Element, Line

#: Nepers in one section. What comes back from its far end is e^(−2 × nepers) of what is there: beside it nothing is lost.
_NEPERS = 4.0


def sectioned(circuit: Circuit, cables: CablesAt) -> Circuit:
    """`circuit` with every line cut that loses more than a few nepers at the highest frequency.

    A chain matrix holds e^α and e^(−α) in one number: of a line of α nepers the smaller is lost from α = 18 on, and with it
    what other conductors carry. The nodes between sections keep both.
    """
    pieces = [_sections(part, index, cables) for index, part in enumerate(circuit.elements)]
    if all(len(piece) == 1 for piece in pieces):
        return circuit
    return Circuit(tuple(part for piece in pieces for part in piece))


def _sections(part: Element, index: int, cables: CablesAt) -> tuple[Element, ...]:
    if not isinstance(part, Line) or not cables.frequency.size:
        return (part,)
    highest = np.argmax(cables.frequency)
    impedance, admittance = cables(part.cable)
    count = math.ceil(nepers(impedance[highest], admittance[highest], part.length) / _NEPERS)
    if count <= 1:
        return (part,)
    # No name that a person gives begins with a character that cannot be typed.
    inner = [tuple(f"\0{index} {k} {i}" for i in range(len(part.near))) for k in range(1, count)]
    ends = (part.near, *inner, part.far)
    return tuple(Line(near, far, part.cable, part.length / count) for near, far in pairwise(ends))


def nepers(impedance: Complex, admittance: Complex, length: float) -> float:
    """What the mode loses that loses most on `length` metres of a cable, from what a metre has at one frequency, shape (n, n).

    At most: up to a few nepers only a bound is told, which is quicker.

    Raises
    ------
    ArgumentFault
        Where it is more than LARGEST_LOSS.
    """
    product = impedance @ admittance
    # No eigenvalue is above the largest sum of a row, which is quickly told.
    most = math.sqrt(np.abs(product).sum(axis=1).max()) * length
    if most > _NEPERS:
        most = float(np.sqrt(np.linalg.eigvals(product)).real.max()) * length
    if most > LARGEST_LOSS:
        raise too_long(length)
    return most
