"""What open, short and load take off a measured impedance."""

import math

import GTC
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.residual import Load, corrected

F = np.array([100.0, 1000.0, 10000.0])
R, STANDARD = np.array([0.004, 0.0041, 0.0043]) + 2j * np.pi * F * 2e-8, np.full(3, 0.1 + 0j)
COVARIANCE = {
    "measured": [[4e-12, 1e-12], [1e-12, 9e-12]],
    "short": [[1e-12, -5e-13], [-5e-13, 2e-12]],
    "load": [[3e-12, 0.0], [0.0, 1e-12]],
    "open": [[5e-7, 1e-7], [1e-7, 2e-7]],
    "standard": [[0.0, 0.0], [0.0, 0.0]],
}


def curve(
    value: np.ndarray, kind: str = "standard", degrees: float = math.inf, **shared: np.ndarray
) -> Curve:
    return Curve(F, value, np.tile(COVARIANCE[kind], (3, 1, 1)), np.full(3, degrees), shared)


def through(z: np.ndarray, a: complex, b: complex, c: complex, d: complex) -> np.ndarray:
    return (a * z + b) / (c * z + d)


parts = st.complex_numbers(min_magnitude=0.05, max_magnitude=20, allow_nan=False)


@given(parts, parts, parts, parts)
def test_any_linear_network_is_undone(a: complex, b: complex, c: complex, d: complex) -> None:
    if abs(a * d - b * c) < 1e-3 * abs(a * d) or np.abs(c * np.array([*R, 0.1]) + d).min() < 1e-3:
        return  # nothing, or not enough, comes through
    load = Load(curve(through(STANDARD, a, b, c, d)), curve(STANDARD))
    short, opened = curve(np.full(3, b / d)), curve(np.full(3, a / c))
    found = corrected(curve(through(R, a, b, c, d)), short, load, opened)
    assert found.value == pytest.approx(R, rel=1e-6, abs=1e-9 * abs(b / a))


def test_without_an_open_gain_and_offset_are_undone() -> None:
    load = Load(curve(through(STANDARD, 1.1 + 0.2j, 0.001j, 0, 1)), curve(STANDARD))
    short = curve(np.full(3, 0.001j))
    measured = curve(through(R, 1.1 + 0.2j, 0.001j, 0, 1))
    assert corrected(measured, short, load).value == pytest.approx(R, rel=1e-12)
    assert corrected(measured, short).value == pytest.approx((1.1 + 0.2j) * R, rel=1e-12)


def test_an_open_far_away_is_none() -> None:
    short, measured = curve(np.full(3, 0.001j)), curve(R + 0.001j)
    load = Load(curve(1.1 * STANDARD), curve(STANDARD))
    far = corrected(measured, short, load, curve(np.full(3, 1e9 + 0j)))
    near = corrected(measured, short, load)
    assert far.value == pytest.approx(near.value, rel=1e-9)
    assert far.random == pytest.approx(near.random, rel=1e-6)


def uncertain(
    value: complex, kind: str, common: GTC.lib.UncertainReal, effect: complex
) -> GTC.lib.UncertainComplex:
    own = GTC.ucomplex(value, np.array(COVARIANCE[kind]).ravel().tolist()) if kind != "standard" else value
    return own + common * effect


@pytest.mark.parametrize("how", ["short", "load", "open"])
def test_uncertainty_by_reference_software(how: str) -> None:
    """GTC: uncertain complex numbers, one error of the shunt common to all takes and one of the standard."""
    network = (1.2 + 0.1j, 0.002 + 0.001j, 0.03j, 0.9)
    m, s, t = (through(z, *network) for z in (R, 0 * R, STANDARD))
    o = np.full(3, network[0] / network[2])
    measured = curve(m, "measured", 10, shunt=0.01 * m)
    short = curve(s, "short", 10, shunt=0.01 * s)
    load = Load(curve(t, "load", 10, shunt=0.01 * t), curve(STANDARD, standard=np.full(3, 1e-5 + 2e-5j)))
    opened = curve(o, "open", 10, shunt=0.01 * o)
    given_ = {"short": (), "load": (load,), "open": (load, opened)}[how]
    found = corrected(measured, short, *given_)
    for k in range(3):
        shunt, standard = GTC.ureal(0, 1), GTC.ureal(0, 1)
        M, S = uncertain(m[k], "measured", shunt, 0.01 * m[k]), uncertain(s[k], "short", shunt, 0.01 * s[k])
        T, P = uncertain(t[k], "load", shunt, 0.01 * t[k]), uncertain(o[k], "open", shunt, 0.01 * o[k])
        Z = uncertain(STANDARD[k], "standard", standard, 1e-5 + 2e-5j)
        z = {
            "short": M - S,
            "load": Z * (M - S) / (T - S),
            "open": Z * (P - T) * (M - S) / (T - S) / (P - M),
        }[how]
        v = GTC.variance(z)
        assert found.value[k] == pytest.approx(z.x, rel=1e-10)
        expected = np.array([[v.rr, v.ri], [v.ir, v.ii]])
        assert found.covariance()[k] == pytest.approx(expected, rel=1e-7, abs=1e-9 * v.rr)


def test_an_error_of_gain_common_to_all_takes_cancels_with_a_load_and_stays_without() -> None:
    m, s, t = R + 0.001, 0 * R + 0.001, STANDARD + 0.001
    measured, short = curve(m, shunt=0.01 * m), curve(s, shunt=0.01 * s)
    load = Load(curve(t, shunt=0.01 * t), curve(STANDARD))
    assert np.abs(corrected(measured, short, load).shared["shunt"]).max() < 1e-15
    assert corrected(measured, short).shared["shunt"] == pytest.approx(0.01 * R, rel=1e-12)


def test_degrees_of_two_alike_takes_add_up() -> None:
    found = corrected(curve(R, "short", 10), curve(0 * R, "short", 10))
    assert found.degrees == pytest.approx(np.full(3, 20.0))
    assert np.isinf(corrected(curve(R), curve(0 * R)).degrees).all()


def test_refused() -> None:
    with pytest.raises(ArgumentFault, match="load as well"):
        corrected(curve(R), curve(0 * R), None, curve(1 / R))
    with pytest.raises(ArgumentFault, match="differ"):
        corrected(curve(R), curve(0 * R), Load(curve(0 * R), curve(STANDARD)))
    other = Curve(F + 1, R, np.zeros((3, 2, 2)), np.full(3, np.inf), {})
    with pytest.raises(ArgumentFault, match="frequencies"):
        corrected(curve(R), other)
