import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.materials import PLATINGS, metal, spot_temperature, spot_voltage, thermal_emf_allowance


def test_spot_temperature_and_voltage_are_inverse() -> None:
    voltage = np.array([0.0, 1e-3, 0.02, 0.3, 0.65])
    np.testing.assert_allclose(spot_voltage(spot_temperature(voltage, 293.15), 293.15), voltage, atol=1e-12)


def test_polarity_does_not_heat_differently() -> None:
    assert spot_temperature(-0.1, 293.15) == spot_temperature(0.1, 293.15)


def test_without_voltage_a_spot_is_at_ambient() -> None:
    assert spot_temperature(0.0, 300.0) == 300.0


def test_metals_by_name() -> None:
    assert metal(" Gold ").symbol == "Au"
    assert {"gold", "silver", "tin", "nickel", "copper"} <= set(PLATINGS)
    with pytest.raises(UnknownName, match="silver"):
        metal("silber")


def test_an_emf_has_no_sign() -> None:
    assert thermal_emf_allowance("brass", -2.0) == pytest.approx(6e-6)


def test_out_of_range_is_refused() -> None:
    for call in (
        lambda: spot_temperature(1.0, 293.15),
        lambda: spot_temperature(float("nan"), 293.15),
        lambda: spot_temperature(0.1, 20.0),
        lambda: spot_voltage(200.0, 293.15),
        lambda: thermal_emf_allowance("brass", float("nan")),
        lambda: thermal_emf_allowance("brass", 1e3),
    ):
        with pytest.raises(ArgumentFault):
            call()
    with pytest.raises(UnknownName):
        thermal_emf_allowance("wood", 1.0)
