"""Circuits against scikit-rf, a general library for networks of two ports."""

import numpy as np
import pytest
import skrf
from skrf.media import DefinedGammaZ0, DistributedCircuit

from ohmsworth.consequence.circuit import (
    Circuit,
    Contact,
    Line,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    cable_of,
    respond,
    transfers,
)
from ohmsworth.materials import screen_impedance, wire_impedance

FREQUENCIES = np.logspace(4, 9.4, 60)
INDUCTANCE, CAPACITANCE, LOSS = 3.8e-7, 67e-12, 4e-4
DRAWS = 10 ** np.random.default_rng(4).uniform(-4, 2, (20, 4))


def core(frequency: np.ndarray) -> np.ndarray:
    return wire_impedance(0.065, frequency)


def screen(frequency: np.ndarray) -> np.ndarray:
    return screen_impedance(0.01, 1.85e-3, frequency)


CABLE = cable_of((core, screen), (INDUCTANCE, 0), [[0, CAPACITANCE], [CAPACITANCE, 0]], LOSS)


def joined(first: float, second: float) -> list[Transfer]:
    """Source of 75 Ω, two cables with a joint of core and screen before each, load of 75 Ω: S21 and S11 by waves."""
    circuit = Circuit(
        (
            VoltageSource("in", "e"),
            VoltageSource("half", "h"),
            Resistor("e", "a", 75.0),
            Contact("core 1", "a", "b"),
            Contact("screen 1", "0", "s1"),
            Line(("b", "s1"), ("c", "s2"), CABLE, first),
            Contact("core 2", "c", "d"),
            Contact("screen 2", "s2", "s3"),
            Line(("d", "s3"), ("f", "s4"), CABLE, second),
            Resistor("f", "s4", 75.0),
        )
    )
    return list(
        transfers(circuit, FREQUENCIES, {"in": 2.0, "half": 1.0}, [Volts("f", "s4"), Volts("a", "h")])
    )


@pytest.mark.parametrize("lengths", [(0.7, 12.0), (30.0, 0.1)])
def test_two_joints_and_two_cables(lengths: tuple[float, float]) -> None:
    """S11 and S21 of joints and lossy cables, by a cascade of networks there and by one solution here."""
    through, reflected = joined(*lengths)
    band = skrf.Frequency.from_f(FREQUENCIES, unit="hz")
    z = core(FREQUENCIES) + screen(FREQUENCIES)
    omega = 2 * np.pi * FREQUENCIES
    media = DistributedCircuit(
        band, R=z.real, L=INDUCTANCE + z.imag / omega, C=CAPACITANCE, G=omega * CAPACITANCE * LOSS, z0_port=75
    )
    plain = DefinedGammaZ0(band, z0=75.0)
    lines = [media.line(length, "m") for length in lengths]
    s21, s11 = respond(through, DRAWS), respond(reflected, DRAWS)
    for k, draw in enumerate(DRAWS):
        # A joint of core and screen in series is one resistance to the wave between them.
        network = (
            plain.resistor(draw[0] + draw[1]) ** lines[0] ** plain.resistor(draw[2] + draw[3]) ** lines[1]
        )
        np.testing.assert_allclose(s21[k], network.s[:, 1, 0], rtol=1e-9)
        np.testing.assert_allclose(s11[k], network.s[:, 0, 0], rtol=1e-9, atol=1e-12)
