"""Distances to faults against published examples, against the circuit itself, and their uncertainty by simulation."""

import math

import numpy as np
import pytest

from ohmsworth.cables.distance import (
    Quantity,
    by_bridge_and_loop,
    by_bridge_and_resistor,
    by_capacitance_from_both_ends,
    by_capacitance_of_a_like_wire,
    by_loop_from_both_ends,
    by_loop_from_both_ends_alone,
)
from ohmsworth.errors import ArgumentFault


def test_a_published_loop_by_a_bridge() -> None:
    """Source: Hawkins Electrical Guide, volume 3, p. 54: arms 332 of 1000, loop 54.07 Ω, 16.46 Ω a mile: 1.0906 miles."""
    mile = 1609.344
    found = by_bridge_and_loop(
        Quantity(0.332), Quantity(54.07), Quantity(16.46 / mile), Quantity(54.07 / 2 / 16.46 * mile)
    )
    assert found.metres / mile == pytest.approx(1.0906, abs=5e-5)


def test_a_textbook_loop_by_a_resistor() -> None:
    """Source: textbook example: P/Q = 15/40, 20 Ω for the loop, 10 Ω for the fault, 0.5 Ω a kilometre: 5.4545 km."""
    found = by_bridge_and_resistor(
        Quantity(15 / 40), Quantity(20.0), Quantity(10.0), Quantity(0.5e-3), Quantity(7500.0)
    )
    assert found.metres == pytest.approx(5454.5, abs=0.05)


def test_a_published_broken_wire() -> None:
    """Source: a published example: 10 m, 100 pF and 400 pF from the two ends: 2.000 m."""
    found = by_capacitance_from_both_ends(Quantity(100e-12), Quantity(400e-12), Quantity(10.0))
    assert found.metres == pytest.approx(2.0, abs=5e-4)


@pytest.mark.parametrize(("x", "touch"), [(3.0, 0.0), (17.5, 2.2), (40.0, 0.4)])
def test_loops_from_both_ends_find_a_touch_whatever_it_has_itself(x: float, touch: float) -> None:
    """Ohm's law on the circuit itself: 40 m of two wires of 86.2 mΩ/m."""
    r, length = 86.2e-3, 40.0
    near, far = 2 * r * x + touch, 2 * r * (length - x) + touch
    known = by_loop_from_both_ends(Quantity(near), Quantity(far), Quantity(r), Quantity(length))
    alone = by_loop_from_both_ends_alone(
        Quantity(near), Quantity(far), Quantity(2 * r * length), Quantity(length)
    )
    assert known.metres == pytest.approx(x)
    assert alone.metres == pytest.approx(x)


def test_its_uncertainty_is_that_of_a_simulation() -> None:
    """GUM Supplement 1: the same quantities drawn 200,000 times."""
    chance = np.random.default_rng(4)
    near, far, r, length = (2.0, 0.01), (5.0, 0.02), (0.0862, 0.0009), (40.0, 0.2)
    found = by_loop_from_both_ends(*(Quantity(*one) for one in (near, far, r, length)))
    a, b, c, d = (chance.normal(*one, 200_000) for one in (near, far, r, length))
    assert found.uncertainty == pytest.approx(float((d / 2 + (a - b) / (4 * c)).std()), rel=0.01)
    assert [name for name, _ in found.parts] == ["length", "per_metre", "far", "near"]
    assert math.hypot(*(part for _, part in found.parts)) == pytest.approx(found.uncertainty)


def test_a_distance_off_the_cable_is_told() -> None:
    found = by_capacitance_of_a_like_wire(Quantity(1.3e-9, 1e-11), Quantity(1e-9, 1e-11), Quantity(10.0))
    assert found.beyond
    assert found.interval() == (10.0, 10.0)
    near = by_capacitance_of_a_like_wire(Quantity(1.005e-9, 1e-11), Quantity(1e-9, 1e-11), Quantity(10.0))
    assert not near.beyond
    assert near.interval()[1] == 10.0


@pytest.mark.parametrize("ratio", [0.0, 1.0, -0.2])
def test_a_ratio_that_cannot_be_is_refused(ratio: float) -> None:
    with pytest.raises(ArgumentFault, match="ratio"):
        by_bridge_and_loop(Quantity(ratio), Quantity(3.0), Quantity(0.1), Quantity(10.0))
    with pytest.raises(ArgumentFault, match="length"):
        by_loop_from_both_ends(Quantity(1.0), Quantity(1.0), Quantity(0.1), Quantity(0.0))
