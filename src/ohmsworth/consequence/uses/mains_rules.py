"""What a contact does in a mains feed: heat, volts lost, and what becomes of an earth fault.

Every threshold here means: stop, and have it looked at by a licensed electrician. No figure of this use releases anything.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ohmsworth.consequence.rule import Compute, Position, Rule
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.contact_heat import Load, contact_rules
from ohmsworth.consequence.uses.mains_circuit import (
    FAULT_RUN,
    LOAD_RUN,
    fault_circuit,
    fault_transfers,
    load_circuit,
    load_resistance,
    load_transfer,
    mains_frequency,
)
from ohmsworth.consequence.uses.two_conductors import only, single_contact, size, solved

#: Follows on every sentence of a threshold.
STOP = ": stop, and have it looked at by a licensed electrician"
_DECIDES = "local rules and a licensed electrician decide what the loop has to be"

FEED = Position("every contact of line and neutral", LOAD_RUN.contacts())
FAULT_LOOP = Position("every contact of line and protective earth", FAULT_RUN.contacts())
EARTH = Position("every contact of the protective earth", FAULT_RUN.contacts(FAULT_RUN.back))


def mains_rules(use: Use) -> tuple[Rule, ...]:
    """The rules, in the order in which people ask."""
    return (*_load_rules(use), *_fault_rules(use))


def one_contact(use: Use) -> Position:
    """One contact that carries the current of the load."""
    words = "one contact of line or neutral, all others ideal"
    return replace(single_contact(use, LOAD_RUN.out), words=words)


def one_earth_contact(use: Use) -> Position:
    """One contact of the protective earth."""
    words = "one contact of the protective earth, all others ideal"
    return replace(single_contact(use, FAULT_RUN.back), words=words)


def _load_rules(use: Use) -> tuple[Rule, ...]:
    circuit, one = load_circuit(use), one_contact(use)
    volts = solved(circuit, load_transfer(circuit, mains_frequency(use)))
    single = only(volts.at_single(one, size))
    ampere = number(use, "voltage") / load_resistance(use)
    load = Load(
        when=f"at {number(use, 'current'):g} A",
        crest=float(np.sqrt(2)),
        heat_reason="a watt in one contact warms a closed plug, heat weakens springs and makes the contact worse, and so on "
        "until it burns; common practice, not a rule: local rules and makers may ask for less",
        ending=STOP,
    )
    return (
        *contact_rules(use, lambda ohm: np.asarray(ampere * single(ohm)), one, load),
        _drop(use, only(volts.at(FEED, size))),
    )


def _drop(use: Use, left: Compute) -> Rule:
    limit = 100 * number(use, "limit_drop")
    return Rule(
        key="drop",
        words=f"voltage lost in cable and contacts at {number(use, 'current'):g} A",
        unit="%",
        frequency=number(use, "mains_frequency"),
        position=FEED,
        worse="higher",
        compute=lambda ohm: np.asarray(100 * (1 - left(ohm))),
        threshold=limit,
        passing=f"{limit:g} % of the voltage is lost in cable and contacts{STOP}",
        reason="3 % is a usual figure to lay out a whole circuit by, of which this feed is a part: local rules decide",
        source="practice",
    )


def _fault_rules(use: Use) -> tuple[Rule, ...]:
    circuit, one = fault_circuit(use), one_earth_contact(use)
    current, touch = (solved(circuit, t) for t in fault_transfers(circuit, mains_frequency(use)))
    voltage = number(use, "voltage")
    through, alone = only(current.at(FAULT_LOOP, size)), only(current.at_single(one, size))
    case, case_alone = only(touch.at(EARTH, size)), only(touch.at_single(one, size))
    return (
        _loop_rise(use, FAULT_LOOP, through),
        _loop_rise(use, one, alone),
        _loop_impedance(use, through),
        _fault_current(use, lambda ohm: np.asarray(voltage * through(ohm))),
        _touch_voltage(use, EARTH, lambda ohm: np.asarray(voltage * case(ohm))),
        _touch_voltage(use, one, lambda ohm: np.asarray(voltage * case_alone(ohm))),
    )


def _loop_rise(use: Use, position: Position, through: Compute) -> Rule:
    limit = 100 * number(use, "limit_loop")
    ideal = float(through(np.zeros(())))

    def compute(ohm: Array) -> Array:
        return np.asarray(100 * (ideal / through(ohm) - 1))

    return Rule(
        key="loop_rise",
        words="rise of the impedance of the earth-fault loop",
        unit="%",
        frequency=number(use, "mains_frequency"),
        position=position,
        worse="higher",
        compute=compute,
        threshold=limit,
        passing=f"the impedance of the earth-fault loop rises by {limit:g} %{STOP}",
        reason="the current of a fault falls as the impedance rises, and fuse or breaker may act late or not at all; "
        f"{_DECIDES}",
        source="practice",
    )


def _loop_impedance(use: Use, through: Compute) -> Rule:
    return Rule(
        key="loop_impedance",
        words="impedance of the earth-fault loop",
        unit="Ω",
        frequency=number(use, "mains_frequency"),
        position=FAULT_LOOP,
        worse="higher",
        compute=lambda ohm: np.asarray(1 / through(ohm)),
        threshold=None,
        passing="",
        reason=f"for information: {_DECIDES}",
        source="practice",
    )


def _fault_current(use: Use, compute: Compute) -> Rule:
    return Rule(
        key="fault_current",
        words="prospective current of an earth fault",
        unit="A",
        frequency=number(use, "mains_frequency"),
        position=FAULT_LOOP,
        worse="lower",
        compute=compute,
        threshold=None,
        passing="",
        reason=f"for information: {_DECIDES}, and whether fuse or breaker acts in time",
        source="practice",
    )


def _touch_voltage(use: Use, position: Position, compute: Compute) -> Rule:
    limit = number(use, "limit_touch")
    return Rule(
        key="touch_voltage",
        words="touch voltage of a metal case during an earth fault",
        unit="V",
        frequency=number(use, "mains_frequency"),
        position=position,
        worse="higher",
        compute=compute,
        threshold=limit,
        passing=f"touch voltage of a metal case during an earth fault reaches {limit:g} V{STOP}",
        reason="50 V alternating current is the touch voltage from which adults are reckoned to be in danger; less endangers "
        "children, animals and whoever is wet, and local rules may ask for less",
        source="IEC60479-1",
    )
