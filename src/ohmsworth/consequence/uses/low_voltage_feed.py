"""A low-voltage feed: direct current to lamps, cameras, pedals."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import (
    Circuit,
    CurrentSource,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.ports import Signal
from ohmsworth.consequence.rule import Compute, Curve, Kind, Position, Rule
from ohmsworth.consequence.use import Array, Use, number, text
from ohmsworth.consequence.uses.cables import core_resistance, two_core
from ohmsworth.consequence.uses.contact_heat import Load, contact_rules
from ohmsworth.consequence.uses.load_line import constant_current, constant_power
from ohmsworth.consequence.uses.low_voltage_settings import CONSTANT_CURRENT, LOW_VOLTAGE_SETTINGS
from ohmsworth.consequence.uses.two_conductors import (
    Run,
    check_run,
    contacts_in_one,
    only,
    single_contact,
    size,
    solved,
)

RUN = Run("plus", "return")
ALL = Position("every contact of both conductors", RUN.contacts())
ONLY_RETURN = Position("every contact of the return", RUN.contacts(RUN.back))
_LOAD = ("load plus", "load return")

CAUTIONS = (
    (
        "Switch the supply off and disconnect it, batteries too, before you touch or measure a contact; capacitors in supply "
        "and load keep their charge for a while."
    ),
    (
        "Low voltage is not low current: a battery or a large supply can burn, weld and set alight. Take rings and watches "
        "off, and have every feed fused at its source for its thinnest conductor, as local codes ask."
    ),
    (
        "A connector carries its rated current only in cool surroundings: its maker's derating curve of current against "
        "ambient temperature prevails (by IEC 60512-5-2 it lies at 0.8 of what was measured)."
    ),
    "A connector that is hot, brown or soft: switch off, let it cool, and replace both halves.",
)


def feed_circuit(use: Use) -> Circuit:
    """The feed as its load sees it: 1 A driven back into it, the supply silent."""
    return Circuit(
        (
            VoltageSource("supply", "inner"),
            Resistor("inner", "outer", number(use, "supply_resistance")),
            *RUN.parts(use, two_core(use), ("outer", "0", *_LOAD)),
            CurrentSource("load", *_LOAD),
        )
    )


def feed_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Impedance of the feed as its load sees it; its resistance at 0 Hz."""
    return transfers(circuit, frequency, {"load": 1.0}, [Volts(*_LOAD)])[0]


def settle(use: Use, loop: Array) -> tuple[Array, Array]:
    """Volts at the load and the current there, for ohm out and back of any shape."""
    voltage = number(use, "voltage")
    if text(use, "load") == CONSTANT_CURRENT:
        return constant_current(voltage, number(use, "current"), loop)
    return constant_power(voltage, number(use, "power"), loop)


def feed_rules(use: Use) -> tuple[Rule, ...]:
    """The rules, in the order in which people ask."""
    circuit = feed_circuit(use)
    feed = solved(circuit, feed_transfer(circuit, np.zeros(1)))
    one = single_contact(use, RUN.out)
    loops = (
        (ALL, only(feed.at(ALL, size))),
        (one, only(feed.at_single(one, size))),
        (ONLY_RETURN, only(feed.at(ONLY_RETURN, size))),
    )
    return (
        *(_volts(use, position, loop) for position, loop in loops),
        _drop(use, loops[0][1]),
        _return_shift(use, loops[2][1]),
        *contact_rules(use, _current(use, loops[1][1]), one, _load(use)),
    )


def feed_curves(use: Use) -> tuple[Curve, ...]:
    """The impedance that turns changes of the load's current into changes of its volts."""
    circuit = feed_circuit(use)
    return (
        Curve(
            key="feed_impedance",
            words="impedance of the feed as the load sees it",
            unit="Ω",
            low=10.0,
            high=100e3,
            position=ALL,
            circuit=circuit,
            solve=lambda frequency: feed_transfer(circuit, frequency),
            show=size,
            worse="higher",
        ),
    )


def _current(use: Use, loop: Compute) -> Compute:
    return lambda ohm: settle(use, loop(ohm))[1]


def _volts(use: Use, position: Position, loop: Compute) -> Rule:
    needed = number(use, "needed_volts")
    return Rule(
        key="load_volts",
        words="voltage at the load",
        unit="V",
        frequency=None,
        position=position,
        worse="lower",
        compute=lambda ohm: settle(use, loop(ohm))[0],
        threshold=needed,
        passing=f"voltage at the load falls to {needed:g} V",
        reason="below the volts it needs a lamp dims, and equipment misbehaves or stops",
        source="practice",
    )


def _drop(use: Use, loop: Compute) -> Rule:
    voltage, limit = number(use, "voltage"), 100 * number(use, "limit_drop")
    return Rule(
        key="drop",
        words="voltage lost in supply, cable and contacts",
        unit="%",
        frequency=None,
        position=ALL,
        worse="higher",
        compute=lambda ohm: np.asarray(100 * (1 - settle(use, loop(ohm))[0] / voltage)),
        threshold=limit,
        passing=f"{limit:g} % of the voltage is lost on the way",
        reason="5 % is a usual figure to lay out a feed by; lamps without a regulator lose several times that in light",
        source="practice",
    )


def _return_shift(use: Use, loop: Compute) -> Rule:
    cable, contacts = core_resistance(use) * number(use, "length"), contacts_in_one(use)
    return Rule(
        key="return_shift",
        words="voltage between the two ends of the return",
        unit="V",
        frequency=None,
        position=ONLY_RETURN,
        worse="higher",
        compute=lambda ohm: np.asarray(settle(use, loop(ohm))[1] * (cable + contacts * ohm)),
        threshold=None,
        passing="",
        reason="for information: where a signal shares its return or its screen with the feed, this is added to the signal",
        source="practice",
    )


def _load(use: Use) -> Load:
    constant = text(use, "load") == CONSTANT_CURRENT
    return Load(
        when=f"at {number(use, 'current'):g} A" if constant else f"with a load of {number(use, 'power'):g} W",
        crest=1.0,
        heat_reason="a quarter of a watt in one pin of a closed connector is felt as warmth, and heat makes a contact worse",
    )


LOW_VOLTAGE_FEED = Kind(
    "low-voltage feed",
    LOW_VOLTAGE_SETTINGS,
    check_run,
    feed_rules,
    feed_curves,
    CAUTIONS,
    cable="two-core",
    # 1 A back into the feed: the volts are its impedance as the load sees it.
    signal=Signal({"load": 1.0}, Volts(*_LOAD)),
)
