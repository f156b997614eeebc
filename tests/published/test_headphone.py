"""Headphones against published values."""

import pytest
from tests.published.printed import assert_printed

from ohmsworth.consequence import effects, make_use


def value(key: str, ohm: float, **values: float | str) -> float:
    flat = {"output_impedance": 1e-3, "length": 0.0, "own_crosstalk": 200.0, **values}
    return next(float(e.value) for e in effects(make_use("headphone", values=flat), ohm) if e.key == key)


@pytest.mark.parametrize(("ohm", "printed"), [(83.4e-3, "−55.0"), (2.6e-3, "−85.1")])
def test_crosstalk_through_a_shared_return(ohm: float, printed: str) -> None:
    """Published measurement, recomputed: 83.4 mΩ and 2.6 mΩ shared by two loads of 47 Ω."""
    found = value("crosstalk", ohm, ear_impedance=47.0, resonance_resistance=0.0)
    assert_printed(printed, found)


def test_bass_of_a_resonance_behind_a_resistance() -> None:
    """Published worked example: 300 Ω with a peak of 600 Ω on 30 Ω change the response by 0.4 dB."""
    found = value("bass", 30.0, ear_impedance=300.0, resonance_resistance=300.0, resonance_width=1.0)
    assert_printed("0.4", found)


def test_the_difference_between_the_ears_that_is_noticed() -> None:
    """Breebaart and Faller, published: 0.5 to 1 dB."""
    assert_printed("0.5", float(make_use("headphone").settings["limit_balance"]))
