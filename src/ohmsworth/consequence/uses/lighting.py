"""Lighting control: DMX512 over an RS-485 line."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ohmsworth.consequence.circuit import (
    Circuit,
    Harmonics,
    Polynomials,
    PulseTrain,
    Transfer,
    harmonics,
    opened,
    polynomials_of,
    value_along,
    wave_constants,
    wave_delay,
    waveform,
    weights_of,
    worst_level,
)
from ohmsworth.consequence.rule import Compute, Curve, Kind, Position, Rule, curve_at, shares_of
from ohmsworth.consequence.use import Array, Use, number, text
from ohmsworth.consequence.uses.cables import pair_alone, screen_resistance
from ohmsworth.consequence.uses.lighting_circuit import (
    BOTH_DATA,
    LIGHTING_PATH,
    ONE_DATA,
    ONE_JOINT,
    ONLY_TERMINATOR,
    TERMINATOR,
    last_transfer,
    level_curve,
    lighting_circuit,
)
from ohmsworth.consequence.uses.lighting_settings import (
    BOTH_ENDS,
    HIGHEST,
    LIGHTING_SETTINGS,
    NONE,
    check_lighting,
    driver_emf,
)
from ohmsworth.consequence.uses.two_conductors import only
from ohmsworth.units import show_stated

ONLY_SCREEN = Position("every joint of the screen", ("screen",))
#: Bits that are looked at, at least, and what is left of an echo that has died out.
_BITS, _DIED_OUT = 8, 1e-3
#: Points of a bit at which it may be looked at.
_POINTS = 20
#: What may be left out of a signal of ±1: below what any receiver sees.
_NEGLECTED = 1e-4

#: Ampere that is taken for no current at all.
_LEAST_CURRENT = 1e-9


def lighting_rules(use: Use) -> tuple[Rule, ...]:
    """Level at the last receiver, steady and in the worst pattern, the terminator, and the shift of the common."""
    circuit = lighting_circuit(use)
    return (*_steady_levels(use, circuit), *_worst_levels(use, circuit), _common(use))


def lighting_curves(use: Use) -> tuple[Curve, ...]:
    """Level at the last receiver."""
    return (level_curve(use, lighting_circuit(use)),)


def _steady_levels(use: Use, circuit: Circuit) -> Iterator[Rule]:
    told = "level at the last receiver, long after an edge"
    curve = level_curve(use, circuit)
    for position in (BOTH_DATA, ONE_DATA, ONE_JOINT):
        at_rest = curve_at(curve, np.zeros(1), position)
        yield _level(use, "steady_level", told, position, only(at_rest))


def _worst_levels(use: Use, circuit: Circuit) -> Iterator[Rule]:
    signal, bits = step_sent(use)
    transfer = last_transfer(circuit, signal.frequency)
    terminated = text(use, "terminated") != NONE
    told = "smallest level at the last receiver, in the worst pattern of bits"
    for position in (BOTH_DATA, ONE_DATA, ONE_JOINT, *((ONLY_TERMINATOR,) if terminated else ())):
        polynomials = polynomials_of(transfer, shares_of(circuit, position))
        yield _level(use, "worst_level", told, position, _sampled_worst(use, signal, bits, polynomials))
    if terminated:
        yield _unterminated(use, circuit, transfer, signal, bits)


def step_sent(use: Use) -> tuple[Harmonics, int]:
    """So many bits of +1, then as many of −1, for ever, as a signal; and how many."""
    bits = _bits_remembered(use)
    train = PulseTrain(np.repeat([1.0, -1.0], bits), number(use, "bit_time"), number(use, "rise_time"))
    return harmonics(train, _NEGLECTED), bits


def _bits_remembered(use: Use) -> int:
    """Bits after which an echo between the driver and an open end has died out, at the frequency at which it rings."""
    cable, length = pair_alone(use), number(use, "length")
    delay, ohm = wave_delay(cable) * length, number(use, "driver_resistance")
    gamma, z0 = wave_constants(cable, 1 / max(4 * delay, 1 / HIGHEST))
    if text(use, "terminated") == BOTH_ENDS:
        ohm = ohm * number(use, "termination") / (ohm + number(use, "termination"))
    once = abs((ohm - z0[0]) / (ohm + z0[0])) * math.exp(-2 * gamma[0].real * length)
    round_trips = math.log(_DIED_OUT) / math.log(once)
    return max(_BITS, math.ceil(2 * delay * round_trips / number(use, "bit_time")) + 2)


def _sampled_worst(use: Use, signal: Harmonics, bits: int, polynomials: Polynomials) -> Compute:
    """Volts in the worst pattern, wherever a bit is looked at within its window.

    Bits are taken to come as late as waves do in the space between the conductors: what slows edges more is not made up for.
    """
    emf, window = driver_emf(use), number(use, "window")
    delay = wave_delay(pair_alone(use)) * number(use, "length")
    start = delay + (1 - window) / 2 * number(use, "bit_time")
    # Rounding must not lose the last point of the window.
    count = math.floor(window * _POINTS + 1e-9) + 1

    def compute(resistance: Array) -> Array:
        found = waveform(signal, value_along(polynomials, resistance), 2 * bits * _POINTS, start)
        by_bit = found.reshape(*found.shape[:-1], 2 * bits, _POINTS)[..., :bits, :count]
        return np.asarray(emf * worst_level(np.swapaxes(by_bit, -1, -2)).min(axis=-1))

    return compute


def _level(use: Use, key: str, words: str, position: Position, compute: Compute) -> Rule:
    limit = number(use, "receiver_threshold") + number(use, "reserve")
    return Rule(
        key=key,
        words=words,
        unit="V",
        frequency=None,
        position=position,
        worse="lower",
        compute=compute,
        threshold=limit,
        passing=f"{words}, falls to {show_stated(limit, 'V')}",
        reason="what RS-485 receivers are sure of a bit by, and a reserve for noise; below it fixtures flicker or stop",
        source="practice",
    )


def _unterminated(use: Use, circuit: Circuit, transfer: Transfer, signal: Harmonics, bits: int) -> Rule:
    """What is left without the terminator: its contact open, whatever the others have."""
    without = opened(transfer, TERMINATOR)
    weights = dict(zip(circuit.contacts(), shares_of(circuit, BOTH_DATA), strict=True))
    shares = weights_of(without.contacts, {name: weights[name] for name in without.contacts})
    return Rule(
        key="worst_level_unterminated",
        words="smallest level at the last receiver in the worst pattern, if the terminator were missing",
        unit="V",
        frequency=None,
        position=BOTH_DATA,
        worse="lower",
        compute=_sampled_worst(use, signal, bits, polynomials_of(without, shares)),
        threshold=None,
        passing="",
        reason="for information: a lost terminator may even raise the level; what stubs and ringing do then is not shown",
        source="practice",
    )


def _common(use: Use) -> Rule:
    """Volts along the screen, U R/(R + U/I) of R = Rs l + n r, against the nearer end of what a receiver bears."""
    joints, behind = number(use, "joints"), number(use, "ground_voltage")
    inner = behind / max(number(use, "ground_current"), _LEAST_CURRENT)
    own = screen_resistance(use) * number(use, "length")
    middle = number(use, "driver_common")
    room = min(number(use, "common_high") - middle, middle - number(use, "common_low"))

    def compute(ohm: Array) -> Array:
        screen = own + joints * np.asarray(ohm, dtype=float)
        return np.asarray(behind * screen / (screen + inner))

    return Rule(
        key="common_shift",
        words="voltage between the commons of desk and last receiver",
        unit="V",
        frequency=None,
        position=ONLY_SCREEN,
        worse="higher",
        compute=compute,
        threshold=room,
        passing=f"the common shifts by {show_stated(room, 'V')}",
        reason="beyond the common-mode voltage of RS-485 a receiver's output is not to be trusted, and it may be damaged",
        source="RS485",
    )


CAUTIONS = (
    (
        "A fixture that tingles, above all once its data cable is unplugged, may have lost its earth: unplug it from the "
        "mains and have a licensed electrician see to it. The data screen is no protective earth."
    ),
    "Disconnect the data cable at both ends before you measure: some old equipment has a supply on spare pins.",
)

LIGHTING_CONTROL = Kind(
    "lighting control",
    LIGHTING_SETTINGS,
    check_lighting,
    lighting_rules,
    lighting_curves,
    CAUTIONS,
    HIGHEST,
    cable="pair",
    path=LIGHTING_PATH,
)
