"""A mains feed, against impedances added up by hand."""

import numpy as np
import pytest

from ohmsworth.consequence import USE_KINDS, effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import respond
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.use import Effect, Use
from ohmsworth.consequence.uses.mains_circuit import (
    fault_circuit,
    fault_transfers,
    load_circuit,
    load_resistance,
    load_transfer,
)
from ohmsworth.consequence.uses.mains_rules import EARTH, FAULT_LOOP, FEED, one_contact, one_earth_contact
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import wire_impedance

#: One core of 10 m of 2.5 mm² at 58 MS/m.
CORE = 10 / (58e6 * 2.5e-6)
NO_CABLE: dict[str, float | str] = {"length": 0.0}


def found(use: Use, ohm: float) -> dict[tuple[str, str], Effect]:
    return {(e.key, e.position): e for e in effects(use, ohm)}


def test_heat_of_one_contact_is_the_smallest_threshold_of_the_ladder() -> None:
    """1 W at 16 A is 1/16² Ω; the load is a resistance, so that the current falls by a three-thousandth on the way."""
    use = make_use("mains feed")
    every = [t for kind in USE_KINDS for t in thresholds(make_use(kind)) if t.resistance is not None]
    smallest = min(every, key=lambda t: t.resistance or 0.0)
    heat = next(t for t in thresholds(use) if t.effect == "contact_heat")
    assert heat.resistance == pytest.approx(1 / 16**2, rel=1e-3)
    assert smallest == heat


def test_plain_resistances() -> None:
    """No cable: 230 V, 16 A, 0.5 Ω of external loop, contacts of 0.1 Ω."""
    use = make_use("mains feed", values=NO_CABLE)
    load = 230 / 16
    current = 230 / (load + 0.1)
    told = {key: float(e.value) for key, e in found(use, 0.1).items()}
    one, earth = one_contact(use).words, one_earth_contact(use).words
    assert told["contact_heat", one] == pytest.approx(current**2 * 0.1)
    assert told["contact_voltage", one] == pytest.approx(np.sqrt(2) * current * 0.1)
    assert told["drop", FEED.words] == pytest.approx(100 * 0.4 / (load + 0.4))
    assert told["loop_impedance", FAULT_LOOP.words] == pytest.approx(0.9)
    assert told["loop_rise", FAULT_LOOP.words] == pytest.approx(80)
    assert told["loop_rise", earth] == pytest.approx(20)
    assert told["fault_current", FAULT_LOOP.words] == pytest.approx(230 / 0.9)
    assert told["touch_voltage", EARTH.words] == pytest.approx(230 * 0.2 / 0.7)
    assert told["touch_voltage", earth] == pytest.approx(230 * 0.1 / 0.6)


@pytest.mark.parametrize(("conductor", "area"), [("1.5 mm²", 1.5e-6), ("10 mm²", 10e-6)])
def test_impedances_added_up_by_hand(conductor: str, area: float) -> None:
    """100 m at 60 Hz: each core with its inside and half the outer inductance; no capacitance."""
    use = make_use(
        "mains feed",
        values={
            "conductor": conductor,
            "length": 100.0,
            "capacitance": 0.0,
            "mains_frequency": 60.0,
            "voltage": 120.0,
        },
    )
    core = 100 * (complex(wire_impedance(1 / (58e6 * area), 60.0)) + 0.5j * 2 * np.pi * 60 * 0.6e-6)
    load, near, far = load_resistance(use), 0.2, 0.3
    assert load == pytest.approx(120 / 16 - 200 / (58e6 * area))
    ohm = [[near, 0.0, 0.0, far]]
    volts = respond(load_transfer(load_circuit(use), np.array([60.0])), ohm)[0, 0]
    assert volts == pytest.approx(load / (load + 2 * core + near + far), rel=1e-10)
    # Contacts: line near, earth near, line far, earth far.
    current, touch = (
        respond(t, [[0, near, 0, far]])[0, 0] for t in fault_transfers(fault_circuit(use), np.array([60.0]))
    )
    total = 0.5 + 2 * core + near + far
    assert abs(current) == pytest.approx(abs(1 / total), rel=1e-10)
    assert touch == pytest.approx((core + near + far) / total, rel=1e-10)


def test_full_current_flows_with_ideal_contacts() -> None:
    use = make_use("mains feed", values={"length": 50.0})
    volts = 230 * abs(load_transfer(load_circuit(use), np.array([50.0])).ideal[0])
    assert volts / load_resistance(use) == pytest.approx(16, rel=1e-5)
    assert float(found(use, 0.0)["drop", FEED.words].value) == pytest.approx(
        100 * 16 * 10 * CORE / 230, rel=1e-4
    )


@pytest.mark.parametrize(("near", "far"), [(1, 1), (3, 0), (0, 2)])
def test_one_contact_is_one_however_many_there_are(near: int, far: int) -> None:
    use = make_use("mains feed", values={**NO_CABLE, "contacts_near": near, "contacts_far": far})
    told = found(use, 0.1)
    assert float(told["loop_rise", one_earth_contact(use).words].value) == pytest.approx(20)
    assert float(told["touch_voltage", EARTH.words].value) == pytest.approx(
        230 * 0.1 * (near + far) / (0.5 + 0.1 * (near + far))
    )


def test_sixty_hertz_and_120_volt_can_be_set() -> None:
    use = make_use("mains feed", values={"voltage": 120.0, "mains_frequency": 60.0, "current": 15.0})
    told = effects(use, 0.0)
    assert {e.frequency for e in told} == {None, 60.0}
    assert any("15 A" in t.words for t in thresholds(use))


def test_a_touch_voltage_above_50_volt_is_not_taken_for_a_limit() -> None:
    with pytest.raises(ArgumentFault, match="limit_touch"):
        make_use("mains feed", values={"limit_touch": 60.0})


def test_a_current_that_the_cable_does_not_let_through_is_refused() -> None:
    with pytest.raises(ArgumentFault, match=r"current: .*less than 11\.1 ampere"):
        make_use("mains feed", values={"conductor": "1.5 mm²", "length": 900.0})


@pytest.mark.parametrize(
    ("key", "value"), [("voltage", 400.0), ("mains_frequency", 1e3), ("current", 0.0), ("limit_heat", 50.0)]
)
def test_values_that_cannot_be_are_refused(key: str, value: float) -> None:
    with pytest.raises(ArgumentFault, match=key):
        make_use("mains feed", values={key: value})


def test_it_has_one_frequency_and_no_curves() -> None:
    assert response(make_use("mains feed"), [0.0], [50.0]) == {}


def test_cautions_stand_first_and_say_what_has_to_be_said() -> None:
    told = kind_of("mains feed").cautions
    assert "no permission" in " ".join(told[0].split())
    for word in ("licensed electricians", "local codes"):
        assert word in told[0]
    for word in ("disconnect", "lock out", "prove dead"):
        assert word in told[1]


def test_every_threshold_means_stop() -> None:
    for threshold in thresholds(make_use("mains feed")):
        assert threshold.words.endswith(": stop, and have it looked at by a licensed electrician")
