"""The cables of video, digital audio and lighting control as two-ports by themselves, against their uses' curves."""

import numpy as np
import pytest

from ohmsworth.consequence import insertion_loss, make_use, passive, reciprocal, response, return_loss
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.ports import path_two_port
from ohmsworth.consequence.uses.lighting_settings import driver_emf

FREQUENCY = np.array([1e5, 1e6, 5e6, 20e6])


@pytest.mark.parametrize("kind", ["video", "digital audio", "lighting control"])
@pytest.mark.parametrize("ohm", [0.0, 0.3])
def test_the_path_is_what_a_cable_can_be(kind: str, ohm: float) -> None:
    use = make_use(kind)
    found, circuit = kind_of(kind), kind_of(kind).curves(use)[0].circuit
    assert found.path is not None
    two_port = path_two_port(circuit, found.path, ohm * circuit.counts(), FREQUENCY)
    assert passive(two_port)
    assert reciprocal(two_port)


@pytest.mark.parametrize(("kind", "ends"), [("video", 75.0), ("digital audio", 110.0)])
def test_the_path_between_its_ends_is_the_use(kind: str, ends: float) -> None:
    values: dict[str, float | str] = {"transformer": "none"} if kind == "digital audio" else {}
    use = make_use(kind, values=values)
    path, circuit = kind_of(kind).path, kind_of(kind).curves(use)[0].circuit
    assert path is not None
    for ohm in (0.0, 2.0):
        two_port = path_two_port(circuit, path, ohm * circuit.counts(), FREQUENCY)
        curves = response(use, [ohm], FREQUENCY)
        np.testing.assert_allclose(return_loss(two_port, ends, ends), curves["return_loss"][0], rtol=1e-6)
        if kind == "video":
            np.testing.assert_allclose(
                insertion_loss(two_port, ends, ends), curves["insertion_loss"][0], rtol=1e-9
            )
        else:
            np.testing.assert_allclose(
                20 - insertion_loss(two_port, ends, ends), curves["margin"][0], rtol=1e-9
            )


def test_all_cable_of_a_lighting_line() -> None:
    """Between its driver and a load of the terminator alone it gives the level of a line without receivers, all but."""
    values: dict[str, float | str] = {"receivers": 1, "unit_load": "1/8", "receiver_capacitance": 0.0}
    use = make_use("lighting control", values=values)
    path, circuit = kind_of("lighting control").path, kind_of("lighting control").curves(use)[0].circuit
    assert path is not None
    # The terminator's own contacts are beyond the path.
    ohm = np.where([name == "terminator" for name in circuit.contacts()], 0.0, 0.5 * circuit.counts())
    two_port = path_two_port(circuit, path, ohm, FREQUENCY)
    through = 120 / (40 + 120) * 10 ** (-insertion_loss(two_port, 40.0, 120.0) / 20)
    found = response(use, [0.5], FREQUENCY)["level"][0]
    np.testing.assert_allclose(found, driver_emf(use) * through, rtol=2e-3)
