"""The settings of an instrument with a passive pickup on its cable."""

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
    MAINS_FREQUENCY,
)
from ohmsworth.consequence.uses.cables import COAX_SETTINGS, TEMPERATURE

# fmt: off
_PICKUP = (
    Setting("pickup_resistance", "Rp", "resistance", 6e3, "resistance of the pickup's winding", "practice", 1.0, 1e6),
    Setting("pickup_inductance", "Lp", "inductance", 2.4, "inductance of the pickup", "pickup-cable", 1e-3, 100.0),
    Setting("pickup_capacitance", "Cp", "capacitance", 120e-12, "capacitance of the pickup's winding", "Lemme", 0.0, 1e-6),
    Setting("pickup_loss", "Rl", "resistance", 1e6, "resistance across the pickup that stands for eddy currents in its metal",
            "practice", 1e3),
)
_CONTROLS = (
    Setting("volume_resistance", "Rv", "resistance", 250e3, "resistance of the volume control", "practice", 1e3),
    Setting("volume", "v", "ratio", 1.0, "part of the volume control's resistance below its wiper: 1 when it is turned up",
            "practice", 0.01, 1.0),
    Setting("tone_resistance", "Rt", "resistance", 250e3, "resistance of the tone control", "practice", 1e3),
    Setting("tone", "t", "ratio", 1.0, "part of the tone control's resistance in use: 1 when it is turned up",
            "practice", 0.0, 1.0),
    Setting("tone_capacitance", "Ct", "capacitance", 22e-9, "capacitor of the tone control, 0 for none", "practice", 0.0, 1e-6),
)
_INPUT = (
    replace(INPUT_RESISTANCE, default=1e6),
    INPUT_CAPACITANCE,
    replace(CONTACTS_NEAR, words="contacts in each conductor at the instrument"),
    replace(CONTACTS_FAR, words="contacts in each conductor at the amplifier"),
    Setting("playing_level", "U1", "voltage", 0.1, "level of the playing that hum is told against, rms", "practice", 1e-6, 100.0),
)
_BODY = (
    Setting("mains_voltage", "Um", "voltage", 230.0, "voltage of the mains", "practice", 0.0, 400.0),
    Setting("body_mains", "Cm", "capacitance", 3e-12, "capacitance from the mains wiring to player and instrument",
            "Haberman2011", 0.0, 1e-6),
    Setting("body_earth", "Cb", "capacitance", 300e-12, "capacitance from player and instrument to earth", "Haberman2011",
            0.0, 1e-6),
    Setting("own_hum", "U0", "level difference", 100.0,
            "how far below that level the hum lies that is there with a perfect cable", "practice", 1.0, 200.0),
)
_SURROUNDINGS = (
    replace(TEMPERATURE, words="temperature of instrument and cable"),
    BANDWIDTH,
    # A quiet valve or field-effect input.
    Setting("input_noise", "Ui", "voltage", 2e-6, "noise of the input in that bandwidth, rms", "practice", 0.0, 10.0),
    MAINS_FREQUENCY,
)
_LIMITS = (
    replace(LIMIT_LEVEL, default=0.5),
    Setting("limit_brightness", "Δbright", "level difference", 1.0, "loss at 5 kHz, beyond that at 1 kHz, that matters",
            "practice", 1e-6, 100.0),
    Setting("limit_peak", "Δpeak", "level difference", 1.0, "loss of height of the resonance that matters",
            "practice", 1e-6, 100.0),
    Setting("limit_shift", "Δf", "ratio", 0.05, "how far the resonance may move, as part of its frequency",
            "practice", 1e-4, 1.0),
    LIMIT_HUM,
    LIMIT_NOISE,
)
# fmt: on

_COAX = tuple(
    replace(setting, default=6.0) if setting.key == "length" else setting for setting in COAX_SETTINGS
)
INSTRUMENT_SETTINGS: tuple[Setting, ...] = (
    *_PICKUP,
    *_CONTROLS,
    *_INPUT,
    *_COAX,
    *_BODY,
    *_SURROUNDINGS,
    *_LIMITS,
)
