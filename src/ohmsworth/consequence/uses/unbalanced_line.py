"""An unbalanced line between two pieces of equipment that are both earthed: the screen carries hum and signal alike."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Inductor,
    Line,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.ports import Path, Port
from ohmsworth.consequence.rule import Curve, Kind, Position, Rule, rule_at
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.audio_rules import (
    against,
    level_curve,
    level_rule,
    noise_rule,
    once,
    treble_rule,
)
from ohmsworth.consequence.uses.audio_settings import check_line
from ohmsworth.consequence.uses.cables import coaxial, core_resistance, screen_resistance
from ohmsworth.consequence.uses.unbalanced_settings import UNBALANCED_SETTINGS

HOT, SCREEN = ("hot near", "hot far"), ("screen near", "screen far")
HOT_CONTACTS = Position("every hot contact, the screen ideal", HOT)
SCREEN_CONTACTS = Position("every contact of the screen", SCREEN)
BOTH = Position("every contact of hot and screen", HOT + SCREEN)

#: Hertz where treble and buzz are told, and between which curves are drawn.
TREBLE, BUZZ = 20e3, 10e3
LOWEST, HIGHEST = 20.0, 100e3


def unbalanced_circuit(use: Use) -> Circuit:
    """The circuit that the settings of `use` describe, told against the chassis of the input.

    The difference between the earths drives its current through both chassis, the screen and its contacts.
    """
    near, far = number(use, "contacts_near"), number(use, "contacts_far")
    return Circuit(
        (
            VoltageSource("earth difference", "earth"),
            Resistor("earth", "earth lead", number(use, "earth_resistance")),
            Inductor("earth lead", "chassis", number(use, "earth_inductance")),
            VoltageSource("signal", "drive", "chassis"),
            Resistor("drive", "output", number(use, "output_impedance")),
            Contact("hot near", "output", "cable hot", count=near),
            Contact("screen near", "chassis", "cable screen", count=near),
            Line(
                ("cable hot", "cable screen"),
                ("end hot", "end screen"),
                coaxial(use, number(use, "common_inductance")),
                number(use, "length"),
            ),
            Contact("hot far", "end hot", "input", count=far),
            Contact("screen far", "end screen", "0", count=far),
            Resistor("input", "0", number(use, "input_resistance")),
            Capacitor("input", "0", number(use, "input_capacitance")),
        )
    )


def signal_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the input for 1 V of signal."""
    return transfers(circuit, frequency, {"signal": 1.0}, [Volts("input")])[0]


def earth_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the input for 1 V between the earths."""
    return transfers(circuit, frequency, {"earth difference": 1.0}, [Volts("input")])[0]


def unbalanced_curves(use: Use) -> tuple[Curve, ...]:
    """Change of level, and hum as if the earths differed as much at every frequency as at the mains."""
    circuit = unbalanced_circuit(use)
    return (
        _level_curve(circuit),
        _hum_curve(use, circuit, number(use, "earth_difference")),
    )


def unbalanced_rules(use: Use) -> tuple[Rule, ...]:
    """The rules of an unbalanced line, in the order in which people ask."""
    circuit = unbalanced_circuit(use)
    level = _level_curve(circuit)
    hum = _hum_curve(use, circuit, number(use, "earth_difference"))
    buzz = _hum_curve(use, circuit, number(use, "earth_buzz"))
    cable = (core_resistance(use) + screen_resistance(use)) * number(use, "length")
    small = "a tenth of a decibel shows in a careful level check, and is below what is heard"
    return (
        _hum(use, hum),
        _hum_rise(use, hum),
        _buzz(use, buzz),
        level_rule(level, HOT_CONTACTS, number(use, "limit_level"), small),
        level_rule(level, BOTH, number(use, "limit_level"), small),
        treble_rule(level, BOTH, TREBLE, number(use, "limit_treble"), small),
        noise_rule(use, BOTH, number(use, "output_impedance") + cable, number(use, "limit_noise")),
    )


def _level_curve(circuit: Circuit) -> Curve:
    return level_curve(
        circuit, BOTH, (LOWEST, HIGHEST), lambda frequency: signal_transfer(circuit, frequency)
    )


def _hum_curve(use: Use, circuit: Circuit, volts: float) -> Curve:
    nominal, own = number(use, "nominal_level"), number(use, "own_hum")
    return Curve(
        key="hum",
        words="hum against the nominal level, if the earths differed alike at all frequencies",
        unit="dB",
        low=LOWEST,
        high=HIGHEST,
        position=SCREEN_CONTACTS,
        circuit=circuit,
        solve=once(lambda frequency: earth_transfer(circuit, frequency)),
        show=lambda y, _ideal: against(volts * y, nominal, own),
        worse="higher",
    )


def _hum(use: Use, curve: Curve) -> Rule:
    mains, limit = number(use, "mains_frequency"), number(use, "limit_hum")
    return rule_at(
        curve,
        mains,
        SCREEN_CONTACTS,
        key="hum",
        words=f"hum at {mains:g} Hz against the nominal level",
        threshold=-limit,
        passing=f"hum at {mains:g} Hz comes up to {limit:g} dB below the nominal level",
        reason="hum and its overtones 60 dB below the programme begin to be heard in its pauses",
    )


def _hum_rise(use: Use, curve: Curve) -> Rule:
    mains, limit = number(use, "mains_frequency"), number(use, "limit_hum_rise")
    shown = curve.show

    def rise(y: Complex, ideal: Complex) -> Array:
        return np.asarray(shown(y, ideal) - shown(ideal, ideal))

    return rule_at(
        replace(curve, key="hum_rise", show=rise),
        mains,
        SCREEN_CONTACTS,
        key="hum_rise",
        words=f"rise of hum at {mains:g} Hz against ideal contacts",
        threshold=limit,
        passing=f"hum at {mains:g} Hz rises by {limit:g} dB",
        reason="3 dB is heard when one cable is put in another's place; it hardly depends on how far the earths differ",
    )


def _buzz(use: Use, curve: Curve) -> Rule:
    limit = number(use, "limit_buzz")
    return rule_at(
        curve,
        BUZZ,
        SCREEN_CONTACTS,
        key="buzz",
        words="buzz at 10 kHz against the nominal level",
        threshold=-limit,
        passing=f"buzz at 10 kHz comes up to {limit:g} dB below the nominal level",
        reason="the ear hears far weaker sounds at some kilohertz than at the mains frequency, so buzz must stay lower than hum",
    )


CAUTIONS = (
    "Never take off a protective earth to stop hum: it protects people. Use a transformer or a balanced line instead.",
    (
        "A tingle, a spark at the plug, or volts between two chassis are faults of the mains or of the equipment: unplug it "
        "and leave it to a licensed electrician."
    ),
    "Turn the volume down before a plug goes in or out: an open screen hums at full level.",
)

UNBALANCED_LINE = Kind(
    "unbalanced line",
    UNBALANCED_SETTINGS,
    check_line,
    unbalanced_rules,
    unbalanced_curves,
    CAUTIONS,
    cable="coax",
    path=Path(Port("output", "chassis"), Port("input", "0"), 50.0, {"signal": 1.0}),
)
