"""What a curve is told to be made of."""

import math

import numpy as np
import pytest
from tests.unit.resistance.impedance.curves import F, curve, film, series

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import wire_impedance
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.parts import parts
from ohmsworth.resistance.impedance.shapes import bend, bend_slope


def test_a_resistance_alone() -> None:
    found = parts(curve(series(0.005)))
    assert found.model == "resistance"
    assert found.parameters.keys() == {"resistance"}
    # Both parts of a tone tell R only through its real one: u = u_tone/√tones.
    assert found.parameters["resistance"].uncertainty == pytest.approx(1e-6 / 4, rel=1e-12)
    assert found.parameters["resistance"].value == pytest.approx(0.005, abs=1e-6)


def test_resistance_and_inductance() -> None:
    found = parts(curve(series(0.005, 2e-8)))
    assert found.model == "series"
    assert found.inductance_p < 1e-10
    henry = found.parameters["inductance"]
    # By hand: u = u_tone/√Σω².
    assert henry.uncertainty == pytest.approx(1e-6 / math.sqrt(((2 * np.pi * F) ** 2).sum()), rel=1e-9)
    assert abs(henry.value - 2e-8) < 4 * henry.uncertainty


def test_without_noise_the_planted_parts_come_back() -> None:
    planted = series(0.005, 2e-8) + film(0.003, 900.0)
    found = parts(curve(planted, noise=1e-9, seed=None))
    assert found.model == "film"
    values = {name: estimate.value for name, estimate in found.parameters.items()}
    assert values == pytest.approx(
        {
            "bare resistance": 0.005,
            "inductance": 2e-8,
            "resistance": 0.008,
            "film resistance": 0.003,
            "film capacitance": 1 / (2 * np.pi * 900 * 0.003),
        },
        rel=1e-5,
    )
    assert found.fit == pytest.approx(planted, rel=1e-6)


def test_a_film_in_noise() -> None:
    found = parts(curve(series(0.005, 2e-8) + film(2e-5, 900.0), degrees=30, seed=4))
    assert found.model == "film"
    assert found.film is not None
    assert found.film.low < 900 < found.film.high
    for name, true in (("film resistance", 2e-5), ("film capacitance", 1 / (2 * np.pi * 900 * 2e-5))):
        estimate = found.parameters[name]
        assert abs(estimate.value - true) < 3 * estimate.uncertainty < 0.7 * true
    assert found.rise.value == pytest.approx(-2e-5, abs=4 * found.rise.uncertainty)


def test_a_film_that_bends_far_above_the_tones_is_seen_as_one_with_the_contact() -> None:
    found = parts(curve(series(0.005, 2e-8) + film(0.003, 1e8)))
    assert found.model == "series"
    assert found.parameters["resistance"].value == pytest.approx(0.008, abs=1e-6)
    assert found.film is not None
    assert found.film.bound < 1e-5  # within the tones there is none, and nothing is said of above


def test_a_film_that_only_begins_to_bend_is_told_to_fall() -> None:
    found = parts(curve(series(0.005, 2e-8) + film(0.003, 3e5), noise=2e-7))
    assert found.model == "falls"
    assert found.parameters.keys() == {"resistance"}
    assert found.parameters["resistance"].value == pytest.approx(0.008, abs=2e-6)


def test_the_most_that_may_hide() -> None:
    """The bound holds for a film a little below it: in 95 % of the draws, and it is no wild guess."""
    bounds = []
    for seed in range(60):
        found = parts(curve(series(0.005, 2e-8) + film(2e-6, 900.0), seed=seed))
        assert found.film is not None
        bounds.append(found.film.bound)
    assert np.mean(np.array(bounds) > 2e-6) >= 0.95
    assert np.median(bounds) < 1e-5


def test_skin_effect_is_told_and_not_fitted_as_a_film() -> None:
    wire = np.asarray(wire_impedance(4e-7 * np.pi * 2000, F)) / (4e-7 * np.pi * 2000)
    found = parts(curve(0.004 + 0.002 * wire + series(0, 2e-8)))
    assert found.model == "skin"
    assert found.parameters["resistance"].value == pytest.approx(0.006, abs=2e-6)
    skin = found.parameters["skin resistance"]
    assert abs(skin.value - 0.002) < 4 * skin.uncertainty
    assert found.rise.value > 0.001


def test_a_rise_as_the_square_of_frequency_is_told_to_rise() -> None:
    found = parts(curve(series(0.005, 2e-8) + 2e-5 * (F / F[-1]) ** 2))
    assert found.model == "rises"
    assert found.rise.value == pytest.approx(2e-5 * np.mean((F[-3:] / F[-1]) ** 2), rel=0.2)


@pytest.mark.parametrize("degrees", [10.0, 40.0, math.inf])
def test_nothing_is_told_that_is_not_there(degrees: float) -> None:
    """Over 150 draws films and skin effects together stay about 5 %, residuals too, and intervals hold."""
    draws = [parts(curve(series(0.005, 2e-8), degrees=degrees, seed=seed)) for seed in range(150)]
    assert sum(found.model != "series" for found in draws) <= 17  # 5 % of 150 and 3.6 standard deviations
    unlikely = sum((found.consistency.p_value or 0) < 0.05 for found in draws)
    assert unlikely <= 17
    plain = [found for found in draws if found.model == "series"]
    held = 0
    for found in plain:
        low, high = found.parameters["inductance"].interval(0.95)
        held += low < 2e-8 < high
    assert held / len(plain) > 0.95 - 3 * math.sqrt(0.05 * 0.95 / len(plain))


def test_what_the_model_leaves_over_is_seen() -> None:
    wiggle = 1e-5 * np.cos(np.arange(len(F)) * 2.5)
    assert parts(curve(series(0.005, 2e-8) + wiggle)).consistency.p_value == pytest.approx(0, abs=1e-6)
    found = parts(curve(series(0.005, 2e-8) + wiggle, inputs=wiggle.astype(complex))).consistency
    assert found.p_value is not None
    assert found.p_value > 0.01  # explained by an error that all tones share


def test_shared_errors_reach_each_parameter_once() -> None:
    z = series(0.005, 2e-8)
    found = parts(curve(z, seed=None, shunt=0.01 * z, coil=series(0, 1e-9)))
    ohm, henry = found.parameters["resistance"], found.parameters["inductance"]
    assert ohm.shared["shunt"] == pytest.approx(5e-5, rel=1e-9)
    assert ohm.shared["coil"] == pytest.approx(0, abs=1e-12)
    assert henry.shared["shunt"] == pytest.approx(2e-10, rel=1e-9)
    assert henry.shared["coil"] == pytest.approx(1e-9, rel=1e-9)
    assert henry.uncertainty == pytest.approx(math.hypot(henry.random, 2e-10, 1e-9), rel=1e-12)
    assert found.rise.shared["shunt"] == pytest.approx(0, abs=1e-15)  # the same at both ends


def test_an_inductance_within_the_shunts_own_is_not_told() -> None:
    assert parts(curve(series(0.005, 1e-9), noise=1e-8, coil=series(0, 1e-9))).model == "resistance"
    assert parts(curve(series(0.005, 1e-9), noise=1e-8)).model == "series"


def test_one_tone_is_a_resistance_and_nothing_is_left_over() -> None:
    f = np.array([1000.0])
    found = parts(curve(series(0.005, 1e-8, f), frequency=f))
    assert (found.model, found.film, found.consistency.p_value) == ("series", None, None)
    assert found.rise.value == 0


@pytest.mark.parametrize("shape", ["film", "skin"])
def test_slope_of_a_bend(shape: str) -> None:
    far = (bend(shape, F, 801.0) - bend(shape, F, 799.0)) / math.log(801 / 799)
    assert bend_slope(shape, F, 800.0) == pytest.approx(far, rel=1e-5, abs=1e-9)


def test_refused() -> None:
    good = curve(series(0.005))
    with pytest.raises(ArgumentFault, match="more groups"):
        parts(Curve(F, good.value, good.random, np.full(len(F), 4.0), {}))
    with pytest.raises(ArgumentFault, match="noise at every tone"):
        parts(Curve(F, good.value, 0 * good.random, good.degrees, {}))
    with pytest.raises(ArgumentFault, match="ascending"):
        parts(Curve(F[::-1], good.value, good.random, good.degrees, {}))
