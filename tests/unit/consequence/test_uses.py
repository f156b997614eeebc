import dataclasses
import json

import numpy as np
import numpy.typing as npt
import pytest

from ohmsworth.consequence import (
    USE_KINDS,
    Effect,
    Threshold,
    Use,
    effects,
    make_use,
    response,
    settings_of,
    smallest_threshold,
    thermal_noise,
    thresholds,
)
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.materials import conductor_from_text, construction, resistance_per_metre
from ohmsworth.sources import SOURCES
from ohmsworth.units import EXAMPLES

RESISTANCE = np.logspace(-6, 6, 25)
BALANCED = ("dynamic microphone", "phantom microphone", "balanced line")


def first_of(use: Use, resistance: npt.ArrayLike) -> dict[str, Effect]:
    """Effects by key, each at the first position that it is told for."""
    return {effect.key: effect for effect in reversed(effects(use, resistance))}


def first_thresholds(use: Use) -> dict[str, Threshold]:
    """Thresholds by key of the effect, each at the first position that it is told for."""
    return {threshold.effect: threshold for threshold in reversed(thresholds(use))}


@pytest.mark.parametrize("kind", USE_KINDS)
def test_every_setting_can_be_shown_and_has_a_source(kind: str) -> None:
    keys = [setting.key for setting in settings_of(kind)]
    assert len(keys) == len(set(keys))
    for setting in settings_of(kind):
        assert setting.dimension in {*EXAMPLES, "number", "text"}
        assert setting.source in SOURCES
        assert setting.words
        assert setting.symbol


@pytest.mark.parametrize("kind", USE_KINDS)
def test_every_threshold_is_a_sentence_with_a_reason(kind: str) -> None:
    for threshold in thresholds(make_use(kind, "stage box")):
        assert threshold.use == "stage box"
        assert threshold.source in SOURCES
        assert len(threshold.words.split()) > 3
        assert threshold.reason
        assert (threshold.resistance is None) == bool(threshold.note)


@pytest.mark.parametrize("kind", USE_KINDS)
def test_effects_keep_the_shape_of_the_resistances(kind: str) -> None:
    use = make_use(kind)
    for shape in ((), (3,), (2, 3), (0,)):
        for effect in effects(use, np.full(shape, 0.5)):
            assert effect.value.shape == shape
            assert isinstance(effect.ideal, float)


@pytest.mark.parametrize("kind", BALANCED)
def test_curves_pass_through_the_effects(kind: str) -> None:
    use = make_use(kind)
    curves = response(use, RESISTANCE, [50.0, 1e3, 10e3, 20e3])
    assert set(curves) == {"level_change", "rejection", "noise_density"}
    assert all(curve.shape == (25, 4) for curve in curves.values())
    by_key = {key: effect.value for key, effect in first_of(use, RESISTANCE).items()}
    np.testing.assert_allclose(curves["rejection"][:, 0], by_key["rejection_mains"], rtol=1e-9)
    np.testing.assert_allclose(curves["rejection"][:, 2], by_key["rejection_high"], rtol=1e-9)
    np.testing.assert_allclose(curves["level_change"][:, 1], by_key["level"], rtol=1e-9, atol=1e-12)
    treble = curves["level_change"][:, 3] - curves["level_change"][:, 1]
    np.testing.assert_allclose(treble, by_key["treble"], rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize("kind", BALANCED)
def test_more_resistance_takes_more_treble_in_a_usual_circuit(kind: str) -> None:
    treble = first_of(make_use(kind), RESISTANCE)["treble"].value
    assert np.all(np.diff(treble) < 1e-9)
    assert treble[-1] < -20


def test_level_of_a_plain_divider() -> None:
    """No cable: four contacts of R in series with 150 Ω into 1500 Ω."""
    use = make_use("dynamic microphone", values={"length": 0.0})
    level = first_of(use, np.array([25.0]))["level"].value
    assert level[0] == pytest.approx(20 * np.log10(1650 / 1750), abs=1e-9)


def test_noise_of_four_contacts() -> None:
    """No cable: 100 Ω more on 150 Ω."""
    use = make_use("dynamic microphone", values={"length": 0.0})
    noise = first_of(use, np.array([25.0]))["noise"].value
    assert noise[0] == pytest.approx(10 * np.log10(250 / 150), abs=1e-9)


def test_phantom_volts_of_a_plain_feed() -> None:
    """Contacts of 10 Ω: 20 Ω more in each leg and in the screen, at 4 mA from 48 V."""
    values: dict[str, float | str] = {"length": 0.0, "supply": "nominal"}
    found = first_of(make_use("phantom microphone", values=values), np.array([10.0]))
    assert found["phantom_volts"].ideal == pytest.approx(48 - 4e-3 * 3400)
    assert found["phantom_loss"].value[0] == pytest.approx(4e-3 * 30)
    assert found["phantom_loss"].threshold is None


def test_cable_makes_buzz_worse_than_hum() -> None:
    use = make_use("balanced line", values={"length": 100.0})
    found = {key: float(e.value) for key, e in first_of(use, np.asarray(1.0)).items()}
    assert found["rejection_high"] < found["rejection_mains"] - 6


def test_a_source_that_touches_nothing_is_safer_from_hum() -> None:
    driven = {key: t.resistance for key, t in first_thresholds(make_use("dynamic microphone")).items()}
    floating = make_use("dynamic microphone", values={"source_common": 1e6})
    found = first_thresholds(floating)["rejection_mains"]
    assert found.resistance is None or found.resistance > 10 * (driven["rejection_mains"] or 0)


def test_already_passed_and_never_reached_are_told_apart() -> None:
    passed = make_use("phantom microphone", values={"needed_volts": 40.0})
    found = first_thresholds(passed)["phantom_volts"]
    assert found.resistance is None
    assert "already passed" in found.note
    idle = make_use("phantom microphone", values={"current": 0.0})
    found = first_thresholds(idle)["phantom_volts"]
    assert found.resistance is None
    assert "not reached" in found.note
    strict = make_use("balanced line", values={"limit_rejection_mains": 89.9999999, "load_common": 1e6})
    found = first_thresholds(strict)["rejection_mains"]
    assert found.resistance is None
    assert "below 1 µΩ" in found.note


def test_smallest_threshold() -> None:
    uses = [make_use(kind) for kind in USE_KINDS]
    smallest = smallest_threshold(uses)
    assert smallest is not None
    lending = [use for use in uses if use.kind != "mains feed"]
    every = [t.resistance for use in lending for t in thresholds(use) if t.resistance is not None]
    assert smallest.resistance == min(every)
    assert smallest_threshold([]) is None


def test_a_use_can_be_written_down() -> None:
    use = make_use("phantom microphone", "choir")
    again = json.loads(json.dumps(dataclasses.asdict(use)))
    assert make_use(again["kind"], again["name"], again["settings"]) == use


def test_sixty_hertz_is_said() -> None:
    found = thresholds(make_use("balanced line", values={"mains_frequency": 60.0}))
    assert any("60 Hz" in threshold.words for threshold in found)


def test_names_that_do_not_exist_are_refused() -> None:
    with pytest.raises(UnknownName, match="balanced line"):
        make_use("balanced lime")
    with pytest.raises(UnknownName, match="source_impedance"):
        make_use("balanced line", values={"source_impedence": 1.0})
    with pytest.raises(UnknownName):
        make_use("dynamic microphone", values={"phantom": "P48"})
    with pytest.raises(UnknownName):
        settings_of("")


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("source_impedance", 0.0),
        ("source_impedance", -150.0),
        ("source_impedance", float("nan")),
        ("source_impedance", float("inf")),
        ("source_impedance", "150 Ω"),
        ("source_impedance", True),
        ("contacts_near", 1.5),
        ("contacts_near", -1),
        ("temperature", 20.0),
        ("conductor", "thick"),
        ("conductor", "0.22"),
        ("conductor", 0.22),
        ("load_impedance", 20e3),  # more than two legs of 6.8 kΩ leave
        ("phantom", "P50"),
        ("supply", "high"),
        ("current", 11e-3),  # more than P48 allows
        ("mains_frequency", 5e3),
    ],
)
def test_values_out_of_range_are_refused(key: str, value: float | str) -> None:
    with pytest.raises(ArgumentFault, match=key):
        make_use("phantom microphone", values={key: value})


def test_a_use_needs_a_contact() -> None:
    with pytest.raises(ArgumentFault, match="contact"):
        make_use("balanced line", values={"contacts_near": 0, "contacts_far": 0})


def test_resistances_and_frequencies_out_of_range_are_refused() -> None:
    use = make_use("balanced line")
    for resistance in (-1e-3, float("nan"), float("inf")):
        with pytest.raises(ArgumentFault):
            effects(use, np.array([resistance]))
    for frequency in ([0.0], [1e6], [[50.0, 60.0]]):
        with pytest.raises(ArgumentFault):
            response(use, [1.0], frequency)


@pytest.mark.parametrize("kind", USE_KINDS)
def test_no_effect_is_told_twice_for_the_same_contacts(kind: str) -> None:
    told = [(effect.key, effect.position) for effect in effects(make_use(kind), 0.0)]
    assert len(told) == len(set(told))


@pytest.mark.parametrize("kind", USE_KINDS)
def test_every_curve_can_be_drawn(kind: str) -> None:
    use = make_use(kind)
    for curve in kind_of(kind).curves(use):
        assert 0 < curve.low < curve.high <= kind_of(kind).highest
        assert set(curve.position.contacts) & set(curve.circuit.contacts())
        assert curve.words
        hertz = np.geomspace(curve.low, curve.high, 30)
        found = response(use, [0.0, 3e-3, 5.0], hertz)[curve.key]
        assert found.shape == (3, 30)
        assert np.all(np.isfinite(found))


def test_a_cable_by_name_brings_its_values() -> None:
    """Values given beside it count before its own, and the shop's cables before the library's."""
    quad = construction("star quad 4 × 0.20 mm²")
    use = make_use("balanced line", values={"cable": "Star quad 4 x 0.20 mm2", "core_core": 5e-11})
    assert use.settings["core_core"] == 5e-11
    assert use.settings["core_screen"] == quad.values["core_screen"]
    assert use.settings["conductor"] == quad.values["conductor"]
    assert use.settings["load_impedance"] == make_use("balanced line").settings["load_impedance"]
    own = dataclasses.replace(quad, values={**quad.values, "core_screen": 9e-11})
    use = make_use("balanced line", values={"cable": quad.name}, cables=(own,))
    assert use.settings["core_screen"] == 9e-11
    assert float(effects(use, 1.0)[0].value) < 0


def test_a_cable_of_another_kind_is_refused() -> None:
    with pytest.raises(UnknownName, match="star quad"):
        make_use("balanced line", values={"cable": "video coax 75 Ω, 59 type"})


def test_what_needs_a_licence_lends_no_margin() -> None:
    mains = make_use("mains feed")
    assert any(t.resistance is not None for t in thresholds(mains))
    assert smallest_threshold([mains]) is None


@pytest.mark.parametrize("ohm", [0.0, 25.0, 1e4])
def test_noise_over_frequency_of_a_plain_divider(ohm: float) -> None:
    """No cable: 150 Ω and four contacts as a source of noise, into an input of 1500 Ω that adds none."""
    use = make_use("dynamic microphone", values={"length": 0.0})
    found = response(use, [ohm], [50.0, 20e3])["noise_density"]
    source = 150 + 4 * ohm
    wanted = float(thermal_noise(source, 293.15, 1.0)) * 1500 / (1500 + source)
    np.testing.assert_allclose(found, wanted, rtol=1e-9)


def test_noise_over_frequency_counts_the_cable_once() -> None:
    """A long thin cable: at low frequency its loop is a part of the source, at high its capacitance shorts all noise."""
    use = make_use("balanced line", values={"length": 500.0, "conductor": "0.05 mm²"})
    loop = 2 * 500 * resistance_per_metre(conductor_from_text("0.05 mm²"), 293.15)
    low, high = response(use, [0.0], [20.0, 200e3])["noise_density"][0]
    assert low == pytest.approx(
        float(thermal_noise(100 + loop, 293.15, 1.0)) * 20e3 / (20e3 + 100 + loop), rel=1e-3
    )
    assert high < 0.6 * low


@pytest.mark.parametrize(
    "kind", [kind for kind in USE_KINDS if "length" in {s.key for s in settings_of(kind)}]
)
def test_a_cable_that_passes_nothing_is_told_in_numbers_or_refused(kind: str) -> None:
    """Ten kilometres of hair-thin wire: no number that is none, and no level that falls from nothing to less."""
    values: dict[str, float | str] = {"length": min(10e3, longest(kind)), "conductor": "40 AWG"}
    nothing = "nothing passes through this one"
    refused = {
        "mains feed": "the cable takes all",
        "digital audio": nothing,
        "video": nothing,
    }
    if kind in refused:
        with pytest.raises(ArgumentFault, match=refused[kind]):
            make_use(kind, values=values)
        return
    use = make_use(kind, values=values)
    assert all(np.all(np.isfinite(effect.value)) for effect in effects(use, [0.0, 1.0, 1e9]))
    assert all(t.words for t in thresholds(use))
    for curve in kind_of(kind).curves(use):
        found = response(use, [0.0, 1.0, 1e9], np.geomspace(curve.low, curve.high, 30))[curve.key]
        assert np.all(np.isfinite(found))


def longest(kind: str) -> float:
    return next(setting.highest for setting in settings_of(kind) if setting.key == "length")
