"""A loudspeaker on its amplifier, against chain matrices by hand and plain sums of resistances."""

import numpy as np
import pytest
from tests.unit.consequence.uses.coils import loudspeaker_impedance

from ohmsworth.consequence import effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    CurrentSource,
    Inductor,
    Resistor,
    Volts,
    transfers,
)
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.use import Effect, Use
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import conductor_from_text, wire_impedance

FREQUENCY = np.array([20.0, 50.0, 1e3, 5e3, 20e3])
NO_CABLE: dict[str, float | str] = {
    "length": 0.0,
    "amplifier": "output impedance",
    "output_impedance": 0.5,
}


def found(use: Use, ohm: float, one: bool = False) -> dict[str, Effect]:
    """Effects by key, at every contact where there is a choice, or at one alone."""
    told = effects(use, ohm)
    return {e.key: e for e in (reversed(told) if not one else told)}


def hand_made(use: Use, near: float, far: float) -> tuple[np.ndarray, np.ndarray]:
    """Level at the load and impedance seen from it, by chain matrices of one mode; `near`, `far` ohm in both conductors."""
    s = {key: value for key, value in use.settings.items() if not isinstance(value, str)}
    wire = wire_impedance(conductor_from_text(str(use.settings["conductor"])).resistance_per_metre, FREQUENCY)
    omega = 2j * np.pi * FREQUENCY
    z, y = 2 * wire + omega * s["inductance"], omega * s["capacitance"]
    angle, wave = np.sqrt(z * y) * s["length"], np.sqrt(z / y)
    line = np.array([[np.cosh(angle), wave * np.sinh(angle)], [np.sinh(angle) / wave, np.cosh(angle)]])
    zo = s["damping_impedance"] / s["damping_factor"]
    (a, b), (c, d) = line
    # The series resistances before and after it.
    a, b = a + (zo + 2 * near) * c, b + (zo + 2 * near) * d
    b, d = b + 2 * far * a, d + 2 * far * c
    load = loudspeaker_impedance(use, FREQUENCY)
    return 20 * np.log10(np.abs(load / (a * load + b))), np.abs(b / a)


@pytest.mark.parametrize("ohm", [0.0, 0.02, 3.0])
def test_chain_matrices_by_hand_give_the_same_curves(ohm: float) -> None:
    use = make_use("loudspeaker", values={"length": 60.0, "capacitance": 150e-12})
    level, seen = hand_made(use, ohm, ohm)
    ideal, _ = hand_made(use, 0.0, 0.0)
    curves = response(use, [ohm], FREQUENCY)
    np.testing.assert_allclose(curves["response"][0], level, rtol=1e-9)
    np.testing.assert_allclose(curves["level_change"][0], level - ideal, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(curves["damping"][0], 8 / seen, rtol=1e-9)


def test_the_resonance_is_a_resistor_a_coil_and_a_capacitor_side_by_side() -> None:
    """Res 30 Ω at 50 Hz, 15 Hz wide: C = 1/(2π B Res), L = 1/((2π fs)² C)."""
    farad = 1 / (2 * np.pi * 15 * 30)
    henry = 1 / ((2 * np.pi * 50) ** 2 * farad)
    circuit = Circuit(
        (
            CurrentSource("drive", "top"),
            Resistor("top", "coil", 6.4),
            Inductor("coil", "cone", 0.3e-3),
            Resistor("cone", "0", 30.0),
            Inductor("cone", "0", henry),
            Capacitor("cone", "0", farad),
        )
    )
    frequency = np.array([0.0, 5.0, 43.0, 50.0, 58.0, 1e3, 20e3])
    parts = transfers(circuit, frequency, {"drive": 1.0}, [Volts("top")])[0].ideal
    np.testing.assert_allclose(loudspeaker_impedance(make_use("loudspeaker"), frequency), parts, rtol=1e-12)


def test_level_damping_and_power_of_plain_resistances() -> None:
    """No cable, 0.5 Ω of the amplifier, four contacts of 0.1 Ω, 8 Ω; 100 W into 8 Ω without them."""
    now = found(make_use("loudspeaker", values=NO_CABLE), 0.1)
    assert now["level"].value == pytest.approx(20 * np.log10(8.5 / 8.9), abs=1e-9)
    assert now["damping"].value == pytest.approx(8 / 0.9)
    assert now["load_power"].ideal == pytest.approx(100.0)
    assert now["load_power"].value == pytest.approx(100 * (8.5 / 8.9) ** 2)


def test_one_contact_alone() -> None:
    now = found(make_use("loudspeaker", values=NO_CABLE), 0.1, one=True)
    assert now["level"].value == pytest.approx(20 * np.log10(8.5 / 8.6), abs=1e-9)
    assert now["damping"].value == pytest.approx(8 / 0.6)


@pytest.mark.parametrize(("near", "far"), [(1, 1), (3, 0), (0, 2), (4, 5)])
def test_one_contact_is_one_however_many_there_are(near: int, far: int) -> None:
    use = make_use("loudspeaker", values={**NO_CABLE, "contacts_near": near, "contacts_far": far})
    assert found(use, 0.1, one=True)["level"].value == pytest.approx(20 * np.log10(8.5 / 8.6), abs=1e-9)
    every = found(use, 0.1)["level"].value
    assert every == pytest.approx(20 * np.log10(8.5 / (8.5 + 0.2 * (near + far))), abs=1e-9)


def test_what_the_amplifier_gives_becomes_heat_and_sound() -> None:
    """No cable: U I = I² (Zo + Zn + R), with the heat of the one contact that has R."""
    use = make_use("loudspeaker", values=NO_CABLE)
    heat = found(use, 0.1)["contact_heat"].value
    current = np.sqrt(100 * 8) * (1 + 0.5 / 8) / 8.6
    assert heat == pytest.approx(current**2 * 0.1)
    assert found(use, 0.1)["contact_voltage"].value == pytest.approx(np.sqrt(2) * current * 0.1)


def test_ripple_follows_the_impedance() -> None:
    """No cable: from where the impedance is lowest to the resonance, where it is highest but for the coil at 20 kHz."""
    use = make_use("loudspeaker", values={**NO_CABLE, "coil_inductance": 0.0, "output_impedance": 1e-6})
    frequency = np.geomspace(20, 20e3, 4001)
    impedance = loudspeaker_impedance(use, np.append(frequency, 50.0))
    loss = 20 * np.log10(np.abs(impedance / (impedance + 0.2)))
    assert found(use, 0.05)["ripple"].value == pytest.approx(np.ptp(loss), rel=1e-3)
    assert found(use, 0.05)["ripple_whole"].value == pytest.approx(np.ptp(loss), rel=1e-3)


def test_a_resistance_has_no_ripple() -> None:
    use = make_use("loudspeaker", values={**NO_CABLE, "load": "resistance"})
    assert found(use, 0.05)["ripple"].value == pytest.approx(0.0, abs=1e-9)
    assert (
        found(use, 0.05)["level"].value
        == found(make_use("loudspeaker", values=NO_CABLE), 0.05)["level"].value
    )


def test_both_ways_to_tell_an_amplifier_agree() -> None:
    by_factor = make_use("loudspeaker", values={"damping_factor": 250.0, "damping_impedance": 4.0})
    by_ohm = make_use("loudspeaker", values={"amplifier": "output impedance", "output_impedance": 0.016})
    for one, other in zip(effects(by_factor, [0.0, 0.1]), effects(by_ohm, [0.0, 0.1]), strict=True):
        np.testing.assert_allclose(one.value, other.value, rtol=1e-12)


def test_a_spot_is_told_no_hotter_than_its_melting_point() -> None:
    """Silver melts at 1234.93 K; the contacts are at 293.15 K."""
    spots = found(make_use("loudspeaker"), 1e3)["spot_rise"].value
    assert spots == pytest.approx(1234.93 - 293.15)


def test_the_plating_decides_the_softening_voltage() -> None:
    for plating, volts in (("tin", 0.07), ("gold", 0.08), ("nickel", 0.22)):
        told = {t.effect: t for t in thresholds(make_use("loudspeaker", values={"plating": plating}))}
        assert plating in told["contact_voltage"].words
        assert f"{volts:g} V" in told["contact_voltage"].words


def test_cautions_come_before_the_work() -> None:
    told = kind_of("loudspeaker").cautions
    assert "off" in told[0]
    assert "disconnect" in told[0]
    assert "dangerous" in told[0]


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("contacts_near", 0.5),
        ("conductor", "thick"),
        ("load", "piano"),
        ("amplifier", "valves"),
        ("plating", "brass"),
        ("output_impedance", 0.0),
        ("resonance_width", 0.0),
        ("power", 0.0),
    ],
)
def test_values_that_cannot_be_are_refused(key: str, value: float | str) -> None:
    with pytest.raises(ArgumentFault, match=key):
        make_use("loudspeaker", values={key: value})


def test_a_line_without_contacts_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="contacts_far"):
        make_use("loudspeaker", values={"contacts_near": 0, "contacts_far": 0})
