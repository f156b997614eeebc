"""A microphone on a balanced cable: dynamic, or fed by phantom power."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.rule import Compute, Kind, Position, Rule
from ohmsworth.consequence.use import Array, Setting, Use, number, text
from ohmsworth.consequence.uses.balanced import BALANCED_PATH, LEGS_AND_SCREEN, ONLY_SCREEN
from ohmsworth.consequence.uses.balanced_rules import balanced_curves, balanced_rules
from ohmsworth.consequence.uses.balanced_settings import check_balanced, with_defaults
from ohmsworth.consequence.uses.cables import core_resistance, screen_resistance
from ohmsworth.consequence.uses.phantom import PHANTOM_SUPPLIES, phantom_supply, phantom_volts
from ohmsworth.errors import ArgumentFault

# An input that can feed phantom power keeps the feed resistors on its legs whether or not it does.
_FEED_ON_LEGS = {"load_common": "IEC61938"}

DYNAMIC_SETTINGS: tuple[Setting, ...] = with_defaults({}, _FEED_ON_LEGS)

PHANTOM_SETTINGS: tuple[Setting, ...] = (
    *with_defaults({"source_noise": 2e-6}, _FEED_ON_LEGS),
    Setting(
        "phantom",
        "P",
        "text",
        "P48",
        "phantom power standard of the input",
        "IEC61938",
        choices=tuple(PHANTOM_SUPPLIES),
    ),
    Setting(
        "supply",
        "U0",
        "text",
        "lowest",
        "supply voltage reckoned with: the lowest allowed, or the nominal",
        "IEC61938",
        choices=("lowest", "nominal"),
    ),
    Setting("current", "I", "current", 4e-3, "current that the microphone draws", "practice", 0.0, 22e-3),
    Setting(
        "needed_volts", "Umin", "voltage", 24.0, "volts that the microphone needs", "practice", 0.1, 52.0
    ),
)


def check_phantom(use: Use) -> None:
    """Refuse settings that do not go together, among them more current than the standard allows."""
    check_balanced(use)
    supply = phantom_supply(text(use, "phantom"))
    if number(use, "current") > supply.largest_current:
        wanted = f"at most {supply.largest_current:g} ampere with {supply.name}"
        raise ArgumentFault("current", use.settings["current"], wanted)


def phantom_rules(use: Use) -> tuple[Rule, ...]:
    """The rules of a balanced use, and the volts that reach the microphone."""
    return (*balanced_rules(use), *_volts(use))


def _volts(use: Use) -> tuple[Rule, ...]:
    supply = phantom_supply(text(use, "phantom"))
    voltage = supply.voltage - (supply.tolerance if text(use, "supply") == "lowest" else 0.0)
    current, length = number(use, "current"), number(use, "length")
    contacts = number(use, "contacts_near") + number(use, "contacts_far")
    leg, screen = core_resistance(use) * length, screen_resistance(use) * length

    def left(position: Position) -> Compute:
        def compute(resistance: Array) -> Array:
            added = contacts * np.asarray(resistance)
            plus, minus, back = (
                added if contact in position.contacts else 0.0
                for contact in ("plus near", "minus near", "screen near")
            )
            return phantom_volts(voltage, supply.feed, current, leg + plus, leg + minus, screen + back)

        return compute

    ideal = left(LEGS_AND_SCREEN)(np.zeros(()))
    needed = number(use, "needed_volts")
    return (
        *(_volts_left(left(position), needed, position) for position in (LEGS_AND_SCREEN, ONLY_SCREEN)),
        _volts_lost(lambda r: ideal - left(LEGS_AND_SCREEN)(r)),
    )


def _volts_left(compute: Compute, needed: float, position: Position) -> Rule:
    return Rule(
        key="phantom_volts",
        words="phantom voltage at the microphone",
        unit="V",
        frequency=None,
        position=position,
        worse="lower",
        compute=compute,
        threshold=needed,
        passing=f"phantom voltage at the microphone falls to {needed:g} V",
        reason="below the volts it needs a microphone loses level and headroom, or stops",
        source="practice",
    )


def _volts_lost(compute: Compute) -> Rule:
    return Rule(
        key="phantom_loss",
        words="phantom voltage lost in the contacts",
        unit="V",
        frequency=None,
        position=LEGS_AND_SCREEN,
        worse="higher",
        compute=compute,
        threshold=None,
        passing="",
        reason="for information: the volts that are left decide",
        source="IEC61938",
    )


DYNAMIC_MICROPHONE = Kind(
    "dynamic microphone",
    DYNAMIC_SETTINGS,
    check_balanced,
    balanced_rules,
    balanced_curves,
    cable="pair",
    path=BALANCED_PATH,
)
PHANTOM_MICROPHONE = Kind(
    "phantom microphone",
    PHANTOM_SETTINGS,
    check_phantom,
    phantom_rules,
    balanced_curves,
    cable="pair",
    path=BALANCED_PATH,
)
