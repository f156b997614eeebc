"""The settings of a headphone on its amplifier."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.consequence.use import Setting
from ohmsworth.consequence.uses.audio_settings import CONTACTS_FAR, CONTACTS_NEAR, LIMIT_LEVEL
from ohmsworth.consequence.uses.cables import CONDUCTOR, LENGTH, TEMPERATURE, TWO_CORE_SETTINGS

# fmt: off
_AMPLIFIER = (
    Setting("output_impedance", "Zo", "resistance", 1.0, "output impedance of each channel of the amplifier",
            "practice", 1e-3, 1e3),
    Setting("own_crosstalk", "X0", "level difference", 80.0,
            "how far below a channel the other one lies that is there with a perfect cable", "practice", 1.0, 200.0),
)
_EAR = (
    Setting("ear_impedance", "Z", "resistance", 32.0, "impedance of each ear away from its resonance", "practice", 1.0, 1e4),
    Setting("resonance_frequency", "fs", "frequency", 90.0, "frequency of the bass resonance", "practice", 5.0, 10e3),
    Setting("resonance_resistance", "Res", "resistance", 16.0, "what the impedance rises by at the bass resonance; 0 for none",
            "practice", 0.0, 1e4),
    Setting("resonance_width", "B", "frequency", 90.0,
            "width of the resonance: between the frequencies at which that rise is down to 0.71 of its height",
            "practice", 0.1, 10e3),
)
_CABLE = (
    Setting("shared_length", "ls", "length", 0.0,
            "length of the lead whose one return conductor serves both ears; 0 when each has its own up to the plug",
            "practice", 0.0, 100.0),
    *(
        {
            LENGTH: replace(LENGTH, default=2.0, words="length of the lead with a return conductor for each ear", highest=100.0),
            CONDUCTOR: replace(CONDUCTOR, default="26 AWG"),
        }.get(setting, setting)
        for setting in TWO_CORE_SETTINGS
    ),
    replace(CONTACTS_NEAR, words="contacts in each conductor at the amplifier, adapters among them"),
    replace(CONTACTS_FAR, default=0.0, words="contacts in each conductor behind the shared lead, as of an extension"),
    replace(TEMPERATURE, words="temperature of the cable"),
)
_LIMITS = (
    Setting("limit_crosstalk", "Δx", "level difference", 60.0, "how far below a channel crosstalk into the other must stay",
            "practice", 1.0, 200.0),
    Setting("limit_image", "Δimage", "level difference", 40.0, "crosstalk, below a channel, from which the sides move inwards",
            "practice", 1.0, 200.0),
    replace(LIMIT_LEVEL, default=0.5),
    Setting("limit_balance", "Δbalance", "level difference", 0.5, "difference between the ears that matters", "BreebaartFaller",
            1e-6, 100.0),
    Setting("limit_bass", "Δbass", "level difference", 0.5, "rise at the bass resonance, beyond that at 1 kHz, that matters",
            "practice", 1e-6, 100.0),
    Setting("limit_damping", "Dmin", "number", 8.0, "damping factor at the ear below which it matters", "practice", 1.0, 1e6),
)
# fmt: on

HEADPHONE_SETTINGS: tuple[Setting, ...] = _AMPLIFIER + _EAR + _CABLE + _LIMITS
