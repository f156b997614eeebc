"""Lighting control against what is published of RS-485 and DMX512."""

import numpy as np
from tests.published.printed import assert_printed

from ohmsworth.consequence import make_use, settings_of
from ohmsworth.consequence.circuit import Circuit, Resistor, VoltageSource, Volts, transfers, wave_constants
from ohmsworth.consequence.uses.cables import pair_alone
from ohmsworth.consequence.uses.lighting_circuit import lighting_circuit
from ohmsworth.consequence.uses.lighting_settings import MOST_UNIT_LOADS, driver_emf


def test_32_loads_and_two_terminators() -> None:
    """EURASIP J. Emb. Syst. 2016, Table 1: 32 loads of 12 kΩ and two of 120 Ω are 51.7 Ω. By the circuit, at 0 Hz, no cable."""
    use = make_use("lighting control", values={"receivers": 32, "terminated": "both ends", "length": 0.0})
    seen = transfers(lighting_circuit(use), 0.0, {"driver": 1.0}, [Volts("desk")])[0].ideal[0].real
    assert_printed("51.7", 40.0 * seen / (1 - seen))


def test_volts_into_54_ohm() -> None:
    """The same table: at least 1.5 V into 54 Ω, with the EMF and output resistance that stand for the driver."""
    use = make_use("lighting control")
    circuit = Circuit((VoltageSource("driver", "emf"), Resistor("emf", "a", 40.0), Resistor("a", "0", 54.0)))
    seen = transfers(circuit, 0.0, {"driver": driver_emf(use)}, [Volts("a")])[0].ideal[0].real
    assert_printed("1.5", seen)
    assert abs(seen - 1.5) < 1e-12


def test_limits_of_rs485() -> None:
    """The same table: threshold ±200 mV, −7 to +12 V, loads of 12 kΩ at least, 32 of them."""
    defaults = {s.key: s for s in settings_of("lighting control")}
    for key, printed in (
        ("driver_volts", "1.5"),
        ("driver_load", "54"),
        ("receiver_threshold", "0.200"),
        ("common_low", "−7"),
        ("common_high", "12"),
        ("unit_resistance", "12e3"),
    ):
        assert_printed(printed, float(defaults[key].default))
        assert defaults[key].source == "RS485"
    assert_printed("32", MOST_UNIT_LOADS)


def test_dmx512() -> None:
    """ANSI E1.11: 250 kbit/s, 120 Ω, terminated at the far end. The default cable is of 120 Ω within 5 % from 0.5 MHz."""
    defaults = {s.key: s for s in settings_of("lighting control")}
    assert_printed("250e3", 1 / float(defaults["bit_time"].default))
    assert_printed("120", float(defaults["termination"].default))
    assert defaults["terminated"].default == "far end"
    _, z0 = wave_constants(pair_alone(make_use("lighting control")), np.array([0.5e6, 1e6, 5e6]))
    assert np.all(np.abs(np.abs(z0) / 120 - 1) < 0.05)
