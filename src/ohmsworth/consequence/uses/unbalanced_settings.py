"""The settings of an unbalanced line."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.consequence.use import Setting
from ohmsworth.consequence.uses.audio_settings import (
    BANDWIDTH,
    CONTACTS_FAR,
    CONTACTS_NEAR,
    INPUT_CAPACITANCE,
    INPUT_RESISTANCE,
    LIMIT_HUM,
    LIMIT_LEVEL,
    LIMIT_NOISE,
    LIMIT_TREBLE,
    MAINS_FREQUENCY,
)
from ohmsworth.consequence.uses.cables import COAX_SETTINGS, TEMPERATURE

# fmt: off
_CIRCUIT = (
    Setting("output_impedance", "Zo", "resistance", 1e3, "impedance of the output that feeds the line", "Whitlock",
            1e-3, 1e6),
    INPUT_RESISTANCE,
    INPUT_CAPACITANCE,
    CONTACTS_NEAR,
    CONTACTS_FAR,
    Setting("nominal_level", "U1", "voltage", 0.316, "level of the programme that hum is told against, rms", "practice",
            1e-6, 100.0),
)
_EARTH = (
    Setting("earth_difference", "Ue", "voltage", 1e-3,
            "voltage at the mains frequency between the two chassis before the cable joins them, rms: 1 mV stands for two pieces "
            "on one outlet strip, 0.1 to 1 V for outlets on different circuits", "practice", 0.0, 400.0),
    Setting("earth_buzz", "Ub", "voltage", 0.1e-3, "the same at 10 kHz, from dimmers and switching supplies", "practice",
            0.0, 100.0),
    Setting("earth_resistance", "Re", "resistance", 0.2,
            "resistance of the way from chassis to chassis by the earth conductors: 0.2 ohm stands for two mains leads and the "
            "contacts of their plugs", "practice", 1e-3),
    Setting("earth_inductance", "Le", "inductance", 5e-6, "inductance of that way, about 1 µH a metre", "practice", 0.0, 1.0),
    Setting("common_inductance", "Lc", "inductance per length", 1e-6,
            "inductance of core and screen together against the earth conductors, in which current returns: 1 µH/m where those "
            "run half a metre away", "practice", 0.0, 1e-3),
    Setting("own_hum", "U0", "level difference", 100.0,
            "how far below the nominal level the hum and buzz lie that are there with a perfect cable", "practice", 1.0, 200.0),
)
_SURROUNDINGS = (
    replace(TEMPERATURE, words="temperature of cable and source"),
    BANDWIDTH,
    # About −98 dBu: a quiet line output.
    Setting("source_noise", "Un", "voltage", 10e-6,
            "noise of the source in that bandwidth, rms, beyond the thermal noise of its impedance", "practice", 0.0, 10.0),
    MAINS_FREQUENCY,
)
_LIMITS = (
    LIMIT_HUM,
    Setting("limit_hum_rise", "Δrise", "level difference", 3.0, "rise of hum that matters", "practice", 1e-3, 100.0),
    Setting("limit_buzz", "Δbuzz", "level difference", 80.0, "how far below the nominal level buzz at 10 kHz must stay",
            "practice", 1.0, 200.0),
    LIMIT_LEVEL,
    LIMIT_TREBLE,
    LIMIT_NOISE,
)
# fmt: on

_COAX = tuple(
    replace(setting, default=2.0) if setting.key == "length" else setting for setting in COAX_SETTINGS
)
UNBALANCED_SETTINGS: tuple[Setting, ...] = _CIRCUIT + _EARTH + _COAX + _SURROUNDINGS + _LIMITS
