"""The settings of a video line."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.consequence.use import Setting, Use, number
from ohmsworth.consequence.uses.cables import (
    CAPACITANCE,
    CONDUCTOR,
    INDUCTANCE,
    LENGTH,
    LOSS_TANGENT,
    SCREEN_DIAMETER,
    SCREEN_RESISTANCE,
    TEMPERATURE,
    coaxial,
)
from ohmsworth.consequence.uses.fast_line import check_line
from ohmsworth.consequence.uses.two_conductors import CONTACT_SETTINGS, check_run
from ohmsworth.errors import ArgumentFault

#: Hertz up to which the circuit is believed: half the clock of the fastest serial video on coaxial cable.
HIGHEST = 6e9

# One line a setting reads better than one line a value.
# fmt: off
_ENDS = (
    Setting("source_impedance", "Zs", "resistance", 75.0,
            "impedance of the source, against which return loss is told", "ST292", 1.0, 1e4),
    Setting("load_impedance", "Zl", "resistance", 75.0, "impedance of the input", "ST292", 1.0, 1e6),
    *CONTACT_SETTINGS,
)
_CABLE = (
    replace(LENGTH, default=30.0, highest=1e3),
    replace(CONDUCTOR, default="20 AWG", words="centre conductor"),
    replace(CAPACITANCE, default=54e-12, words="capacitance between centre and screen", lowest=1e-12),
    replace(INDUCTANCE, default=0.304e-6, lowest=1e-9,
            words="inductance of the space between centre and screen: their inside is added over frequency"),
    replace(SCREEN_RESISTANCE, default=9e-3),
    replace(SCREEN_DIAMETER, default=3.7e-3),
    replace(LOSS_TANGENT, default=1.5e-4),
    TEMPERATURE,
)
_SIGNAL = (
    Setting("clock", "fc", "frequency", 1.485e9,
            "clock of the serial signal: 270 MHz, 1.485 GHz or 2.97 GHz; loss and reach are told at half of it",
            "ST292", 1e6, HIGHEST),
    Setting("loss_budget", "A", "level difference", 20.0,
            "loss at half the clock that the input makes up for", "ST292", 0.1, 100.0),
    Setting("band_low", "f1", "frequency", 5e6, "lowest frequency at which return loss counts", "ST292", 1e5, HIGHEST),
    Setting("band_middle", "f2", "frequency", 1.485e9,
            "frequency up to which the first limit of return loss holds", "ST292", 1e5, HIGHEST),
    Setting("band_high", "f3", "frequency", 2.97e9,
            "frequency up to which the second limit of return loss holds", "ST424", 1e5, HIGHEST),
)
_HUM = (
    Setting("mains_frequency", "fm", "frequency", 50.0, "frequency of the mains", "practice", 16.0, 400.0),
    Setting("earth_volts", "Ue", "voltage", 5e-3,
            "hum between the earths at both ends with nothing between them, rms", "practice", 0.0, 10.0),
    Setting("earth_resistance", "Re", "resistance", 1.0,
            "resistance of the earth wiring between both ends, through which the hum drives the screen", "practice", 1e-3, 1e6),
)
_LIMITS = (
    Setting("limit_return_loss", "RL1", "level difference", 15.0, "return loss that is still enough, first limit",
            "ST292", 1.0, 60.0),
    Setting("limit_return_loss_high", "RL2", "level difference", 10.0, "return loss that is still enough, second limit",
            "ST424", 1.0, 60.0),
    Setting("limit_loss", "Δloss", "level difference", 0.5, "loss added at half the clock that matters", "practice", 1e-6, 100.0),
    Setting("limit_level", "Δlevel", "level difference", 0.1, "loss of analogue level that matters", "practice", 1e-6, 100.0),
    Setting("limit_reach", "Δl", "length", 1.0, "loss of reach that matters", "practice", 1e-3, 1e3),
    Setting("limit_hum_volts", "Uh", "voltage", 3.5e-3,
            "hum on an analogue picture, peak to peak, that shows: a half per cent of its 0.7 V", "practice", 1e-6, 1.0),
)
# fmt: on
VIDEO_SETTINGS: tuple[Setting, ...] = _ENDS + _CABLE + _SIGNAL + _HUM + _LIMITS


def check_video(use: Use) -> None:
    """Refuse settings that do not make a video line together."""
    check_run(use)
    if not number(use, "band_low") < number(use, "band_middle") < number(use, "band_high"):
        wanted = "a frequency between band_low and band_high"
        raise ArgumentFault("band_middle", use.settings["band_middle"], wanted)
    check_line(use, coaxial(use), HIGHEST)
