"""What must hold for every mains feed."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmsworth.consequence import Use, effects, make_use, thresholds
from ohmsworth.consequence.circuit import respond
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.uses.mains_circuit import (
    fault_circuit,
    fault_transfers,
    load_circuit,
    load_transfer,
    mains_frequency,
)
from ohmsworth.consequence.uses.mains_rules import EARTH, FAULT_LOOP, one_contact

RESISTANCE = np.logspace(-6, 6, 61)
ohms = st.floats(0, 100)


@st.composite
def feeds(draw: st.DrawFn, **fixed: float | str) -> Use:
    """A feed that there may be."""
    values: dict[str, float | str] = {
        "voltage": draw(st.sampled_from([100.0, 120.0, 230.0])),
        "mains_frequency": draw(st.sampled_from([50.0, 60.0])),
        "current": draw(st.floats(0.5, 20)),
        "external_impedance": draw(st.floats(0.05, 5)),
        "contacts_near": draw(st.integers(0, 4)),
        "contacts_far": draw(st.integers(1, 4)),
        "length": draw(st.floats(0, 60)),
        "conductor": draw(st.sampled_from(["0.75 mm²", "1.5 mm²", "2.5 mm²", "12 AWG"])),
        "temperature": draw(st.floats(250, 340)),
        "plating": draw(st.sampled_from(["silver", "tin", "nickel", "copper"])),
    }
    return make_use("mains feed", values=values | fixed)


@given(feeds())
def test_without_resistance_the_feed_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-9])):
        assert effect.value[0] == pytest.approx(effect.ideal, abs=1e-9)
        assert effect.value[1] == pytest.approx(effect.ideal, rel=1e-4, abs=1e-3)


@given(feeds())
@settings(max_examples=50)
def test_more_resistance_is_never_better(use: Use) -> None:
    load = float(use.settings["voltage"]) / float(use.settings["current"])
    small = 0.1 * load > RESISTANCE
    for effect in effects(use, RESISTANCE):
        # A contact as large as the load cuts off the current, and its own heat with it.
        value = effect.value[small] if effect.key == "contact_heat" else effect.value
        step, slack = np.diff(value), 1e-9 * np.abs(value[1:]) + 1e-9
        assert np.all(step >= -slack if effect.worse == "higher" else step <= slack), effect.key


@given(feeds())
@settings(max_examples=50)
def test_every_threshold_is_reached_or_passed_already(use: Use) -> None:
    rules = [rule for rule in kind_of(use.kind).rules(use) if rule.threshold is not None]
    for rule, threshold in zip(rules, thresholds(use), strict=True):
        assert rule.threshold is not None
        if threshold.resistance is None:
            assert "already passed" in threshold.note
        else:
            value = float(rule.compute(np.asarray(threshold.resistance)))
            assert value == pytest.approx(rule.threshold, rel=1e-6)


@given(feeds(length=0.0), ohms)
def test_no_watt_and_no_volt_is_lost_or_won(use: Use, ohm: float) -> None:
    """Without cable: heat and load are U I; volts of the case and of what stands before it are the mains voltage."""
    told = {(e.key, e.position): float(e.value) for e in effects(use, ohm)}
    voltage = float(use.settings["voltage"])
    load = voltage / float(use.settings["current"])
    current = voltage / (load + ohm)
    heat = told["contact_heat", one_contact(use).words]
    assert heat + current**2 * load == pytest.approx(voltage * current, rel=1e-9)
    ampere, loop = told["fault_current", FAULT_LOOP.words], told["loop_impedance", FAULT_LOOP.words]
    assert ampere * loop == pytest.approx(voltage, rel=1e-9)
    contacts = float(use.settings["contacts_near"]) + float(use.settings["contacts_far"])
    case, before = told["touch_voltage", EARTH.words], float(use.settings["external_impedance"])
    assert case == pytest.approx(voltage * contacts * ohm / (before + contacts * ohm), rel=1e-9, abs=1e-9)


@given(feeds(), ohms, ohms)
def test_it_is_all_one_in_which_conductor_a_contact_is(use: Use, near: float, far: float) -> None:
    """For the load and the current of a fault; for the volts of the case it is the earth's contacts that count."""
    frequency = mains_frequency(use)
    current, touch = fault_transfers(fault_circuit(use), frequency)
    for transfer in (load_transfer(load_circuit(use), frequency), current):
        told = respond(transfer, [[near, 0.0, far, 0.0], [0.0, near, 0.0, far]])
        assert told[0, 0] == pytest.approx(told[1, 0], rel=1e-7)
    line, earth = np.abs(respond(touch, [[near, 0.0, far, 0.0], [0.0, near, 0.0, far]]))[:, 0]
    assert line <= abs(touch.ideal[0]) * (1 + 1e-9)
    assert earth >= abs(touch.ideal[0]) * (1 - 1e-9)
