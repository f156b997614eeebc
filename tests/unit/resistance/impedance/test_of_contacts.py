"""Takes as resistances at a tone: what each part of their uncertainty becomes."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.conditions import condition_result
from ohmsworth.inference.means import specimen_means
from ohmsworth.inference.measured import Measured, difference_parts, measure, meter_parts
from ohmsworth.inference.specimens import specimen_results
from ohmsworth.readings.study import Scale
from ohmsworth.readings.table import UNSTATED, Labels, ReadingTable
from ohmsworth.resistance import TONES
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.of_contacts import (
    NOISE,
    gathered,
    nearest_tone,
    reactances_at,
    resistances_at,
)

FREQUENCY = np.array([100.0, 1e3, 1e4])
TABLE = ReadingTable(
    np.arange(2, 6), Labels.of(["a", "b", "c", "d"]), Labels.of(["x", "x", "y", "y"]), None, None, None, None,
    np.full(4, UNSTATED, np.int8), None, None, None, None, None,
)  # fmt: skip


def curve(ohm: float, leak: bool = True) -> Curve:
    z = np.full(3, ohm) + 2j * np.pi * FREQUENCY * 1e-8
    random = np.tile(np.diag([4e-12, 9e-12]), (3, 1, 1))
    shared = {"shunt": 0.01 * z} | ({"crosstalk in step": np.full(3, -2e-6 + 0j)} if leak else {})
    return Curve(FREQUENCY, z, random, np.full(3, 50.0), shared)


FOUND = gathered(TABLE, [curve(1e-3), curve(1.1e-3), curve(2e-3), curve(2.2e-3, leak=False)])


def test_r_and_x_take_their_own_parts() -> None:
    used = np.array([1, 3])
    r, x = resistances_at(FOUND, 1, used), reactances_at(FOUND, 1, used)
    np.testing.assert_allclose(r.value, [1.1e-3, 2.2e-3])
    np.testing.assert_allclose(x.value, 2 * np.pi * 1e3 * 1e-8)
    np.testing.assert_allclose(r.independent, 2e-6)
    np.testing.assert_allclose(x.independent, 3e-6)
    np.testing.assert_allclose(r.shared["shunt"], [1.1e-5, 2.2e-5])
    # With its sign, and nothing where a take is free of it.
    np.testing.assert_allclose(r.shared["crosstalk in step"], [-2e-6, 0])
    assert "crosstalk in step" not in x.shared
    assert (r.form == TONES).all()
    assert r.specimen.names[r.specimen.codes[0]] == "b"
    assert r.take(np.array([0])).independent_source == NOISE


def test_what_is_common_counts_in_full_and_cancels_in_a_ratio() -> None:
    measured = measure(resistances_at(FOUND, 0, np.arange(4)), "log", "auto")
    alone = {part.source: part.uncertainty for part in meter_parts(measured, np.array([0, 1]))}
    apart = {
        part.source: part.uncertainty
        for part in difference_parts(measured, np.array([0, 1]), np.array([2, 3]))
    }
    assert alone["shunt"] == pytest.approx(0.01)
    assert "shunt" not in apart or apart["shunt"] < 1e-15
    # A negative effect counts as much as a positive one.
    assert alone["crosstalk in step"] == pytest.approx(np.mean([2e-3, 2e-6 / 1.1e-3]))
    assert apart["crosstalk in step"] > 0


def test_other_tones_or_too_few_curves_are_refused() -> None:
    other = replace(curve(1e-3), frequency=FREQUENCY + 1)
    with pytest.raises(ArgumentFault):
        gathered(TABLE, [curve(1e-3)])
    with pytest.raises(ArgumentFault):
        gathered(TABLE, [curve(1e-3), other, curve(1e-3), curve(1e-3)])


def test_the_nearest_tone_is_so_on_a_logarithmic_scale() -> None:
    assert nearest_tone(FREQUENCY, 300.0) == 0
    assert nearest_tone(FREQUENCY, 330.0) == 1


def own_freedom(measured: Measured) -> float:
    """Degrees of freedom of the only specimen."""
    (freedom,) = specimen_results(measured, specimen_means(measured.design).value, None, 0.95).freedom
    return float(freedom)


@pytest.mark.parametrize("scale", ["linear", "log"])
def test_the_noise_of_one_take_keeps_its_degrees_of_freedom(scale: Scale) -> None:
    """A t interval (GUM G.3.2); a contact taken twice has Welch and Satterthwaite's (G.4.1), which one gain makes many more."""
    random = np.tile(np.diag([4e-12, 9e-12]), (3, 1, 1))
    bare = [Curve(FREQUENCY, np.full(3, 1e-3 + 0j), random, np.full(3, n), {}) for n in (6.0, 12.0)]
    alone = ReadingTable(
        np.array([2]), Labels.of(["a"]), Labels.of(["x"]), None, None, None, None,
        np.full(1, UNSTATED, np.int8), None, None, None, None, None,
    )  # fmt: skip
    measured = measure(resistances_at(gathered(alone, bare[:1]), 1, np.array([0])), scale, "auto")
    found = condition_result(measured, 0, None, 0.95)
    half = stats.t.ppf(0.975, 6) * 2e-6
    assert (found.low, found.high) == pytest.approx((1e-3 - half, 1e-3 + half), rel=2e-5)
    own = own_freedom(measured)
    assert own == pytest.approx(6)
    twice = replace(
        alone, line=np.array([2, 3]), specimen=Labels.of(["a", "a"]), condition=Labels.of(["x", "x"]),
        polarity=np.full(2, UNSTATED, np.int8),
    )  # fmt: skip
    both = measure(resistances_at(gathered(twice, bare), 1, np.arange(2)), scale, "auto")
    (noise,) = meter_parts(both, np.arange(2))
    assert noise.freedom == pytest.approx(4 / (1 / 6 + 1 / 12))
    own = own_freedom(both)
    assert own == pytest.approx(noise.freedom)
    gained = [replace(one, shared={"shunt": np.full(3, 4e-6 + 0j)}) for one in bare]
    wide = measure(resistances_at(gathered(twice, gained), 1, np.arange(2)), scale, "auto")
    own = own_freedom(wide)
    assert own == pytest.approx((16 + 2) ** 2 / 2**2 * noise.freedom)


def test_intervals_of_a_noise_that_was_guessed_from_little_hold() -> None:
    """χ² with 4 degrees of freedom: with the normal factor 95 % intervals of 2000 would hold 87.8 %."""
    rng, held, degrees, sigma = np.random.default_rng(11), 0, 4, 2e-6
    alone = ReadingTable(
        np.array([2]), Labels.of(["a"]), Labels.of(["x"]), None, None, None, None,
        np.full(1, UNSTATED, np.int8), None, None, None, None, None,
    )  # fmt: skip
    for _ in range(2000):
        z = np.full(3, 1e-3 + sigma * rng.standard_normal() + 0j)
        random = np.tile(np.eye(2) * sigma**2 * rng.chisquare(degrees) / degrees, (3, 1, 1))
        made = gathered(alone, [Curve(FREQUENCY, z, random, np.full(3, float(degrees)), {})])
        found = condition_result(
            measure(resistances_at(made, 0, np.array([0])), "linear", "auto"), 0, None, 0.95
        )
        assert found.low is not None
        assert found.high is not None
        held += found.low <= 1e-3 <= found.high
    assert held / 2000 == pytest.approx(0.95, abs=0.015)  # three standard deviations of a share of 2000
