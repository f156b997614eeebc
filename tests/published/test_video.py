"""Coaxial cable against published attenuation, and the limits of serial digital video."""

import numpy as np
import pytest
from tests.published.printed import assert_printed, printed_value

from ohmsworth.consequence import make_use, response, settings_of

#: 100 ft in metres, to feet of a loss per metre.
HUNDRED_FEET = 30.48
#: The library's cable of that type: measures and solid polyethylene, nothing fitted to its attenuation.
TYPE_59: dict[str, float | str] = {"cable": "video coax 75 Ω, 59 type", "length": HUNDRED_FEET}


def loss(megahertz: float) -> float:
    """Decibel of 100 ft between ends of 75 Ω."""
    found = response(make_use("video", values=TYPE_59), [0.0], [megahertz * 1e6])
    return float(found["insertion_loss"][0, 0])


@pytest.mark.parametrize(("megahertz", "printed"), [(30.0, "1.79"), (150.0, "4.11")])
def test_attenuation_of_59_type_cable(megahertz: float, printed: str) -> None:
    """ARRL, chapter 6 correction, published: 1.79 dB at 30 MHz and 4.11 dB at 150 MHz in 100 ft of a 59-type cable.

    Within 7 %: the screen is reckoned as a smooth tube, and a braid loses more.
    """
    number, _ = printed_value(printed)
    assert 0.93 * number < loss(megahertz) < number


def test_how_attenuation_grows() -> None:
    """The same source: from 30 to 150 MHz a little more than √5, which alone gives 4.00 dB. What a braid adds cancels."""
    low, _ = printed_value("1.79")
    assert_printed("4.00", low * np.sqrt(5))
    assert loss(150.0) / loss(30.0) == pytest.approx(4.11 / 1.79, rel=0.01)
    assert loss(150.0) / loss(30.0) > 1.01 * np.sqrt(5)


def test_limits_of_serial_digital_video() -> None:
    """SMPTE ST 259 and 292, published: 75 Ω, 15 dB from 5 MHz to 1.485 GHz, 20 dB at half the clock.

    ST 424, from memory: 10 dB to 2.97 GHz.
    """
    defaults = {s.key: s for s in settings_of("video")}
    for key, printed, scale, source in (
        ("source_impedance", "75", 1.0, "ST292"),
        ("load_impedance", "75", 1.0, "ST292"),
        ("limit_return_loss", "15", 1.0, "ST292"),
        ("band_low", "5", 1e6, "ST292"),
        ("band_middle", "1.485", 1e9, "ST292"),
        ("loss_budget", "20", 1.0, "ST292"),
        ("limit_return_loss_high", "10", 1.0, "ST424"),
        ("band_high", "2.97", 1e9, "ST424"),
    ):
        assert_printed(printed, float(defaults[key].default) / scale)
        assert defaults[key].source == source
