"""The settings of a loudspeaker on its amplifier."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.consequence.use import Setting
from ohmsworth.consequence.uses.cables import CONDUCTOR, LENGTH, TEMPERATURE, TWO_CORE_SETTINGS
from ohmsworth.consequence.uses.contact_heat import HEAT_SETTINGS, PLATING
from ohmsworth.consequence.uses.two_conductors import CONTACT_SETTINGS

#: What may be given of the amplifier, and what the load may be.
DAMPING_FACTOR, OUTPUT_IMPEDANCE = "damping factor", "output impedance"
LOUDSPEAKER_LOAD, RESISTANCE_LOAD = "loudspeaker", "resistance"

# fmt: off
_AMPLIFIER = (
    Setting("amplifier", "a", "text", DAMPING_FACTOR, "which of the two is known of the amplifier", "practice",
            choices=(DAMPING_FACTOR, OUTPUT_IMPEDANCE)),
    Setting("damping_factor", "Da", "number", 500.0, "damping factor of the amplifier, if that is known", "practice", 1.0, 1e6),
    Setting("damping_impedance", "Zd", "resistance", 8.0, "impedance for which the damping factor is stated",
            "practice", 0.1, 1e3),
    Setting("output_impedance", "Zo", "resistance", 0.016, "output impedance of the amplifier, if that is known",
            "practice", 1e-6, 1e3),
    Setting("power", "P", "power", 100.0, "power that the amplifier gives to the nominal impedance, without cable",
            "practice", 1e-3, 1e5),
)
_LOAD = (
    Setting("load", "Z", "text", LOUDSPEAKER_LOAD,
            "what hangs on the cable: a loudspeaker with its impedance curve, or a resistance of the nominal impedance",
            "practice", choices=(LOUDSPEAKER_LOAD, RESISTANCE_LOAD)),
    Setting("nominal_impedance", "Zn", "resistance", 8.0, "nominal impedance of the loudspeaker", "practice", 0.1, 1e3),
    Setting("coil_resistance", "Re", "resistance", 6.4, "resistance of the voice coil, direct current", "practice", 0.1, 1e3),
    Setting("coil_inductance", "Le", "inductance", 0.3e-3, "inductance of the voice coil", "practice", 0.0, 1.0),
    Setting("resonance_frequency", "fs", "frequency", 50.0, "frequency of the bass resonance", "practice", 5.0, 10e3),
    Setting("resonance_resistance", "Res", "resistance", 30.0,
            "what the impedance rises by at the bass resonance; 0 for none", "practice", 0.0, 1e4),
    Setting("resonance_width", "B", "frequency", 15.0,
            "width of the resonance: between the frequencies at which that rise is down to 0.71 of its height",
            "practice", 0.1, 10e3),
)
_CABLE = {
    LENGTH: replace(LENGTH, default=10.0),
    CONDUCTOR: replace(CONDUCTOR, default="2.5 mm²"),
}
_LIMITS = (
    Setting("limit_level", "Δlevel", "level difference", 0.1, "loss of level that matters", "practice", 1e-6, 100.0),
    Setting("limit_damping", "Dmin", "number", 20.0, "damping factor at the loudspeaker below which it matters",
            "practice", 1.0, 1e6),
    Setting("limit_ripple", "Δripple", "level difference", 0.1,
            "ripple of the response, from the contacts alone, that matters", "practice", 1e-6, 100.0),
    Setting("limit_ripple_whole", "Δwhole", "level difference", 0.5,
            "ripple of the response, from amplifier, cable and contacts, that matters", "practice", 1e-6, 100.0),
)
# fmt: on
LOUDSPEAKER_SETTINGS: tuple[Setting, ...] = (
    *_AMPLIFIER,
    *_LOAD,
    *CONTACT_SETTINGS,
    *(_CABLE.get(setting, setting) for setting in TWO_CORE_SETTINGS),
    replace(TEMPERATURE, words="temperature of cable and contacts"),
    *_LIMITS,
    *(replace(s, default="silver") if s is PLATING else s for s in HEAT_SETTINGS),
)
