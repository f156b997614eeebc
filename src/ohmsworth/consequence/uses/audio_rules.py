"""What several audio uses share: rules for level and treble, and levels against what is there anyway."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ohmsworth.consequence.circuit import Circuit, Transfer
from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.rule import Curve, Position, Rule, curve_at, curve_with, level_change, rule_at
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.noise import noise_rise, thermal_noise

#: Hertz where level is told.
REFERENCE = 1e3


def level_curve(
    circuit: Circuit, position: Position, between: tuple[float, float], solve: Callable[[Array], Transfer]
) -> Curve:
    """Change of level at the input, drawn `between` two hertz."""
    return Curve(
        key="level_change",
        words="change of level",
        unit="dB",
        low=between[0],
        high=between[1],
        position=position,
        circuit=circuit,
        solve=once(solve),
        show=level_change,
        worse="lower",
    )


def level_rule(curve: Curve, position: Position, limit: float, reason: str) -> Rule:
    """Change of level at 1 kHz, which matters from a loss of `limit` dB."""
    return rule_at(
        curve,
        REFERENCE,
        position,
        key="level",
        words="change of level at 1 kHz",
        threshold=-limit,
        passing=f"level at 1 kHz falls by {limit:g} dB",
        reason=reason,
    )


def treble_rule(curve: Curve, position: Position, frequency: float, limit: float, reason: str) -> Rule:
    """Change of level at `frequency` (hertz) beyond that at 1 kHz, which matters from a loss of `limit` dB."""
    places = np.array([REFERENCE, frequency])
    change, with_impedance = curve_at(curve, places, position), curve_with(curve, places, position)

    def beyond(found: Array) -> Array:
        return np.asarray(found[..., 1] - found[..., 0])

    kilohertz = f"{frequency / 1e3:g} kHz"
    return Rule(
        key="treble",
        words=f"change of level at {kilohertz} beyond that at 1 kHz",
        unit="dB",
        frequency=frequency,
        position=position,
        worse="lower",
        compute=lambda resistance: beyond(change(resistance)),
        threshold=-limit,
        passing=f"treble ({kilohertz} against 1 kHz) falls by {limit:g} dB",
        reason=reason,
        source="practice",
        compute_with=lambda impedance: beyond(with_impedance(impedance)),
    )


def noise_rule(use: Use, position: Position, resistance: float, limit: float) -> Rule:
    """Rise of noise, which matters from `limit` dB, where `resistance` ohm of source and cable make noise already.

    Contacts at both ends, two of each in the loop. Source: "Johnson-Nyquist".
    """
    temperature, bandwidth = number(use, "temperature"), number(use, "bandwidth")
    present = np.hypot(thermal_noise(resistance, temperature, bandwidth), number(use, "source_noise"))
    contacts = 2 * (number(use, "contacts_near") + number(use, "contacts_far"))
    return Rule(
        key="noise",
        words="rise of noise",
        unit="dB",
        frequency=None,
        position=position,
        worse="higher",
        compute=lambda r: noise_rise(thermal_noise(contacts * r, temperature, bandwidth), present),
        threshold=limit,
        passing=f"noise rises by {limit:g} dB",
        reason="half a decibel is the smallest rise of noise that a listener may tell",
        source="practice",
    )


def against(y: Complex, reference: float, own: float) -> Array:
    """Level of `y` in dB against `reference`, both volts, with what is there anyway `own` dB below it, in the worst phase.

    20 log10(|y|/reference + 10^(−own/20)): no contact can improve what is there, and nothing is below it.
    """
    return np.asarray(20 * np.log10(np.abs(y) / reference + 10 ** (-own / 20)))


def once(solve: Callable[[Array], Transfer]) -> Callable[[Array], Transfer]:
    """`solve` that remembers the frequencies it has solved for, so that several positions cost one solution."""
    known: dict[bytes, Transfer] = {}

    def remembered(frequency: Array) -> Transfer:
        key = np.asarray(frequency, dtype=float).tobytes()
        if key not in known:
            known[key] = solve(frequency)
        return known[key]

    return remembered
