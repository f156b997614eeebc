"""Trains of bits against what is known in closed form: a resistor into a capacitor, a line without loss, every pattern."""

import math
from itertools import product

import numpy as np
import pytest
from scipy.special import log_ndtr, ndtr

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Line,
    PulseTrain,
    Resistor,
    VoltageSource,
    Volts,
    cable_of,
    harmonics,
    plain_resistance,
    polynomials_of,
    transfers,
    value_along,
    waveform,
    worst_level,
)
from ohmsworth.consequence.circuit.pulse import RISE_OVER_SIGMA
from ohmsworth.errors import ArgumentFault

BIT, RISE = 4e-6, 250e-9
SIGMA = RISE / RISE_OVER_SIGMA


def square(bits: int, rise: float = RISE) -> PulseTrain:
    """`bits` of +1, then as many of −1."""
    return PulseTrain(np.repeat([1.0, -1.0], bits), BIT, rise)


def edges(time: np.ndarray, bits: int, one_edge) -> np.ndarray:
    """The same train as a sum of edges of 2, rising and falling in turn, begun 60 half periods ago."""
    half = bits * BIT
    total = np.full(time.shape, -1.0)
    for n in range(-60, 4):
        total += 2 * (-1) ** n * one_edge(time - n * half)
    return total


def test_an_edge_rises_from_10_to_90_percent_in_its_time() -> None:
    assert ndtr(RISE_OVER_SIGMA / 2) - ndtr(-RISE_OVER_SIGMA / 2) == pytest.approx(0.8, abs=1e-15)


def test_the_train_itself() -> None:
    signal = harmonics(square(8))
    time = np.arange(64) * signal.period / 64 + 0.3e-6
    found = waveform(signal, np.ones(len(signal.order)), 64, 0.3e-6)
    expected = edges(time, 8, lambda t: ndtr(t / SIGMA))
    assert 0 < signal.dropped <= 1e-5
    assert np.abs(found - expected).max() <= signal.dropped
    # A train of 8 against 8 has no even harmonics, and none are kept.
    assert np.all(signal.order % 2 == 1)


def test_more_may_be_neglected_or_less() -> None:
    exact = edges(np.arange(16) * BIT, 8, lambda t: ndtr(t / SIGMA))
    sizes = []
    for neglected in (1e-2, 1e-4, 1e-8, 1e-13):
        signal = harmonics(square(8), neglected)
        found = waveform(signal, np.ones(len(signal.order)), 16)
        assert np.abs(found - exact).max() <= neglected + 1e-14
        sizes.append(len(signal.order))
    assert sizes == sorted(sizes)
    assert sizes[0] < sizes[-1]


def test_any_levels_and_any_number_of_samples() -> None:
    levels = np.array([1.0, 1.0, -1.0, 0.5, -1.0, 1.0, -1.0])
    signal = harmonics(PulseTrain(levels, BIT, 0.2 * BIT))
    assert 0 in signal.order
    for samples in (1, 7, 10, 5000):
        time = 0.5 * BIT + np.arange(samples) * signal.period / samples
        found = waveform(signal, np.ones(len(signal.order)), samples, 0.5 * BIT)
        sigma = 0.2 * BIT / RISE_OVER_SIGMA
        expected = sum(
            levels[i % 7] * (ndtr((time - i * BIT) / sigma) - ndtr((time - (i + 1) * BIT) / sigma))
            for i in range(-14, 21)
        )
        np.testing.assert_allclose(found, expected, rtol=0, atol=2e-5)


def test_a_resistor_into_a_capacitor() -> None:
    """Edge through RC: Φ(t/σ) − exp(σ²/2τ² − t/τ) Φ(t/σ − σ/τ), for 1 kΩ + R into 1 nF, R a contact's."""
    circuit = Circuit(
        (
            VoltageSource("source", "drive"),
            Contact("contact", "drive", "made"),
            Resistor("made", "out", 1e3),
            Capacitor("out", "0", 1e-9),
        )
    )
    signal = harmonics(square(8))
    transfer = transfers(circuit, signal.frequency, {"source": 1.0}, [Volts("out")])[0]
    ohm = np.array([[0.0, 50.0], [500.0, 2e3]])
    found = waveform(signal, value_along(polynomials_of(transfer, np.ones(1)), ohm), 128, 0.1e-6)
    assert found.shape == (2, 2, 128)
    time = 0.1e-6 + np.arange(128) * signal.period / 128
    for place in np.ndindex(2, 2):
        tau = (1e3 + ohm[place]) * 1e-9

        def one_edge(t: np.ndarray, tau: float = tau) -> np.ndarray:
            late = SIGMA**2 / (2 * tau**2) - t / tau + log_ndtr(t / SIGMA - SIGMA / tau)
            return ndtr(t / SIGMA) - np.exp(late)

        assert np.abs(found[place] - edges(time, 8, one_edge)).max() <= signal.dropped


@pytest.mark.parametrize(("source", "load"), [(120.0, 120.0), (40.0, 120.0), (40.0, 1e9), (300.0, 47.0)])
def test_a_line_without_loss_against_the_bounce_diagram(source: float, load: float) -> None:
    """The step at the load is (1 + ρl) Z0/(Z0 + Zs) Σ (ρs ρl)^n at the times (2n + 1) T, for 120 Ω and 1.5 µs."""
    z0, delay, length = 120.0, 1.5e-6, 300.0
    per_metre = delay / length
    nothing = plain_resistance(0.0)
    cable = cable_of(
        (nothing, nothing), (z0 * per_metre, 0.0), [[0, per_metre / z0], [per_metre / z0, 0]], 0.0
    )
    circuit = Circuit(
        (
            VoltageSource("source", "drive"),
            Resistor("drive", "in", source),
            Line(("in", "0"), ("out", "back"), cable, length),
            Resistor("out", "back", load),
        )
    )
    signal = harmonics(square(16))
    gain = transfers(circuit, signal.frequency, {"source": 1.0}, [Volts("out", "back")])[0].ideal
    time = np.arange(512) * signal.period / 512
    at_source, at_load = ((z - z0) / (z + z0) for z in (source, load))

    def one_edge(t: np.ndarray) -> np.ndarray:
        bounces = [(at_source * at_load) ** n * ndtr((t - (2 * n + 1) * delay) / SIGMA) for n in range(200)]
        return (1 + at_load) * z0 / (z0 + source) * np.sum(bounces, axis=0)

    # What stands for "for ever before" in `edges` is the steady state, here that of the divider.
    settled = load / (load + source)
    expected = edges(time, 16, one_edge) + 1 - settled
    found = waveform(signal, gain, 512)
    largest = np.abs((1 + at_load) * z0 / (z0 + source) / (1 - abs(at_source * at_load)))
    assert np.abs(found - expected).max() <= signal.dropped * largest + 1e-9


def test_the_worst_level_is_the_worst_of_every_pattern() -> None:
    """Eight bits through a slow RC and an echo, all 256 patterns of eight sent for ever."""
    width = 8
    signal = harmonics(square(width))

    def gain(frequency: np.ndarray) -> np.ndarray:
        late = np.exp(-2j * np.pi * frequency * 5e-6)
        return (1 - 0.3 * late) / (1 + 2j * np.pi * frequency * 1e-6)

    steps = waveform(signal, gain(signal.frequency), 2 * width, BIT / 2)[:width]
    levels = []
    for pattern in product((1.0, -1.0), repeat=width - 1):
        # The bit looked at comes last, so that all the others are earlier.
        train = harmonics(PulseTrain(np.array([*pattern, 1.0]), BIT, RISE), 1e-9)
        levels.append(float(waveform(train, gain(train.frequency), 1, (width - 1) * BIT + BIT / 2)[0]))
    assert float(worst_level(steps)) == pytest.approx(min(levels), abs=1e-4)
    assert float(worst_level(np.stack([steps, 2 * steps]))[1]) == pytest.approx(2 * min(levels), abs=2e-4)


def test_a_bit_can_be_turned_over() -> None:
    """An echo as strong as the bit itself, a bit later: no level is left; a stronger one turns it over."""
    for echo, left in ((-1.0, 0.0), (-1.5, -0.5), (0.25, 0.75)):
        step = np.array([1.0 - echo, *[1.0 + echo] * 7])
        assert float(worst_level(step)) == pytest.approx(left)


def test_what_cannot_be_is_refused() -> None:
    for levels in (np.array([]), np.ones((2, 2)), np.array([1.0, math.nan])):
        with pytest.raises(ArgumentFault, match="levels"):
            PulseTrain(levels, BIT, RISE)
    for bit, rise in ((0.0, RISE), (BIT, 0.0), (math.inf, RISE), (BIT, -1.0)):
        with pytest.raises(ArgumentFault, match="time"):
            PulseTrain(np.ones(2), bit, rise)
    with pytest.raises(ArgumentFault, match="neglected"):
        harmonics(square(2), 0.0)
    with pytest.raises(ArgumentFault, match="samples"):
        waveform(harmonics(square(2)), np.ones(1), 0)
