"""The settings that every balanced use shares."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ohmsworth.consequence.use import Setting, Use, number
from ohmsworth.consequence.uses.cables import PAIR_SETTINGS, TEMPERATURE, core
from ohmsworth.errors import ArgumentFault

_CIRCUIT = (
    Setting(
        "source_impedance",
        "Zs",
        "resistance",
        150.0,
        "impedance of the source, half of it in each leg",
        "practice",
        0.01,
        1e6,
    ),
    Setting(
        "source_common",
        "Zc",
        "resistance",
        0.0,
        "impedance from the hum to the middle of the source: 0 is the worst case, in which the hum drives "
        "both legs fully; a source that touches nothing is much higher and better off",
        "practice",
    ),
    Setting(
        "load_impedance",
        "Zl",
        "resistance",
        1500.0,
        "impedance between the legs at the input, all counted",
        "practice",
        1.0,
    ),
    Setting(
        "load_common",
        "Zcm",
        "resistance",
        6800.0,
        "impedance from each leg to the screen at the input",
        "practice",
        1.0,
    ),
    Setting(
        "receiver_rejection",
        "CMRR0",
        "level difference",
        90.0,
        "common-mode rejection of the input itself, with perfect contacts",
        "practice",
        1.0,
        200.0,
    ),
    Setting(
        "contacts_near",
        "n1",
        "number",
        1.0,
        "contacts in each conductor at the source end",
        "practice",
        0.0,
        100.0,
    ),
    Setting(
        "contacts_far",
        "n2",
        "number",
        1.0,
        "contacts in each conductor at the input end",
        "practice",
        0.0,
        100.0,
    ),
)
_SURROUNDINGS = (
    replace(TEMPERATURE, words="temperature of cable and source"),
    Setting("bandwidth", "B", "frequency", 20e3, "bandwidth in which noise counts", "practice", 1.0, 200e3),
    Setting(
        "source_noise",
        "Un",
        "voltage",
        0.0,
        "noise of the source in that bandwidth, rms, beyond the thermal noise of its impedance",
        "practice",
        0.0,
        10.0,
    ),
    Setting("mains_frequency", "fm", "frequency", 50.0, "frequency of the mains", "practice", 16.0, 400.0),
)
_LIMITS = (
    Setting(
        "limit_level",
        "Δlevel",
        "level difference",
        0.1,
        "loss of level that matters",
        "practice",
        1e-6,
        100.0,
    ),
    Setting(
        "limit_treble",
        "Δtreble",
        "level difference",
        0.1,
        "loss at 20 kHz, beyond that at 1 kHz, that matters",
        "practice",
        1e-6,
        100.0,
    ),
    Setting(
        "limit_rejection_mains",
        "CMRRm",
        "level difference",
        60.0,
        "rejection of hum at the mains frequency that is still enough",
        "practice",
        1.0,
        200.0,
    ),
    Setting(
        "limit_rejection_high",
        "CMRRh",
        "level difference",
        50.0,
        "rejection of buzz at 10 kHz that is still enough",
        "practice",
        1.0,
        200.0,
    ),
    Setting(
        "limit_noise",
        "Δnoise",
        "level difference",
        0.5,
        "rise of noise that matters",
        "practice",
        1e-6,
        100.0,
    ),
)
BALANCED_SETTINGS: tuple[Setting, ...] = _CIRCUIT + PAIR_SETTINGS + _SURROUNDINGS + _LIMITS


def with_defaults(defaults: Mapping[str, float | str], sources: Mapping[str, str]) -> tuple[Setting, ...]:
    """BALANCED_SETTINGS with other `defaults`, and other `sources` for them, by key."""
    return tuple(
        replace(
            setting,
            default=defaults.get(setting.key, setting.default),
            source=sources.get(setting.key, setting.source),
        )
        for setting in BALANCED_SETTINGS
    )


def check_balanced(use: Use) -> None:
    """Refuse settings that do not make a balanced circuit together."""
    most = 2 * number(use, "load_common")
    if number(use, "load_impedance") > most:
        wanted = f"at most twice the common-mode impedance of a leg, {most:g} ohm, which bridges the legs too"
        raise ArgumentFault("load_impedance", use.settings["load_impedance"], wanted)
    if number(use, "contacts_near") + number(use, "contacts_far") < 1:
        raise ArgumentFault(
            "contacts_far", use.settings["contacts_far"], "at least one contact at either end"
        )
    core(use)
