"""Circuits against published values."""

import pytest
from scipy.optimize import brentq
from tests.published.printed import assert_printed

from ohmsworth.consequence import (
    dbu,
    make_use,
    phantom_supply,
    phantom_volts,
    response,
    settings_of,
    thermal_noise,
    volts,
)
from ohmsworth.consequence.circuit import (
    Circuit,
    Line,
    Resistor,
    VoltageSource,
    Volts,
    cable_of,
    plain_resistance,
    transfers,
)


def test_phantom_48() -> None:
    """IEC 61938:2018, published: 48 ± 4 V, 6.8 kΩ a leg, 10 mA; recomputed: 14.0 V left, 169.4 mW at most."""
    supply = phantom_supply("P48")
    assert_printed("48", supply.voltage)
    assert_printed("4", supply.tolerance)
    assert_printed("6.8", supply.feed * 1e-3)
    assert_printed("10", supply.largest_current * 1e3)
    assert_printed("14.0", float(phantom_volts(supply.voltage, supply.feed, 10e-3)))
    half = supply.voltage / supply.feed  # the current that draws most power: half the short-circuit current
    assert_printed("169.4", half * float(phantom_volts(supply.voltage, supply.feed, half)) * 1e3)


@pytest.mark.parametrize(
    ("name", "ohms", "milliampere"), [("P12", "680", "15"), ("P12L", "3.3e3", "4"), ("SP48", "2.2e3", "22")]
)
def test_other_supplies(name: str, ohms: str, milliampere: str) -> None:
    """IEC 61938:2018, published."""
    assert_printed(ohms, phantom_supply(name).feed)
    assert_printed(milliampere, phantom_supply(name).largest_current * 1e3)


@pytest.mark.parametrize(
    ("ohms", "kelvin", "printed"),
    [
        (150.0, 293.15, "−130.92"),
        (150.0, 300.0, "−130.82"),
        (200.0, 293.15, "−129.67"),
        (150.0, 293.15, "−130.9"),
    ],
)
def test_thermal_noise(ohms: float, kelvin: float, printed: str) -> None:
    """Johnson-Nyquist in 20 kHz: recomputed, the last one published."""
    assert_printed(printed, float(dbu(thermal_noise(ohms, kelvin, 20e3))))


def test_dbu() -> None:
    """Published: volts of 0 dBu and of +4 dBu."""
    assert_printed("0.7746", float(volts(0.0)))
    assert_printed("1.228", float(volts(4.0)))


@pytest.mark.parametrize(
    ("common", "printed"), [(10e3, "60.05"), (20e3, "66.05"), (1e6, "100.0"), (10e6, "120.0")]
)
def test_common_mode_rejection(common: float, printed: str) -> None:
    """Difference of two dividers, recomputed: 10 Ω more in one of two legs of 25 Ω."""
    values: dict[str, float | str] = {
        "source_impedance": 50.0, "load_impedance": 2 * common, "load_common": common, "length": 0.0,
        "contacts_near": 1, "contacts_far": 0, "receiver_rejection": 200.0,
    }  # fmt: skip
    use = make_use("balanced line", values=values)
    assert_printed(printed, float(response(use, [10.0], [50.0])["rejection"][0, 0]))


def test_roll_off() -> None:
    """Published example, 100 Ω into 500 ft of 32 pF/ft: half the power at 99.5 kHz."""
    feet = 0.3048
    per_metre = 32e-12 / feet
    cable = cable_of((plain_resistance(0), plain_resistance(0)), (0, 0), [[0, per_metre], [per_metre, 0]])
    circuit = Circuit(
        (VoltageSource("in", "a"), Resistor("a", "b", 100.0), Line(("b", "0"), ("c", "d"), cable, 500 * feet))
    )

    def above_half_power(kilohertz: float) -> float:
        (volts,) = transfers(circuit, [kilohertz * 1e3], {"in": 1.0}, [Volts("c", "d")])
        return float(abs(volts.ideal[0]) ** 2 - 0.5)

    assert_printed("99.5", brentq(above_half_power, 1, 190))


def test_microphone_cable() -> None:
    """Common practice: 100 pF/m core to core, 200 pF/m core to screen; three-pin contact about 3 mΩ."""
    defaults = {setting.key: setting for setting in settings_of("dynamic microphone")}
    assert_printed("100e-12", float(defaults["core_core"].default))
    assert_printed("200e-12", float(defaults["core_screen"].default))
    assert defaults["core_core"].source == "practice"
    assert make_use("dynamic microphone").settings["core_core"] == defaults["core_core"].default
