"""Instruments on their cables against published values."""

import numpy as np
import pytest
from tests.published.printed import assert_printed

from ohmsworth.consequence import make_use
from ohmsworth.consequence.uses.instrument_circuit import instrument_circuit, string_transfer

FREQUENCY = np.geomspace(500, 30e3, 20001)


def response(**values: float | str) -> np.ndarray:
    circuit = instrument_circuit(make_use("instrument", values=values))
    return 20 * np.log10(np.abs(string_transfer(circuit, FREQUENCY).ideal))


@pytest.mark.parametrize(("cable", "printed"), [(300e-12, "6e3"), (2.4e-9, "2.1e3")])
def test_a_cable_sets_the_resonance(cable: float, printed: str) -> None:
    """Instrument cable and sound, published: 2.4 H with 300 pF "around 6000 Hz", with 2.4 nF "a little above 2000".

    Coil and cable alone, as the article reckons: controls, losses and input out of the way.
    """
    found = response(
        pickup_capacitance=0.0,
        pickup_loss=1e9,
        volume_resistance=1e9,
        tone_capacitance=0.0,
        input_resistance=1e9,
        input_capacitance=0.0,
        length=1.0,
        capacitance=cable,
    )
    assert_printed(printed, float(FREQUENCY[found.argmax()]))


def test_defaults_lie_where_pickups_do() -> None:
    """Lemme, published: 1 to 10 H, 80 to 200 pF, cables of 300 to 1000 pF, resonances of 2 to 5 kHz, 0 to 12 dB high."""
    settings = make_use("instrument").settings
    assert 1 <= float(settings["pickup_inductance"]) <= 10
    assert 80e-12 <= float(settings["pickup_capacitance"]) <= 200e-12
    assert 300e-12 <= float(settings["length"]) * float(settings["capacitance"]) <= 1000e-12
    found = response()
    assert 2e3 < FREQUENCY[found.argmax()] < 5e3
    assert 0 < found.max() - found[0] < 12


def test_defaults_lie_where_players_do() -> None:
    """Haberman et al., published: to earth hundreds of pF to nF, to the power line hundredths of pF to few pF."""
    settings = make_use("instrument").settings
    assert 100e-12 <= float(settings["body_earth"]) <= 1e-9
    assert 0.01e-12 <= float(settings["body_mains"]) < 5e-12
