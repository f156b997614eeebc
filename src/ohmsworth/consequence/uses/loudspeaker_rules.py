"""What a contact does on the way to a loudspeaker: level, damping, ripple of the response, heat."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ohmsworth.consequence.rule import Compute, Position, Rule, level_change
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.contact_heat import Load, contact_rules
from ohmsworth.consequence.uses.loudspeaker_circuit import (
    RUN,
    load_transfer,
    loudspeaker_circuit,
    nominal_circuit,
    output_voltage,
    seen_circuit,
    seen_transfer,
)
from ohmsworth.consequence.uses.loudspeaker_curves import ALL, HIGHEST, LOWEST, damping_shown, level_shown
from ohmsworth.consequence.uses.two_conductors import Solved, only, single_contact, size, solved

#: Hertz at which level and power at the nominal impedance are told.
REFERENCE = 1e3
_PER_DECADE = 20
_TENTH = "a tenth of a decibel shows in a careful {} check, and is below what is heard"


def loudspeaker_rules(use: Use) -> tuple[Rule, ...]:
    """The rules, in the order in which people ask."""
    one = single_contact(use, RUN.out)
    nominal, response, seen = _nominal(use), _response(use), _seen(use)
    damping = damping_shown(use)
    return (
        _level(use, ALL, only(nominal.at(ALL, level_change))),
        _level(use, one, only(nominal.at_single(one, level_change))),
        _power(use, only(nominal.at(ALL, size))),
        _damping(use, ALL, only(seen.at(ALL, damping))),
        _damping(use, one, only(seen.at_single(one, damping))),
        _ripple(use, ALL, _spread(response.at(ALL, level_change))),
        _ripple(use, one, _spread(response.at_single(one, level_change))),
        _whole_ripple(use, _spread(response.at(ALL, level_shown))),
        *_heat(use, one, only(nominal.at_single(one, size))),
    )


def _nominal(use: Use) -> Solved:
    circuit = nominal_circuit(use)
    return solved(circuit, load_transfer(circuit, np.array([REFERENCE])))


def _response(use: Use) -> Solved:
    circuit = loudspeaker_circuit(use)
    return solved(circuit, load_transfer(circuit, _response_frequencies(use)))


def _seen(use: Use) -> Solved:
    circuit = seen_circuit(use)
    return solved(circuit, seen_transfer(circuit, np.array([number(use, "resonance_frequency")])))


def _response_frequencies(use: Use) -> Array:
    """From 20 Hz to 20 kHz, the resonance among them."""
    decades = np.log10(HIGHEST / LOWEST)
    grid = LOWEST * 10 ** np.linspace(0, decades, int(_PER_DECADE * decades) + 1)
    return np.append(grid, np.clip(number(use, "resonance_frequency"), LOWEST, HIGHEST))


def _spread(compute: Callable[[Array], Array]) -> Compute:
    """Largest minus smallest over the frequencies of `compute`."""
    return lambda ohm: np.asarray(np.ptp(compute(ohm), axis=-1))


def _level(use: Use, position: Position, compute: Compute) -> Rule:
    limit = number(use, "limit_level")
    return Rule(
        key="level",
        words="change of level at the nominal impedance",
        unit="dB",
        frequency=REFERENCE,
        position=position,
        worse="lower",
        compute=compute,
        threshold=-limit,
        passing=f"level at the nominal impedance falls by {limit:g} dB",
        reason=_TENTH.format("level"),
        source="practice",
    )


def _power(use: Use, volts: Compute) -> Rule:
    voltage, nominal = output_voltage(use), number(use, "nominal_impedance")
    return Rule(
        key="load_power",
        words=f"power in the nominal impedance, of {number(use, 'power'):g} W without cable and contacts",
        unit="W",
        frequency=REFERENCE,
        position=ALL,
        worse="lower",
        compute=lambda ohm: np.asarray((voltage * volts(ohm)) ** 2 / nominal),
        threshold=None,
        passing="",
        reason="for information: the change of level decides",
        source="practice",
    )


def _damping(use: Use, position: Position, compute: Compute) -> Rule:
    limit, resonance = number(use, "limit_damping"), number(use, "resonance_frequency")
    return Rule(
        key="damping",
        words=f"damping factor at the loudspeaker at {resonance:g} Hz",
        unit="",
        frequency=resonance,
        position=position,
        worse="lower",
        compute=compute,
        threshold=limit,
        passing=f"damping factor at the loudspeaker falls to {limit:g}",
        reason="20 is a usual floor: what the voice coil sees is then a twentieth of the nominal impedance, on top of the "
        "coil's own resistance, which damps far more",
        source="practice",
    )


def _ripple(use: Use, position: Position, compute: Compute) -> Rule:
    limit = number(use, "limit_ripple")
    return Rule(
        key="ripple",
        words="ripple that the contacts put on the response, 20 Hz to 20 kHz",
        unit="dB",
        frequency=None,
        position=position,
        worse="higher",
        compute=compute,
        threshold=limit,
        passing=f"ripple of the response from the contacts reaches {limit:g} dB",
        reason=_TENTH.format("response"),
        source="practice",
    )


def _whole_ripple(use: Use, compute: Compute) -> Rule:
    limit = number(use, "limit_ripple_whole")
    return Rule(
        key="ripple_whole",
        words="ripple of the response from amplifier, cable and contacts, 20 Hz to 20 kHz",
        unit="dB",
        frequency=None,
        position=ALL,
        worse="higher",
        compute=compute,
        threshold=limit,
        passing=f"ripple of the response from amplifier, cable and contacts reaches {limit:g} dB",
        reason="half a decibel may be heard where two responses are compared side by side",
        source="practice",
    )


def _heat(use: Use, one: Position, volts: Compute) -> tuple[Rule, ...]:
    """At the power of the amplifier, a sine: the current that the nominal impedance draws."""
    voltage, nominal = output_voltage(use), number(use, "nominal_impedance")
    load = Load(
        when=f"at {number(use, 'power'):g} W",
        crest=float(np.sqrt(2)),
        heat_reason="a quarter of a watt in one pin of a closed connector is felt as warmth, and heat makes a contact worse",
    )
    return contact_rules(use, lambda ohm: np.asarray(voltage * volts(ohm) / nominal), one, load)
