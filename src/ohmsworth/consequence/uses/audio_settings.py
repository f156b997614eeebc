"""Settings that several audio uses share."""

from __future__ import annotations

from ohmsworth.consequence.use import Setting, Use, number
from ohmsworth.consequence.uses.cables import core
from ohmsworth.errors import ArgumentFault

# One line a setting reads better than one line a value.
# fmt: off
CONTACTS_NEAR = Setting("contacts_near", "n1", "number", 1.0, "contacts in each conductor at the source end",
                        "practice", 0.0, 100.0)
CONTACTS_FAR = Setting("contacts_far", "n2", "number", 1.0, "contacts in each conductor at the input end",
                       "practice", 0.0, 100.0)
INPUT_RESISTANCE = Setting("input_resistance", "Ri", "resistance", 10e3, "resistance of the input", "practice", 1.0)
INPUT_CAPACITANCE = Setting("input_capacitance", "Ci", "capacitance", 100e-12, "capacitance of the input",
                            "practice", 0.0, 1e-6)
BANDWIDTH = Setting("bandwidth", "B", "frequency", 20e3, "bandwidth in which noise counts", "practice", 1.0, 200e3)
MAINS_FREQUENCY = Setting("mains_frequency", "fm", "frequency", 50.0, "frequency of the mains", "practice", 16.0, 400.0)
LIMIT_HUM = Setting("limit_hum", "Δhum", "level difference", 60.0,
                    "how far below the nominal level hum from outside must stay", "practice", 1.0, 200.0)
LIMIT_LEVEL = Setting("limit_level", "Δlevel", "level difference", 0.1, "loss of level that matters",
                      "practice", 1e-6, 100.0)
LIMIT_TREBLE = Setting("limit_treble", "Δtreble", "level difference", 0.1,
                       "loss at 20 kHz, beyond that at 1 kHz, that matters", "practice", 1e-6, 100.0)
LIMIT_NOISE = Setting("limit_noise", "Δnoise", "level difference", 0.5, "rise of noise that matters",
                      "practice", 1e-6, 100.0)
# fmt: on


def check_line(use: Use) -> None:
    """Refuse a line without contacts, or with a conductor that is none."""
    if number(use, "contacts_near") + number(use, "contacts_far") < 1:
        wanted = "at least one contact at either end"
        raise ArgumentFault("contacts_far", use.settings["contacts_far"], wanted)
    core(use)
