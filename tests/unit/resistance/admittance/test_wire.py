"""What a wire's admittance is made of."""

import numpy as np
import pytest
from tests.unit.resistance.admittance.behind import FREQUENCY, PLAN, TURN, TrueDivider

from ohmsworth.resistance.admittance.divider import Divider, admittance
from ohmsworth.resistance.admittance.wire import ClosedWire, OpenWire, wire_of
from ohmsworth.resistance.impedance.curve import Complex

TRUE = TrueDivider(own=1 / 21e3 + TURN * 230e-12, noise=3e-7)


def found(wire: Complex | float, seed: int = 1, true: TrueDivider = TRUE) -> OpenWire | ClosedWire:
    rng = np.random.default_rng(seed)
    takes = true.behind(wire, rng), true.joined(rng), [true.behind(0.0, rng)]
    return wire_of(admittance(PLAN, Divider(1e4), *takes))


def lossy(farad: float, angle: float) -> Complex:
    """A capacitor whose loss angle is alike at all frequencies, `farad` in parallel at 1 kHz, by its definition."""
    size = 2 * np.pi * 1000.0 * farad / np.cos(angle)
    return np.asarray(size * (1j * FREQUENCY / 1000.0) ** (1 - 2 * angle / np.pi))


@pytest.mark.parametrize("farad", [50e-12, 400e-12, 3e-9, 20e-9])
@pytest.mark.parametrize("angle", [0.0, 0.01, 0.08])
def test_a_capacitance_is_told_at_1_khz_with_its_loss(farad: float, angle: float) -> None:
    wire = found(lossy(farad, angle))
    assert isinstance(wire, OpenWire)
    assert wire.capacitance.value == pytest.approx(farad, abs=4 * wire.capacitance.random)
    assert wire.capacitance.random < 0.003 * farad
    assert wire.loss is not None
    assert wire.loss == pytest.approx(np.tan(angle), abs=0.005)
    assert abs(wire.leak.value) < 4 * wire.leak.uncertainty


def test_a_leak_is_told_beside_the_capacitance() -> None:
    wire = found(TURN * 500e-12 + 1 / 80e3)
    assert isinstance(wire, OpenWire)
    assert 1 / wire.leak.value == pytest.approx(80e3, rel=0.02)
    assert wire.capacitance.value == pytest.approx(500e-12, rel=0.003)


@pytest.mark.parametrize("ohm", [0.001, 4.7, 330.0, 10e3, 200e3])
def test_what_conducts_is_told_as_a_resistance(ohm: float) -> None:
    wire = found(1 / (ohm + TURN * 8e-6))
    assert isinstance(wire, ClosedWire)
    low, high = wire.resistance.interval()
    assert low < ohm < high
    assert high - low < max(0.05 * ohm, 4.0)


def test_a_capacitance_that_is_nearly_nothing_is_no_more_than_its_uncertainty() -> None:
    wire = found(TURN * 0.5e-12)
    assert isinstance(wire, OpenWire)
    assert wire.loss is None
    low, high = wire.capacitance.interval()
    assert low < 0.5e-12 < high
    # Leads that move by 2 pF to either side, as a rectangle: 2/√3 pF.
    assert wire.capacitance.uncertainty == pytest.approx(2e-12 / np.sqrt(3), rel=0.05)


def test_what_no_model_explains_widens_the_interval() -> None:
    bent = TURN * 1e-9 * (1 + 0.02 * (-1.0) ** np.arange(len(FREQUENCY)))
    plain, odd = found(TURN * 1e-9), found(bent)
    assert isinstance(plain, OpenWire)
    assert isinstance(odd, OpenWire)
    assert odd.capacitance.random > 10 * plain.capacitance.random
    assert odd.capacitance.degrees == 2 * len(FREQUENCY) - 3


@pytest.mark.parametrize("metres", [100.0, 300.0, 500.0, 1000.0])
def test_a_long_cable_widens_the_interval_and_holds(metres: float) -> None:
    # The line of telegraphers, open at its far end: Y = tanh(γl)/Z₀; 0.17 Ω, 0.6 µH and 100 pF a metre.
    along, across = 0.17 + TURN * 0.6e-6, TURN * 100e-12
    wire = found(np.asarray(np.tanh(np.sqrt(along * across) * metres) * np.sqrt(across / along)))
    assert isinstance(wire, OpenWire)
    low, high = wire.capacitance.interval()
    assert low < 100e-12 * metres < high
