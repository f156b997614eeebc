"""The pattern, the eye and the edges, where they can be told by hand."""

import math
from itertools import groupby

import numpy as np
import pytest
from scipy.special import ndtr

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Resistor,
    VoltageSource,
    Volts,
    polynomials_of,
    transfers,
)
from ohmsworth.consequence.circuit.pulse import RISE_OVER_SIGMA
from ohmsworth.consequence.uses.eye import (
    POINTS,
    biphase,
    half_pattern,
    opening,
    received,
    sent,
    spread_of_edges,
)

PULSE = 1 / (128 * 48e3)


def whole_pattern() -> np.ndarray:
    return np.concatenate((half_pattern(), -half_pattern()))


def test_biphase_marks_every_bit_with_an_edge() -> None:
    assert biphase((0, 1, 1, 0), -1.0) == [1, 1, -1, 1, -1, 1, -1, -1]
    assert biphase((), 1.0) == []


def test_the_pattern_has_pulses_of_one_two_and_three() -> None:
    """As the code has: none is longer than three, and as much is above as below."""
    pattern = whole_pattern()
    start = int(np.flatnonzero(pattern != np.roll(pattern, 1))[0])
    runs = {len(list(group)) for _, group in groupby(np.roll(pattern, -start))}
    assert runs == {1, 2, 3}
    assert pattern.sum() == 0


def test_an_ideal_line_leaves_the_edges() -> None:
    """Half way between middle and end of a pulse an edge is a quarter of it away: 2 (1 − 2Φ(−t/4σ))."""
    nothing = transfers(
        Circuit(
            (VoltageSource("source", "out"), Contact("contact", "out", "load"), Resistor("load", "0", 1.0))
        ),
        (signal := sent(PULSE, 30e-9)).frequency,
        {"source": 1.0},
        [Volts("load")],
    )[0]
    found = received(signal, polynomials_of(nothing, np.ones(1)), 0.0, np.array([0.0, 1.0]))
    assert found.shape == (2, 40 * POINTS)
    sigma = 30e-9 / RISE_OVER_SIGMA
    whole = 2 * (1 - 2 * ndtr(-PULSE / 4 / sigma))
    assert opening(found) == pytest.approx([whole, whole / 2], abs=3e-4)
    assert spread_of_edges(found) == pytest.approx([0.0, 0.0], abs=1e-3)


def drawn(late: np.ndarray) -> np.ndarray:
    """The pattern with straight edges of a third of an interval, each `late` intervals after its time."""
    pattern = whole_pattern()
    edge = np.flatnonzero(pattern != np.roll(pattern, 1))
    corner = (edge + late)[:, None] + np.array([-1 / 6, 1 / 6])
    height = pattern[edge][:, None] * np.array([-1.0, 1.0])
    time = np.arange(len(pattern) * POINTS) / POINTS
    return np.interp(time, corner.ravel(), height.ravel(), period=len(pattern))


def test_edges_that_come_late_are_told() -> None:
    pattern = whole_pattern()
    edges = int(np.count_nonzero(pattern != np.roll(pattern, 1)))
    late = np.zeros(edges)
    late[[3, 5]] = 0.15, -0.1
    assert float(spread_of_edges(drawn(late))) == pytest.approx(0.25, abs=1e-9)
    assert float(spread_of_edges(drawn(late + 0.2))) == pytest.approx(0.25, abs=1e-9)
    assert float(spread_of_edges(drawn(np.full(edges, 0.3)))) == pytest.approx(0, abs=1e-9)
    # An eye of 0.75 intervals less the slopes is open over half an interval, at full height.
    assert float(opening(drawn(np.zeros(edges)))) == pytest.approx(2.0)
    assert float(opening(drawn(late))) < 2.0


def test_an_edge_that_never_comes_is_late_by_a_whole_interval() -> None:
    found = np.where(whole_pattern() > 0, 1.0, 0.9).repeat(POINTS)
    assert float(spread_of_edges(found)) == 0
    assert float(opening(found)) < 0
    only_one = whole_pattern().repeat(POINTS)
    only_one[:POINTS] = only_one[-1] * 0.5
    assert float(spread_of_edges(only_one)) == pytest.approx(1.0, abs=0.05)


def test_edges_behind_a_resistor_and_a_capacitor() -> None:
    """Between edges v runs to ±1 as exp(−t/τ): it passes zero τ ln(1 − v0 L) after an edge to L."""
    tau = 0.5 * PULSE
    circuit = Circuit(
        (
            VoltageSource("source", "in"),
            Contact("contact", "in", "made"),
            Resistor("made", "out", 100.0),
            Capacitor("out", "0", tau / 100.0),
        )
    )
    signal = sent(PULSE, 5e-9)
    transfer = transfers(circuit, signal.frequency, {"source": 1.0}, [Volts("out")])[0]
    found = received(signal, polynomials_of(transfer, np.ones(1)), 0.0, np.zeros(()))
    pattern = np.tile(whole_pattern(), 3)
    v, before, passed = 0.0, pattern[-1], []
    for level in pattern:
        if level != before:
            passed.append(tau * math.log(1 - v * level))
        v = level + (v - level) * math.exp(-PULSE / tau)
        before = level
    steady = np.array(passed[len(passed) * 2 // 3 :]) / PULSE
    assert float(spread_of_edges(found)) == pytest.approx(steady.max() - steady.min(), abs=3e-3)
    assert steady.max() - steady.min() > 0.03
