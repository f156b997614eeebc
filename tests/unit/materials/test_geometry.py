"""Constants from measures, against closed forms, limits and a surface-charge solution of their own."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import (
    ELECTRIC_CONSTANT,
    MAGNETIC_CONSTANT,
    SPEED_OF_LIGHT,
    capacitance_matrix,
    coax,
    core_to_others,
    lengthened,
    open_quad,
    pair_in_screen,
    quad_in_screen,
    two_wires,
    velocity_factor_of,
    wire_over_plane,
)

MM = 1e-3


def surface_charges(circles: list[tuple[complex, float]], segments: int) -> np.ndarray:
    """Capacitance matrix of round conductors in free space by the method of moments, per metre.

    Each circle (centre, radius) is cut into straight segments of even charge; potentials at their middles,
    −(1/2πε) ∫ ln r, the own segment's by w (ln(w/2) − 1). The last circle is a screen around all others.
    """
    turn = np.exp(2j * np.pi * (np.arange(segments) + 0.5) / segments)
    middle = np.concatenate([centre + radius * turn for centre, radius in circles])
    width = np.repeat([2 * radius * math.sin(math.pi / segments) for _, radius in circles], segments)
    distance = np.abs(middle[:, None] - middle) + np.diag(np.ones(len(middle)))
    kernel = -np.log(distance) * width
    np.fill_diagonal(kernel, -width * (np.log(width / 2) - 1))
    # Unknown besides the charges: a constant potential, for the total charge is zero.
    size = len(middle)
    system = np.block([[kernel, np.ones((size, 1))], [width[None, :], np.zeros((1, 1))]])
    held = np.zeros((size + 1, len(circles) - 1))
    for wire in range(len(circles) - 1):
        held[wire * segments : (wire + 1) * segments, wire] = 1
    charge = np.linalg.solve(system, held)[:size] * width[:, None]
    per_wire = charge.reshape(len(circles), segments, -1).sum(axis=1)[:-1]
    return np.asarray(2 * math.pi * ELECTRIC_CONSTANT * per_wire)


def test_two_wires_far_from_the_screen_are_two_wires() -> None:
    for ratio in (1.1, 1.3, 2.0, 10.0):
        pair = pair_in_screen(1 * MM, ratio * MM, 1000 * ratio * MM, 2.3)
        alone = two_wires(1 * MM, ratio * MM, 2.3)
        assert pair.core_core + pair.core_screen / 2 == pytest.approx(alone.capacitance, rel=2e-5)
        assert pair.inductance == pytest.approx(alone.inductance, rel=2e-5)


def test_one_wire_out_of_the_middle_of_a_screen() -> None:
    """C = 2πε/arcosh((R² + a² − h²)/(2Ra)), exact."""
    radius, wire = 1.5 * MM, 0.3 * MM
    for off in (0.0, 0.5 * MM, 1.0 * MM, 1.13 * MM):
        found = capacitance_matrix([off * 1j], 2 * wire, 2 * radius, 1.0)[0, 0]
        shape = math.acosh((radius**2 + wire**2 - off**2) / (2 * radius * wire))
        assert found == pytest.approx(2 * math.pi * ELECTRIC_CONSTANT / shape, rel=1e-5)
    assert capacitance_matrix([0.0], 2 * wire, 2 * radius, 2.0)[0, 0] == pytest.approx(
        coax(2 * wire, 2 * radius, 2.0).capacitance, rel=1e-12
    )


def test_thin_wires_follow_the_formulas_for_line_charges() -> None:
    diameter, spacing, screen = 0.02 * MM, 1.4 * MM, 3.0 * MM
    pair = pair_in_screen(diameter, spacing, screen, 1.0)
    shape = math.log(2 * spacing / diameter * (screen**2 - spacing**2) / (screen**2 + spacing**2))
    assert pair.inductance == pytest.approx(MAGNETIC_CONSTANT / math.pi * shape, rel=1e-4)
    quad = open_quad(diameter, spacing, 1.0)
    shape = math.log(math.sqrt(2) * spacing / diameter)
    assert quad.inductance == pytest.approx(MAGNETIC_CONSTANT / (2 * math.pi) * shape, rel=1e-3)


@pytest.mark.parametrize(("spacing", "screen"), [(1.3, 2.8), (0.75, 1.6), (2.0, 6.0)])
def test_a_pair_in_a_screen_by_surface_charges(spacing: float, screen: float) -> None:
    wires = [(-spacing / 2 + 0j, 0.305), (spacing / 2 + 0j, 0.305)]
    expected = surface_charges([*wires, (0j, screen / 2)], 240)
    found = capacitance_matrix([centre for centre, _ in wires], 0.61, screen, 1.0)
    np.testing.assert_allclose(found, expected, rtol=4e-3)
    pair = pair_in_screen(0.61, spacing, screen, 1.0)
    assert pair.core_core == pytest.approx(-expected[0, 1], rel=4e-3)
    assert pair.core_screen == pytest.approx(expected[0].sum(), rel=4e-3)


def test_a_star_quad_in_a_screen_by_surface_charges() -> None:
    side, screen = 1.2, 3.0
    places = side / math.sqrt(2) * np.array([1, 1j, -1, -1j])
    cores = surface_charges([*((place, 0.29) for place in places), (0j, screen / 2)], 160)
    quad = quad_in_screen(0.58, side, screen, 1.0)
    # Volts on one leg of two opposite cores, the other leg and the screen at zero.
    charge = cores @ np.array([1.0, 0.0, 1.0, 0.0])
    assert quad.core_core == pytest.approx(-(charge[1] + charge[3]), rel=3e-3)
    assert quad.core_screen == pytest.approx(charge.sum(), rel=3e-3)


def test_a_multicore_cable_by_surface_charges() -> None:
    found = core_to_others(7, 0.5 * MM, 1.0 * MM, 3.4 * MM, 1.0)
    places = [0j, *np.exp(1j * np.pi / 3 * np.arange(6))]
    expected = np.diag(surface_charges([*((place, 0.25) for place in places), (0j, 1.7)], 100))
    assert sorted(found) == pytest.approx(sorted(expected), rel=3e-3)
    # With the screen far away the one in the middle has six neighbours, and the others three.
    far = core_to_others(7, 0.5 * MM, 1.0 * MM, 30 * MM, 1.0)
    assert far[0] > 1.2 * far[1]


def test_cores_lie_where_a_cable_has_them() -> None:
    for count in (2, 3, 4, 5, 6, 8, 12, 19, 24):
        # Neighbours touch: cores with gaps of nothing would be refused, and these are just not.
        values = core_to_others(count, 0.8 * MM, 0.89 * MM, 20 * MM, 1.0)
        assert values.shape == (count,)
        assert np.all(values > 0)
    three = core_to_others(3, 0.5 * MM, 1.0 * MM, 4.0 * MM, 1.0)
    np.testing.assert_allclose(three, three[0], rtol=1e-9)
    assert core_to_others(1, 0.5 * MM, 1.0 * MM, 4.0 * MM, 1.0)[0] == pytest.approx(
        coax(0.5 * MM, 4.0 * MM, 1.0).capacitance
    )


@given(st.floats(0.05, 3.0), st.floats(1.2, 20.0), st.floats(1.0, 9.0))
def test_every_line_has_the_velocity_of_its_dielectric(
    diameter: float, ratio: float, permittivity: float
) -> None:
    lines = (
        coax(diameter, ratio * diameter, permittivity),
        two_wires(diameter, ratio * diameter, permittivity),
        wire_over_plane(diameter, ratio * diameter, permittivity),
        open_quad(diameter, ratio * diameter, permittivity),
    )
    for line in lines:
        found = velocity_factor_of(line.inductance, line.capacitance)
        # µ0 is 4π × 1e-7 here, which CODATA differs from in the tenth digit.
        assert found == pytest.approx(1 / math.sqrt(permittivity), rel=1e-8)


@given(st.floats(0.1, 1.0), st.floats(1.2, 3.0), st.floats(1.2, 5.0), st.floats(0.1, 100.0))
def test_only_proportions_matter(diameter: float, near: float, wide: float, scale: float) -> None:
    spacing = near * diameter
    screen = wide * (spacing + diameter)
    one = pair_in_screen(diameter, spacing, screen, 1.0)
    other = pair_in_screen(scale * diameter, scale * spacing, scale * screen, 3.0)
    assert other.inductance == pytest.approx(one.inductance, rel=1e-6)
    assert other.core_core == pytest.approx(3 * one.core_core, rel=1e-6)
    assert other.core_screen == pytest.approx(3 * one.core_screen, rel=1e-6)


def test_a_plane_is_a_mirror() -> None:
    """A wire over a plane is half of two wires twice as far apart: half the inductance, twice the capacitance."""
    over = wire_over_plane(1 * MM, 1.5 * MM, 1.0)
    two = two_wires(1 * MM, 3 * MM, 1.0)
    assert over.inductance == pytest.approx(two.inductance / 2, rel=1e-12)
    assert over.capacitance == pytest.approx(2 * two.capacitance, rel=1e-12)


def test_a_screen_takes_inductance_and_a_quad_more() -> None:
    alone = two_wires(0.6 * MM, 1.4 * MM, 2.0).inductance
    near = pair_in_screen(0.6 * MM, 1.4 * MM, 2.9 * MM, 2.0).inductance
    far = pair_in_screen(0.6 * MM, 1.4 * MM, 6.0 * MM, 2.0).inductance
    assert near < far < alone
    assert quad_in_screen(0.6 * MM, 1.4 * MM, 3.6 * MM, 2.0).inductance < near / 2


def test_a_twisted_metre_has_more_of_everything() -> None:
    pair = pair_in_screen(0.6 * MM, 1.4 * MM, 2.9 * MM, 2.0)
    longer = lengthened(pair, 1.02)
    assert longer.inductance == pytest.approx(1.02 * pair.inductance)
    assert longer.core_core == pytest.approx(1.02 * pair.core_core)
    assert longer.core_screen == pytest.approx(1.02 * pair.core_screen)
    assert lengthened(two_wires(1.0, 2.0, 1.0), 1.5).capacitance == pytest.approx(
        1.5 * two_wires(1.0, 2.0, 1.0).capacitance
    )


def test_the_constants_of_space_belong_together() -> None:
    assert 1 / math.sqrt(MAGNETIC_CONSTANT * ELECTRIC_CONSTANT) == pytest.approx(SPEED_OF_LIGHT, rel=1e-9)


def test_what_cannot_be_is_refused() -> None:
    for call in (
        lambda: coax(1.0, 1.0, 1.0),
        lambda: coax(0.0, 1.0, 1.0),
        lambda: coax(1.0, 3.0, 0.5),
        lambda: coax(1.0, 3.0, math.nan),
        lambda: two_wires(1.0, 1.0, 1.0),
        lambda: two_wires(1.0, math.inf, 1.0),
        lambda: wire_over_plane(1.0, 0.5, 1.0),
        lambda: pair_in_screen(1.0, 1.05, 10.0, 1.0),  # nearer than a tenth
        lambda: pair_in_screen(1.0, 2.0, 3.0, 1.0),  # into the screen
        lambda: pair_in_screen(1.0, 2.0, 5.0, 0.0),
        lambda: pair_in_screen(1.0, -2.0, 5.0, 1.0),
        lambda: capacitance_matrix([0.0], -1.0, 5.0, 1.0),
        lambda: capacitance_matrix([math.nan], 1.0, 5.0, 1.0),
        lambda: core_to_others(0, 1.0, 2.0, 5.0, 1.0),
        lambda: core_to_others(62, 1.0, 2.0, 50.0, 1.0),
        lambda: lengthened(coax(1.0, 3.0, 1.0), 0.9),
    ):
        with pytest.raises(ArgumentFault):
            call()
