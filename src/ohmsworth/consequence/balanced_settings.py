"""The settings that every balanced use shares, and the circuit they make."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from ohmsworth.consequence.balanced import BalancedCircuit
from ohmsworth.consequence.line import Line
from ohmsworth.consequence.use import Setting, Use, number, text
from ohmsworth.errors import ArgumentFault, OhmsworthError
from ohmsworth.materials import Conductor, conductor_from_text, resistance_per_metre

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
_CABLE = (
    Setting("length", "l", "length", 20.0, "length of the cable", "practice", 0.0, 10e3),
    Setting("conductor", "A", "text", "0.22 mm²", "conductor of each core: mm² or AWG", "practice"),
    Setting(
        "core_core",
        "Cc",
        "capacitance per length",
        100e-12,
        "capacitance from core to core, as an element of the equivalent circuit",
        "practice",
        0.0,
        1e-6,
    ),
    Setting(
        "core_screen",
        "Cs",
        "capacitance per length",
        200e-12,
        "capacitance from each core to the screen, as an element of the equivalent circuit",
        "practice",
        0.0,
        1e-6,
    ),
    Setting(
        "inductance",
        "L",
        "inductance per length",
        0.7e-6,
        "inductance of both cores as a loop",
        "practice",
        0.0,
        1e-3,
    ),
    Setting(
        "screen_resistance",
        "Rs",
        "resistance per length",
        0.02,
        "resistance of the screen",
        "practice",
        0.0,
        1e3,
    ),
)
_SURROUNDINGS = (
    Setting(
        "temperature",
        "T",
        "temperature",
        293.15,
        "temperature of cable and source",
        "practice",
        223.15,
        423.15,
    ),
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
BALANCED_SETTINGS: tuple[Setting, ...] = _CIRCUIT + _CABLE + _SURROUNDINGS + _LIMITS


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


def core(use: Use) -> Conductor:
    """The conductor of each core."""
    try:
        return conductor_from_text(text(use, "conductor"))
    except OhmsworthError as fault:
        raise ArgumentFault("conductor", use.settings["conductor"], f"a conductor ({fault})") from fault


def balanced_circuit(use: Use) -> BalancedCircuit:
    """The circuit that the settings of `use` describe."""
    conductor = core(use)
    line = Line(
        length=number(use, "length"),
        core_resistance=resistance_per_metre(conductor, number(use, "temperature")),
        core_radius=math.sqrt(conductor.area / math.pi),
        screen_resistance=number(use, "screen_resistance"),
        loop_inductance=number(use, "inductance"),
        core_core=number(use, "core_core"),
        core_screen=number(use, "core_screen"),
    )
    return BalancedCircuit(
        source_impedance=number(use, "source_impedance"),
        source_common=number(use, "source_common"),
        line=line,
        load_impedance=number(use, "load_impedance"),
        load_common=number(use, "load_common"),
        contacts_near=number(use, "contacts_near"),
        contacts_far=number(use, "contacts_far"),
    )
