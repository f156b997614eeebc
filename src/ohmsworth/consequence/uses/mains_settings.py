"""The settings of a mains feed."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.consequence.use import Setting
from ohmsworth.consequence.uses.cables import CONDUCTOR, LENGTH, TEMPERATURE, TWO_CORE_SETTINGS
from ohmsworth.consequence.uses.contact_heat import LIMIT_HEAT, PLATING
from ohmsworth.consequence.uses.two_conductors import CONTACT_SETTINGS

# fmt: off
_FEED = (
    Setting("voltage", "U0", "voltage", 230.0, "voltage of the mains between line and neutral", "practice", 90.0, 260.0),
    Setting("mains_frequency", "fm", "frequency", 50.0, "frequency of the mains", "practice", 16.0, 400.0),
    Setting("current", "I", "current", 16.0, "full current of the feed, contacts ideal", "practice", 0.01, 125.0),
    Setting("external_impedance", "Ze", "resistance", 0.5,
            "impedance of the earth-fault loop up to where this feed begins, as measured or stated there", "practice", 1e-3, 1e3),
)
_CABLE = {
    LENGTH: replace(LENGTH, default=10.0),
    CONDUCTOR: replace(CONDUCTOR, default="2.5 mm²", words="line, neutral and protective conductor each: mm² or AWG"),
}
_LIMITS = (
    Setting("limit_drop", "Δu", "ratio", 0.03, "share of the voltage whose loss matters, cable included", "practice", 1e-6, 0.1),
    Setting("limit_loop", "ΔZs", "ratio", 0.2, "rise of the impedance of the earth-fault loop that matters", "practice",
            1e-6, 1.0),
    Setting("limit_touch", "Ut", "voltage", 50.0,
            "touch voltage during an earth fault that matters; nothing above 50 V is taken", "IEC60479-1", 1.0, 50.0),
    replace(LIMIT_HEAT, default=1.0, highest=5.0),
)
# fmt: on
MAINS_SETTINGS: tuple[Setting, ...] = (
    *_FEED,
    *CONTACT_SETTINGS,
    *(_CABLE.get(setting, setting) for setting in TWO_CORE_SETTINGS),
    replace(TEMPERATURE, words="temperature of cable and contacts"),
    *_LIMITS,
    replace(PLATING, default="nickel"),
)
