"""The settings of a low-voltage feed."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.consequence.use import Setting
from ohmsworth.consequence.uses.cables import CONDUCTOR, LENGTH, TEMPERATURE, TWO_CORE_SETTINGS
from ohmsworth.consequence.uses.contact_heat import HEAT_SETTINGS
from ohmsworth.consequence.uses.two_conductors import CONTACT_SETTINGS

#: What the load may do when its volts fall.
CONSTANT_CURRENT, CONSTANT_POWER = "constant current", "constant power"

# fmt: off
_FEED = (
    Setting("voltage", "U0", "voltage", 12.0, "voltage of the supply, direct current", "practice", 1.0, 120.0),
    Setting("supply_resistance", "Ri", "resistance", 0.0, "resistance inside the supply or battery", "practice", 0.0, 1e3),
    Setting("load", "S", "text", CONSTANT_CURRENT,
            "what the load does when its volts fall: draw the same current, as lamps on a linear regulator and most pedals do, "
            "or the same power at more current, as whatever has a switching converter does", "practice",
            choices=(CONSTANT_CURRENT, CONSTANT_POWER)),
    Setting("current", "I", "current", 2.0, "current that the load draws, if that is constant", "practice", 1e-6, 1e3),
    Setting("power", "P", "power", 24.0, "power that the load takes, if that is constant", "practice", 1e-6, 1e5),
    Setting("needed_volts", "Umin", "voltage", 10.8, "volts that the load needs", "practice", 0.1, 120.0),
)
_CABLE = {
    LENGTH: replace(LENGTH, default=10.0),
    CONDUCTOR: replace(CONDUCTOR, default="1.5 mm²"),
}
_LIMITS = (
    Setting("limit_drop", "Δu", "ratio", 0.05, "share of the voltage whose loss matters, cable included", "practice", 1e-6, 1.0),
)
# fmt: on
LOW_VOLTAGE_SETTINGS: tuple[Setting, ...] = (
    *_FEED,
    *CONTACT_SETTINGS,
    *(_CABLE.get(setting, setting) for setting in TWO_CORE_SETTINGS),
    replace(TEMPERATURE, words="temperature of cable and contacts"),
    *_LIMITS,
    *HEAT_SETTINGS,
)
