"""A low-voltage feed against plain sums of resistances, and against the circuit solved over and over."""

import numpy as np
import pytest

from ohmsworth.consequence import effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import Circuit, Resistor, VoltageSource, Volts, respond, transfers
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.use import Effect, Use
from ohmsworth.consequence.uses.cables import two_core
from ohmsworth.consequence.uses.low_voltage_feed import ALL, ONLY_RETURN, RUN
from ohmsworth.errors import ArgumentFault

#: Two cores of 10 m of 1.5 mm² at 58 MS/m.
CABLE = 2 * 10 / (58e6 * 1.5e-6)
POWER: dict[str, float | str] = {"load": "constant power", "power": 24.0}


def found(use: Use, ohm: float) -> dict[tuple[str, str], Effect]:
    return {(e.key, e.position): e for e in effects(use, ohm)}


def value(use: Use, ohm: float, key: str, position: str = ALL.words) -> float:
    return float(found(use, ohm)[key, position].value)


ONE = "one contact, all others ideal"


def test_constant_current_by_hand() -> None:
    """2 A from 12 V: four contacts of 50 mΩ, the two of the return, or one."""
    use = make_use("low-voltage feed")
    assert value(use, 0.05, "load_volts") == pytest.approx(12 - 2 * (CABLE + 0.2))
    assert value(use, 0.05, "load_volts", ONLY_RETURN.words) == pytest.approx(12 - 2 * (CABLE + 0.1))
    assert value(use, 0.05, "load_volts", ONE) == pytest.approx(12 - 2 * (CABLE + 0.05))
    assert value(use, 0.05, "drop") == pytest.approx(100 * 2 * (CABLE + 0.2) / 12)
    assert value(use, 0.05, "return_shift", ONLY_RETURN.words) == pytest.approx(2 * (CABLE / 2 + 0.1))
    assert value(use, 0.05, "contact_heat", ONE) == pytest.approx(0.2)
    assert value(use, 0.05, "contact_voltage", ONE) == pytest.approx(0.1)


@pytest.mark.parametrize("ohm", [0.0, 0.05, 0.3])
def test_constant_power_by_the_circuit_solved_over_and_over(ohm: float) -> None:
    """The load as a resistance U²/P, with the U that the circuit then gives, until both agree."""
    use = make_use("low-voltage feed", values={**POWER, "supply_resistance": 0.02})
    volts = 12.0
    for _ in range(200):
        circuit = Circuit(
            (
                VoltageSource("supply", "inner"),
                Resistor("inner", "outer", 0.02),
                *RUN.parts(use, two_core(use), ("outer", "0", "load plus", "load return")),
                Resistor("load plus", "load return", volts**2 / 24),
            )
        )
        solved = transfers(circuit, [0.0], {"supply": 12.0}, [Volts("load plus", "load return")])[0]
        volts = abs(respond(solved, [[ohm] * 4])[0, 0])
    assert value(use, ohm, "load_volts") == pytest.approx(volts, rel=1e-9)


def test_what_the_supply_gives_is_heat_and_load() -> None:
    """24 W in the load, the rest in cable and the one contact that has 0.1 Ω: U0 I = P + I² (R + 0.1)."""
    use = make_use("low-voltage feed", values=POWER)
    heat = value(use, 0.1, "contact_heat", ONE)
    current = np.sqrt(heat / 0.1)
    assert 12 * current == pytest.approx(24 + current**2 * (CABLE + 0.1), rel=1e-12)


def test_constant_power_loses_more_than_constant_current() -> None:
    by_current, by_power = make_use("low-voltage feed"), make_use("low-voltage feed", values=POWER)
    for ohm in (0.0, 0.01, 0.1, 0.3):
        assert value(by_power, ohm, "drop") > value(by_current, ohm, "drop")


def test_a_load_that_cannot_have_its_power_has_no_volts() -> None:
    """24 W from 12 V: 1.5 Ω is where it ends, cable included."""
    use = make_use("low-voltage feed", values=POWER)
    last = (1.5 - CABLE) / 4
    assert value(use, 0.999 * last, "load_volts") > 6
    assert value(use, 1.001 * last, "load_volts") == 0
    assert value(use, 1.001 * last, "drop") == 100
    use = make_use("low-voltage feed", values={**POWER, "needed_volts": 3.0})
    reached = next(t for t in thresholds(use) if t.effect == "load_volts")
    assert reached.resistance == pytest.approx(last, rel=1e-9)


def test_a_feed_that_never_suffices_is_told_apart() -> None:
    use = make_use("low-voltage feed", values={"length": 100.0})
    told = {t.effect: t for t in thresholds(use)}
    assert told["load_volts"].resistance is None
    assert "already passed" in told["load_volts"].note


@pytest.mark.parametrize(("near", "far"), [(1, 1), (3, 0), (0, 2)])
def test_one_contact_is_one_however_many_there_are(near: int, far: int) -> None:
    use = make_use("low-voltage feed", values={"contacts_near": near, "contacts_far": far})
    assert value(use, 0.05, "load_volts", ONE) == pytest.approx(12 - 2 * (CABLE + 0.05))
    assert value(use, 0.05, "load_volts") == pytest.approx(12 - 2 * (CABLE + 0.1 * (near + far)))


def test_the_impedance_of_the_feed_starts_as_its_resistance() -> None:
    impedance = response(make_use("low-voltage feed"), [0.0, 0.05], [1.0, 100e3])["feed_impedance"]
    np.testing.assert_allclose(impedance[:, 0], [CABLE, CABLE + 0.2], rtol=1e-6)
    # Outer inductance of the loop of 10 m alone: 2πfL.
    assert impedance[0, 1] > 2 * np.pi * 100e3 * 6e-6


def test_a_warm_cable_loses_more() -> None:
    """Copper: 0.393 % a kelvin."""
    warm = make_use("low-voltage feed", values={"temperature": 313.15})
    assert value(warm, 0.0, "load_volts") == pytest.approx(12 - 2 * CABLE * (1 + 20 * 0.00393))


def test_cautions_tell_of_disconnecting_fire_and_derating() -> None:
    told = " ".join(kind_of("low-voltage feed").cautions)
    for word in ("disconnect", "burn", "fused", "derating", "local codes"):
        assert word in told


@pytest.mark.parametrize(
    ("key", "value"),
    [("voltage", 230.0), ("load", "resistance"), ("power", 0.0), ("current", 0.0), ("limit_drop", 1.5)],
)
def test_values_that_cannot_be_are_refused(key: str, value: float | str) -> None:
    with pytest.raises(ArgumentFault, match=key):
        make_use("low-voltage feed", values={key: value})
