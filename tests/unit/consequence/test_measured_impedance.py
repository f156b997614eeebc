"""A contact's impedance between the tones, and in circuits: against the same circuit with the impedance as a part of it."""

from dataclasses import replace

import numpy as np
import pytest

from ohmsworth.consequence import make_use
from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Impedance,
    Resistor,
    VoltageSource,
    Volts,
    polynomials_of,
    transfers,
    value_with,
)
from ohmsworth.consequence.kinds import curves_of, rules_of
from ohmsworth.consequence.measured_impedance import MeasuredImpedance
from ohmsworth.consequence.rule import curve_at, curve_with
from ohmsworth.errors import ArgumentFault

TONES = np.geomspace(20, 20e3, 9)
BETWEEN = np.geomspace(10, 40e3, 40)


def test_a_resistance_with_an_inductance_is_exact_everywhere() -> None:
    z = MeasuredImpedance(TONES, 3e-3 + 2j * np.pi * TONES * 40e-9)
    np.testing.assert_allclose(z.at(BETWEEN), 3e-3 + 2j * np.pi * BETWEEN * 40e-9, rtol=1e-12)


def test_it_goes_through_the_tones_and_ends_beyond() -> None:
    film = 3e-3 + 6e-3 / (1 + 1j * TONES / 1e3)
    z = MeasuredImpedance(TONES, film)
    np.testing.assert_allclose(z.at(TONES), film, rtol=1e-12)
    assert np.isnan(z.at(np.array([9.9, 40.1e3]))).all()
    # A capacitance's reactance is held above the highest tone.
    np.testing.assert_allclose(z.at(np.array([35e3])), film[-1], rtol=1e-12)


@pytest.mark.parametrize("frequency", [[0.0, 1.0], [2.0, 1.0], []])
def test_tones_that_cannot_be_are_refused(frequency: list[float]) -> None:
    with pytest.raises(ArgumentFault):
        MeasuredImpedance(np.array(frequency), np.ones(len(frequency), complex))


def with_contacts(part: type[Contact] | None, z: MeasuredImpedance) -> Circuit:
    """A divider with contacts in both its legs, or with the impedance itself in their place."""
    first, second = (
        (Contact("one", "a", "b"), Contact("two", "d", "0"))
        if part is not None
        else (Impedance("a", "b", z.at), Impedance("d", "0", z.at))
    )
    return Circuit(
        (
            VoltageSource("v", "s", "0"),
            Resistor("s", "a", 5.0),
            first,
            Capacitor("b", "0", 1e-7),
            Resistor("b", "d", 3.0),
            second,
        )
    )


def test_an_impedance_stands_in_the_forms_as_a_part_of_the_circuit() -> None:
    z = MeasuredImpedance(TONES, 0.4 + 2 / (1 + 1j * TONES / 900) + 2j * np.pi * TONES * 3e-6)
    (symbolic,) = transfers(with_contacts(Contact, z), BETWEEN, {"v": 1.0}, [Volts("b")])
    (whole,) = transfers(with_contacts(None, z), BETWEEN, {"v": 1.0}, [Volts("b")])
    found = value_with(polynomials_of(symbolic, np.ones(2)), z.at(BETWEEN))
    np.testing.assert_allclose(found, whole.ideal, rtol=1e-10)


@pytest.mark.parametrize("kind", ["balanced line", "headphone", "loudspeaker", "unbalanced line"])
def test_a_resistance_alone_tells_what_it_told_before(kind: str) -> None:
    use, ohm = make_use(kind), 0.7
    flat = MeasuredImpedance(TONES, np.full((1, len(TONES)), ohm, complex))
    for curve in curves_of(use):
        at = np.geomspace(max(curve.low, 10), min(curve.high, 40e3), 7)
        np.testing.assert_allclose(
            curve_with(curve, at, curve.position)(flat.at)[0],
            curve_at(curve, at, curve.position)(np.array(ohm)),
            rtol=1e-9,
        )
    for rule in rules_of(use):
        if rule.compute_with is not None:
            np.testing.assert_allclose(
                rule.compute_with(flat.at)[0], rule.compute(np.array(ohm)), rtol=1e-9, atol=1e-12
            )


def test_inductance_takes_treble_that_the_resistance_alone_does_not() -> None:
    treble = next(rule for rule in rules_of(make_use("headphone")) if rule.key == "level" or rule.frequency)
    assert treble.compute_with is not None
    plain = MeasuredImpedance(TONES, np.full((1, len(TONES)), 0.5, complex))
    coil = replace(plain, value=plain.value + 2j * np.pi * TONES * 1e-3)
    assert treble.compute_with(coil.at)[0] != pytest.approx(treble.compute_with(plain.at)[0], rel=1e-3)
