"""A loudspeaker line against published examples, through the circuit of the use."""

import numpy as np
import pytest
from tests.published.printed import assert_printed

from ohmsworth.consequence import effects, make_use
from ohmsworth.consequence.circuit import Amperes, respond, transfers
from ohmsworth.consequence.uses.loudspeaker_circuit import load_transfer, nominal_circuit

FOOT = 0.3048
#: As from an amplifier without output impedance: 24.5 V, 8 Ω.
VALUES: dict[str, float | str] = {
    "amplifier": "output impedance",
    "output_impedance": 1e-6,
    "power": 24.5**2 / 8,
    "nominal_impedance": 8.0,
}


@pytest.mark.parametrize(("conductor", "printed"), [("16 AWG", "38.3"), ("12 AWG", "86.7")])
def test_damping_factor_at_the_loudspeaker(conductor: str, printed: str) -> None:
    """Published example: amplifier with damping factor 500, 4 Ω, a run of 12 ft."""
    use = make_use(
        "loudspeaker",
        values={
            "damping_factor": 500.0,
            "damping_impedance": 4.0,
            "nominal_impedance": 4.0,
            "length": 12 * FOOT,
            "conductor": conductor,
        },
    )
    damping = next(e for e in effects(use, 0.0) if e.key == "damping")
    assert_printed(printed, float(damping.value))


def test_power_lost_in_the_resistance_of_a_line() -> None:
    """Published example: 24.5 V, 8 Ω, 0.3264 Ω of line: 72.1 W becomes 69.3 W, −0.347 dB. Here four contacts have it."""
    use = make_use("loudspeaker", values={**VALUES, "length": 0.0})
    found = {e.key: float(e.value) for e in reversed(effects(use, 0.3264 / 4))}
    assert_printed("−0.347", found["level"])
    assert_printed("69.3", found["load_power"])
    current = transfers(nominal_circuit(use), [1e3], {"amplifier": 24.5}, [Amperes("amplifier")])[0]
    # What the amplifier gives: its volts times the current that the resistance leaves.
    assert_printed("72.1", 24.5 * abs(respond(current, [[0.3264 / 4] * 4])[0, 0]))


def test_power_lost_in_the_cable() -> None:
    """The same example with the 0.3264 Ω in 160 ft of two cores of that resistance, at a frequency without inductance."""
    area = 160 * FOOT * 2 / 58e6 / 0.3264
    use = make_use(
        "loudspeaker",
        values={**VALUES, "length": 160 * FOOT, "conductor": f"{area * 1e6:.9f} mm²"},
    )
    circuit = nominal_circuit(use)
    level = 20 * np.log10(abs(load_transfer(circuit, np.array([1.0])).ideal[0]))
    assert_printed("−0.347", level)
    current = transfers(circuit, [1.0], {"amplifier": 24.5}, [Amperes("amplifier")])[0].ideal[0]
    assert_printed("72.1", 24.5 * abs(current))
    assert_printed("69.3", (24.5 * 10 ** (level / 20)) ** 2 / 8)
