"""A balanced circuit against a nodal solution of the same circuit cut into small sections."""

import numpy as np
import pytest

from ohmsworth.consequence import make_use
from ohmsworth.consequence.circuit import respond
from ohmsworth.consequence.uses.balanced import balanced_circuit, hum_transfer, signal_transfer
from ohmsworth.consequence.uses.cables import core_resistance

# A thin core: no skin effect, which the sections leave out.
USE = make_use(
    "balanced line",
    values={
        "source_impedance": 150.0, "source_common": 30.0, "load_impedance": 1500.0, "load_common": 6800.0,
        "length": 50.0, "conductor": "0.002 mm²", "screen_resistance": 0.02, "inductance": 0.6e-6,
        "core_core": 100e-12, "core_screen": 200e-12, "contacts_near": 2, "contacts_far": 1,
    },
)  # fmt: skip
SET = {key: float(value) for key, value in USE.settings.items() if not isinstance(value, str)}
#: Of the space between the cores, and inside both of them.
INDUCTANCE = SET["inductance"] + 2 * 0.5e-7
CONTACTS = (5.0, 1.0, 3.0)  # ohm each in leg +, leg −, screen
SECTIONS = 100


class Nodes:
    """Admittances between nodes; node 0 is the screen at the load."""

    def __init__(self, count: int) -> None:
        self.y = np.zeros((count, count), dtype=complex)
        self.into = np.zeros(count, dtype=complex)

    def join(self, one: int, other: int, admittance: complex) -> None:
        for a, b in ((one, other), (other, one)):
            self.y[a, a] += admittance
            self.y[a, b] -= admittance

    def voltages(self) -> np.ndarray:
        return np.concatenate(([0], np.linalg.solve(self.y[1:, 1:], self.into[1:])))


def nodal_voltage_at_load(frequency: float, plus: float, minus: float) -> complex:
    """Differential voltage at the load, by admittances; legs driven by `plus` and `minus` volts."""

    # A place holds three nodes: leg +, leg −, screen. Place 0 is the load, 1 to SECTIONS + 1 the cable.
    def node(place: int, conductor: int) -> int:
        return {(0, 2): 0}.get((place, conductor), 1 + 3 * place + conductor)

    places = SECTIONS + 3
    middle = 1 + 3 * places
    net = Nodes(middle + 1)
    net.join(0, 3, 1.0)  # the unused number of the screen at the load
    step = SET["length"] / SECTIONS
    omega = 2j * np.pi * frequency
    leg = core_resistance(USE) * step + omega * INDUCTANCE / 2 * step
    for place in range(1, SECTIONS + 1):
        near, far = place + 1, place
        for conductor, impedance in ((0, leg), (1, leg), (2, SET["screen_resistance"] * step)):
            net.join(node(near, conductor), node(far, conductor), 1 / impedance)
        for end in (near, far):
            net.join(node(end, 0), node(end, 1), omega * SET["core_core"] * step / 2)
            for conductor in (0, 1):
                net.join(node(end, conductor), node(end, 2), omega * SET["core_screen"] * step / 2)
    source = places - 1
    for conductor, ohm in enumerate(CONTACTS):
        net.join(node(0, conductor), node(1, conductor), 1 / (SET["contacts_far"] * ohm))
        net.join(node(source, conductor), node(source - 1, conductor), 1 / (SET["contacts_near"] * ohm))
    for conductor in (0, 1):
        net.join(node(0, conductor), node(0, 2), 1 / SET["load_common"])
    net.join(node(0, 0), node(0, 1), 1 / SET["load_impedance"] - 1 / (2 * SET["load_common"]))
    # Each leg's source: volts behind half the source impedance, as a current into that admittance.
    half = 2 / SET["source_impedance"]
    for conductor, emf in ((0, plus), (1, minus)):
        net.join(node(source, conductor), middle, half)
        net.into[node(source, conductor)] += emf * half
        net.into[middle] -= emf * half
    net.join(middle, node(source, 2), 1 / SET["source_common"])
    found = net.voltages()
    return complex(found[node(0, 0)] - found[node(0, 1)])


@pytest.mark.parametrize("frequency", [50.0, 1e3, 10e3, 100e3])
def test_the_circuit_agrees_with_sections(frequency: float) -> None:
    circuit = balanced_circuit(USE)
    ohm = dict(zip(("plus", "minus", "screen"), CONTACTS, strict=True))
    draw = [
        [
            ohm[name.split()[0]] * count
            for name, count in zip(circuit.contacts(), circuit.counts(), strict=True)
        ]
    ]
    hertz = np.array([frequency])
    wanted = respond(signal_transfer(circuit, hertz), draw)[0, 0]
    hum = respond(hum_transfer(circuit, hertz), draw)[0, 0]
    assert complex(wanted) == pytest.approx(nodal_voltage_at_load(frequency, 0.5, -0.5), rel=1e-4)
    assert complex(hum) == pytest.approx(nodal_voltage_at_load(frequency, 1, 1), rel=1e-4)
