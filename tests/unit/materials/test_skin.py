"""Internal impedance of wires and screens: limits, Bessel identities, an independent integration."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.special import iv, jve, kelvin, kv

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import (
    COPPER_RESISTIVITY,
    conductor_from_text,
    conductor_impedance,
    conductor_of_area,
    in_parallel,
    resistance_per_metre,
    resistance_ratio,
    screen_impedance,
    skin_depth,
    temperature_factor,
    wire_impedance,
    with_lay,
)

MU0 = 4e-7 * math.pi
WIRE = COPPER_RESISTIVITY / (math.pi * 0.25e-3**2)  # 0.5 mm diameter


def test_direct_current_is_the_plain_resistance() -> None:
    assert wire_impedance(WIRE, 0.0) == WIRE
    assert screen_impedance(0.02, 1.5e-3, 0.0) == 0.02


def test_at_low_frequency_a_wire_has_50_nanohenry_a_metre() -> None:
    frequency = np.array([1e-3, 1.0, 50.0, 100.0])
    z = wire_impedance(WIRE, frequency)
    np.testing.assert_allclose(z.imag / (2 * math.pi * frequency), MU0 / (8 * math.pi), rtol=1e-6)
    np.testing.assert_allclose(z.real, WIRE, rtol=1e-6)


def test_thin_and_thick_wires_meet_the_bessel_functions() -> None:
    """z/R0 = (ka/2) J0(ka)/J1(ka) of a general library, from where J1 can be divided by."""
    x = np.concatenate((np.geomspace(1e-3, 1000, 3000), [19.999999, 20.0, 20.000001]))
    ka = (1 - 1j) * x
    z = wire_impedance(WIRE, x**2 * WIRE / MU0) / WIRE
    np.testing.assert_allclose(z, ka / 2 * jve(0, ka) / jve(1, ka), rtol=3e-14)


def test_real_and_imaginary_part_keep_their_digits_near_zero() -> None:
    """1 + x⁴/48 + j(x²/4 − x⁶/384), as far as a thousandth leaves it."""
    x = np.array([1e-9, 1e-6, 1e-3])
    z = wire_impedance(1.0, x**2 / MU0)
    np.testing.assert_allclose(z.real, 1 + x**4 / 48, rtol=1e-15)
    np.testing.assert_allclose(z.imag, x**2 / 4 - x**6 / 384, rtol=1e-14)


def test_a_thin_wire_meets_the_kelvin_functions() -> None:
    """Kelvin functions, the classical form: z/R0 = (q/2)(ber + j bei)/(bei' − j ber'), q = √2 a/δ."""
    x = np.array([0.002, 0.00999, 0.01001, 0.05, 0.7, 3.0, 11.0])
    q = math.sqrt(2) * x
    value, _, slope, _ = kelvin(q)
    expected = q / 2 * value / (slope.imag - 1j * slope.real)
    z = wire_impedance(WIRE, x**2 * WIRE / MU0) / WIRE
    np.testing.assert_allclose(z.real, expected.real, rtol=1e-9)
    # scipy's own Kelvin functions leave about 1e-10 where the angle of z is small.
    np.testing.assert_allclose(z.imag, expected.imag, rtol=1e-6)
    np.testing.assert_allclose(z.real, resistance_ratio(x), rtol=1e-14)


def test_a_wire_against_the_field_equation_integrated() -> None:
    """E'' + E'/r = jωµE/ρ by Runge-Kutta from the axis; z = E(a)/I with 2πa H(a) = I, jωµH = E'."""
    radius, frequency = 0.25e-3, 200e3
    omega = 2 * math.pi * frequency
    start = 1e-6 * radius

    def slope(r: float, y: np.ndarray) -> list[complex]:
        return [y[1], 1j * omega * MU0 / COPPER_RESISTIVITY * y[0] - y[1] / r]

    first = [1 + 0j, 1j * omega * MU0 / COPPER_RESISTIVITY * start / 2]
    end = solve_ivp(slope, (start, radius), first, method="DOP853", rtol=1e-11, atol=1e-14).y[:, -1]
    current = 2 * math.pi * radius * end[1] / (1j * omega * MU0)
    assert complex(wire_impedance(WIRE, frequency)) == pytest.approx(end[0] / current, rel=1e-8)


def test_at_high_frequency_resistance_and_reactance_are_those_of_the_skin() -> None:
    frequency = 1e9
    depth = float(skin_depth(frequency))
    surface = COPPER_RESISTIVITY / (2 * math.pi * 0.25e-3 * depth)
    z = complex(wire_impedance(WIRE, frequency))
    # The next term of the resistance is R0/4, from the curvature.
    assert z.real - WIRE / 4 == pytest.approx(surface, rel=1e-4)
    assert z.imag == pytest.approx(surface, rel=1e-4)


def test_a_warm_wire_is_a_wire_of_more_resistance() -> None:
    frequency = np.array([[0.0, 1e4], [1e5, 1e7]])
    factor = temperature_factor(333.15)
    warm = wire_impedance(factor * WIRE, frequency)
    # In similar wires z scales with R0 at the same f/R0.
    np.testing.assert_allclose(warm, factor * wire_impedance(WIRE, frequency / factor), rtol=1e-12)
    assert warm.shape == (2, 2)


def test_a_conductor_over_temperature_lay_and_wires() -> None:
    frequency = np.array([0.0, 1e4, 1e6])
    plain = conductor_from_text("24 AWG")
    warm = conductor_impedance(plain, 333.15, frequency)
    np.testing.assert_allclose(warm, wire_impedance(resistance_per_metre(plain, 333.15), frequency))
    # Twice the metal in two wires is half the impedance; in one thick wire it is more, at high frequency.
    two = conductor_impedance(in_parallel(plain, 2), 293.15, frequency)
    one = conductor_impedance(plain, 293.15, frequency)
    np.testing.assert_allclose(two, one / 2)
    thick = conductor_impedance(conductor_of_area(2 * plain.area, "thick"), 293.15, frequency)
    assert thick[0] == pytest.approx(two[0])
    assert thick[2].real > 1.2 * two[2].real
    np.testing.assert_allclose(conductor_impedance(with_lay(plain, 0.03), 293.15, frequency), 1.03 * one)


def test_a_screen_against_the_tube_of_any_thickness() -> None:
    """Schelkunoff's internal surface impedance of a tube b to c, by modified Bessel functions."""
    radius, thickness = 1.5e-3, 0.03e-3
    direct = COPPER_RESISTIVITY / (2 * math.pi * radius * thickness)
    for frequency in (1e4, 1e6, 5e6, 3e7):
        m = (1 + 1j) / float(skin_depth(frequency))
        b, c = m * radius, m * (radius + thickness)
        upper = iv(0, b) * kv(1, c) + kv(0, b) * iv(1, c)
        lower = iv(1, c) * kv(1, b) - iv(1, b) * kv(1, c)
        expected = COPPER_RESISTIVITY * m / (2 * math.pi * radius) * upper / lower
        z = complex(screen_impedance(direct, radius, frequency))
        assert z == pytest.approx(expected, rel=thickness / radius)


def test_the_limits_of_a_screen() -> None:
    direct, radius = 0.02, 1.5e-3
    thickness = COPPER_RESISTIVITY / (2 * math.pi * radius * direct)
    low = complex(screen_impedance(direct, radius, 10.0))
    assert low.real == pytest.approx(direct, rel=1e-9)
    inductance = MU0 * thickness / (6 * math.pi * radius)
    assert low.imag / (2 * math.pi * 10.0) == pytest.approx(inductance, rel=1e-6)
    surface = COPPER_RESISTIVITY / (2 * math.pi * radius * float(skin_depth(1e9)))
    high = complex(screen_impedance(direct, radius, 1e9))
    assert high == pytest.approx(surface * (1 + 1j), rel=1e-9)
    # Both sides of the place where the series near zero ends: |mt| = 0.001.
    end = 0.5e-6 * COPPER_RESISTIVITY / (math.pi * MU0 * thickness**2)
    below, above = screen_impedance(direct, radius, [end * 0.9999, end * 1.0001])
    assert below.imag / 0.9999 == pytest.approx(above.imag / 1.0001, rel=1e-9)


def test_out_of_range_is_refused() -> None:
    for call in (
        lambda: wire_impedance(0.0, 50.0),
        lambda: wire_impedance(math.nan, 50.0),
        lambda: wire_impedance(0.1, -1.0),
        lambda: wire_impedance(0.1, [1.0, math.nan]),
        lambda: wire_impedance(1e-4, 1e12),
        lambda: screen_impedance(-1.0, 1e-3, 50.0),
        lambda: screen_impedance(0.02, 0.0, 50.0),
        lambda: screen_impedance(0.02, 1e-3, math.inf),
        lambda: screen_impedance(0.02, 1e-3, 50.0, resistivity=0.0),
    ):
        with pytest.raises(ArgumentFault):
            call()
