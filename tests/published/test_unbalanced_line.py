"""Unbalanced lines against published values."""

import pytest
from scipy.optimize import brentq
from tests.published.printed import assert_printed

from ohmsworth.consequence import make_use
from ohmsworth.consequence.uses.unbalanced_line import signal_transfer, unbalanced_circuit

FOOT = 0.3048


@pytest.mark.parametrize(
    ("ohm", "feet", "picofarad", "printed"),
    [
        # Published example, recomputed: 100 Ω, 500 ft of 32 pF/ft roll off at 99.5 kHz.
        (100.0, 500, 32, "99.5"),
        # Whitlock: 200 ft of 17 pF/ft pass 50 kHz (one figure) from a consumer output of 1 kΩ.
        (1e3, 200, 17, "5e1"),
    ],
)
def test_roll_off(ohm: float, feet: float, picofarad: float, printed: str) -> None:
    """Where half the power is left; all the capacitance within 0.1 m, as the examples leave out the wire."""
    values = {
        "output_impedance": ohm,
        "input_resistance": 1e9,
        "input_capacitance": 0.0,
        "length": 0.1,
        "capacitance": feet * picofarad * 1e-12 / 0.1,
        "inductance": 0.0,
        "screen_resistance": 0.0,
    }
    circuit = unbalanced_circuit(make_use("unbalanced line", values=values))

    def above_half_power(kilohertz: float) -> float:
        return abs(complex(signal_transfer(circuit, [kilohertz * 1e3]).ideal[0])) ** 2 - 0.5

    assert_printed(printed, brentq(above_half_power, 1, 190))


def test_a_consumer_output() -> None:
    """Whitlock, published: 1 kΩ."""
    assert_printed("1e3", float(make_use("unbalanced line").settings["output_impedance"]))
