"""A wire's admittance from the ratios of three takes."""

from dataclasses import replace

import numpy as np
import pytest
import skrf
from skrf.media import DefinedGammaZ0
from tests.unit.resistance.admittance.behind import FREQUENCY, PLAN, TURN, TrueDivider

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.admittance.divider import RESISTOR, Divider, admittance, own_admittance
from ohmsworth.resistance.admittance.wire import OpenWire, wire_of
from ohmsworth.resistance.impedance.curve import Complex, Curve

INPUT = 1 / 21e3 + TURN * 230e-12
TRUE = TrueDivider(own=INPUT, gain=0.97 * np.exp(0.02j))


def curve_of(true: TrueDivider, wire: Complex | float, stated: Divider) -> Curve:
    return admittance(PLAN, stated, true.behind(wire), true.joined(), [true.behind()])


def test_a_capacitor_behind_a_resistor_is_told_by_the_circuit_that_another_program_solves() -> None:
    # scikit-rf: a resistor in a row, input and wire in parallel to ground; open, U₂/U₁ is 1/A of the chain matrix.
    frequency = skrf.Frequency.from_f(FREQUENCY, unit="hz")
    media = DefinedGammaZ0(frequency, z0=50.0)
    before = media.resistor(10e3)
    loads = media.shunt_capacitor(230e-12) ** media.shunt(media.resistor(21e3) ** media.short())
    chains = {
        name: (before**loads ** media.shunt_capacitor(farad)).a[:, 0, 0]
        for name, farad in (("wire", 1.42e-9), ("nothing", 0.0))
    }
    take = {name: TRUE.take(1 / chain) for name, chain in chains.items()}
    found = admittance(PLAN, Divider(10e3), take["wire"], TRUE.joined(), [take["nothing"]])
    np.testing.assert_allclose(found.value.imag, TURN.imag * 1.42e-9, rtol=1e-9)
    assert np.abs(found.value.real).max() < 1e-12


def test_the_corner_of_a_handbooks_divider_is_found() -> None:
    # Textbooks of circuits: behind R a capacitor has 1/√(1 + (ωRC)²) of the volts, late by arctan ωRC; 10 kΩ and 1 nF: 15.9 kHz.
    over = FREQUENCY / 15_915.494
    share = np.exp(-1j * np.arctan(over)) / np.sqrt(1 + over**2)
    true = TrueDivider()
    wire = wire_of(admittance(PLAN, Divider(10e3), true.take(share), true.joined(), [true.behind()]))
    assert isinstance(wire, OpenWire)
    assert wire.capacitance.value == pytest.approx(1e-9, rel=1e-7)


def test_gains_and_what_the_input_has_cancel() -> None:
    wire = TURN * 300e-12
    plain = curve_of(TrueDivider(own=INPUT), wire, Divider(10e3))
    other = curve_of(replace(TRUE, own=1 / 4e3 + TURN * 900e-12), wire, Divider(10e3))
    np.testing.assert_allclose(other.value, plain.value, rtol=1e-9)
    np.testing.assert_allclose(plain.value, wire, rtol=1e-9)


def test_what_the_input_has_is_told() -> None:
    found = own_admittance(Divider(10e3), TRUE.joined(), TRUE.behind())
    np.testing.assert_allclose(found, INPUT, rtol=1e-9)


@pytest.mark.parametrize("farad", [50e-12, 1e-9, 20e-9])
@pytest.mark.parametrize("way", ["onto", "back"])
def test_crosstalk_does_what_is_allowed_for(farad: float, way: str) -> None:
    most = 1e-4
    stated, wire = Divider(10e3, crosstalk=most), TURN * farad
    told = curve_of(TRUE, wire, stated).shared
    name = "crosstalk in step" if way == "onto" else "crosstalk back in step"
    moved = curve_of(replace(TRUE, **{way: most / 2}), wire, stated).value - wire
    np.testing.assert_allclose(np.abs(moved), np.abs(told[name]), rtol=0.01)


def test_a_resistor_that_is_off_is_a_capacitance_that_is_off() -> None:
    wire = TURN * 1e-9
    off = 1 + 0.01 / np.sqrt(3)
    moved = curve_of(replace(TRUE, resistance=10e3 * off), wire, Divider(10e3, 0.01)).value - wire
    told = curve_of(TRUE, wire, Divider(10e3, 0.01)).shared[RESISTOR]
    np.testing.assert_allclose(np.abs(moved), np.abs(told), rtol=1e-6)


def test_noise_is_told_as_it_scatters() -> None:
    rng = np.random.default_rng(3)
    true, wire = replace(TRUE, noise=3e-6), TURN * 30e-12
    curves = [
        admittance(
            PLAN,
            Divider(10e3),
            true.behind(wire, rng),
            true.joined(rng),
            [true.behind(0.0, rng), true.behind(0.0, rng)],
        )
        for _ in range(400)
    ]
    seen = np.std([one.value.imag for one in curves], axis=0)
    told = np.sqrt(np.mean([one.random[:, 1, 1] for one in curves], axis=0))
    # 400 draws know a standard deviation to 3.5 %; what each tone is allowed beside noise is small here.
    np.testing.assert_allclose(seen, told, rtol=0.12)


def test_without_a_take_of_nothing_there_is_no_answer() -> None:
    with pytest.raises(ArgumentFault, match="nothing"):
        admittance(PLAN, Divider(10e3), TRUE.behind(), TRUE.joined(), [])


@pytest.mark.parametrize(
    ("field", "value"), [("resistance", 0.0), ("leads", -1e-12), ("tolerance", 1.0), ("crosstalk", -0.1)]
)
def test_a_divider_that_cannot_be_is_refused(field: str, value: float) -> None:
    with pytest.raises(ArgumentFault, match=field):
        Divider(**{"resistance": 1e4, field: value})  # type: ignore[arg-type]
