"""Digital audio against what its standard says."""

import math

import numpy as np
from tests.published.printed import assert_printed

from ohmsworth.consequence import make_use, settings_of
from ohmsworth.consequence.circuit import wave_constants
from ohmsworth.consequence.uses.cables import pair_alone
from ohmsworth.consequence.uses.digital_audio_settings import shortest_pulse


def test_volts_and_ohms() -> None:
    """AES3, published: 110 Ω within 20 % (88 to 132 Ω), 2 to 7 V peak to peak; the least of them is the default."""
    defaults = {s.key: s for s in settings_of("digital audio")}
    for key in ("source_impedance", "load_impedance", "rated_impedance"):
        assert_printed("110", float(defaults[key].default))
        assert defaults[key].source == "AES3"
    assert_printed("2", float(defaults["source_volts"].default))
    assert_printed("88", 0.8 * 110)
    assert_printed("132", 1.2 * 110)


def test_the_limit_of_return_loss_is_that_of_88_ohm() -> None:
    default = next(s for s in settings_of("digital audio") if s.key == "limit_return_loss").default
    assert_printed("19", -20 * math.log10((110 - 88) / (110 + 88)))
    assert float(default) == 19.0


def test_the_default_cable_is_one_of_110_ohm() -> None:
    """Within 5 % from 1 to 6 MHz, and within 20 % wherever inductance leads, from 0.3 MHz."""
    cable = pair_alone(make_use("digital audio"))
    _, z0 = wave_constants(cable, np.array([1e6, 3.072e6, 6.144e6]))
    assert np.all(np.abs(np.abs(z0) / 110 - 1) < 0.05)
    _, z0 = wave_constants(cable, 0.3e6)
    assert 88 < abs(z0[0]) < 132


def test_the_unit_interval() -> None:
    """IEC 60958-4-4, published: 128 unit intervals in a frame. At 48 kHz that is 162.8 ns, 6.144 MHz."""
    pulse = shortest_pulse(make_use("digital audio"))
    assert_printed("162.8", pulse * 1e9)
    assert_printed("6.144", 1e-6 / pulse)


def test_what_is_from_memory_says_so() -> None:
    """200 mV, 0.25 unit intervals and 30 ns are recalled, not read."""
    defaults = {s.key: s for s in settings_of("digital audio")}
    for key, value in (("receiver_minimum", 0.2), ("limit_jitter", 0.25), ("rise_time", 30e-9)):
        assert defaults[key].source == "AES3-receiver"
        assert defaults[key].default == value
