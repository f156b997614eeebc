"""A loudspeaker on its amplifier."""

from __future__ import annotations

from ohmsworth.consequence.rule import Kind
from ohmsworth.consequence.uses.loudspeaker_circuit import AMPLIFIER
from ohmsworth.consequence.uses.loudspeaker_curves import loudspeaker_curves
from ohmsworth.consequence.uses.loudspeaker_rules import loudspeaker_rules
from ohmsworth.consequence.uses.loudspeaker_settings import LOUDSPEAKER_SETTINGS
from ohmsworth.consequence.uses.two_conductors import check_run

CAUTIONS = (
    (
        "Switch the amplifier off, let it run down and disconnect the line from it before you touch or measure a contact: "
        "at high power a loudspeaker line carries dangerous voltages and currents."
    ),
    "Measure a line that is disconnected at both ends; what the makers of amplifier and loudspeaker say prevails.",
    "A connector that has run hot can burn: let it cool, and look for the cause before the line carries power again.",
)

LOUDSPEAKER = Kind(
    "loudspeaker",
    LOUDSPEAKER_SETTINGS,
    check_run,
    loudspeaker_rules,
    loudspeaker_curves,
    CAUTIONS,
    cable="two-core",
    signal=AMPLIFIER,
)
