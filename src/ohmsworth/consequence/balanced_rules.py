"""What a contact does in any balanced use: level, treble, rejection of hum and buzz, noise."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.balanced import BalancedCircuit, level_change, rejection
from ohmsworth.consequence.balanced_settings import balanced_circuit
from ohmsworth.consequence.line import line_chain
from ohmsworth.consequence.noise import noise_rise, thermal_noise
from ohmsworth.consequence.rule import BOTH_LEGS, ONE_LEG, Rule
from ohmsworth.consequence.use import Array, Use, number

#: Hertz: where level is told, where treble is told, where buzz from dimmers and switching supplies is told.
REFERENCE, TREBLE, BUZZ = 1e3, 20e3, 10e3


def balanced_rules(use: Use) -> tuple[Rule, ...]:
    """The rules of every balanced use, in the order in which people ask."""
    circuit = balanced_circuit(use)
    return (
        _level(use, circuit),
        _treble(use, circuit),
        _hum(use, circuit),
        _buzz(use, circuit),
        _noise(use, circuit),
    )


def balanced_curves(use: Use, resistance: Array, frequency: Array) -> dict[str, Array]:
    """Level change (both legs) and rejection (one leg) in dB, shape (resistances, frequencies)."""
    circuit = balanced_circuit(use)
    chain = line_chain(circuit.line, frequency)
    return {
        "level_change": level_change(circuit, chain, resistance),
        "rejection": rejection(circuit, chain, resistance, number(use, "receiver_rejection")),
    }


def _level(use: Use, circuit: BalancedCircuit) -> Rule:
    chain = line_chain(circuit.line, [REFERENCE])
    limit = number(use, "limit_level")
    return Rule(
        key="level",
        words="change of level at 1 kHz",
        unit="dB",
        frequency=REFERENCE,
        position=BOTH_LEGS,
        worse="lower",
        compute=lambda r: level_change(circuit, chain, r)[..., 0],
        threshold=-limit,
        passing=f"level at 1 kHz falls by {limit:g} dB",
        reason="a tenth of a decibel shows in a careful level check, and is below what is heard",
        source="practice",
    )


def _treble(use: Use, circuit: BalancedCircuit) -> Rule:
    chain = line_chain(circuit.line, [REFERENCE, TREBLE])
    limit = number(use, "limit_treble")

    def compute(resistance: Array) -> Array:
        change = level_change(circuit, chain, resistance)
        return np.asarray(change[..., 1] - change[..., 0])

    return Rule(
        key="treble",
        words="change of level at 20 kHz beyond that at 1 kHz",
        unit="dB",
        frequency=TREBLE,
        position=BOTH_LEGS,
        worse="lower",
        compute=compute,
        threshold=-limit,
        passing=f"treble (20 kHz against 1 kHz) falls by {limit:g} dB",
        reason="a tenth of a decibel shows in a careful response check, and is below what is heard",
        source="practice",
    )


def _hum(use: Use, circuit: BalancedCircuit) -> Rule:
    mains = number(use, "mains_frequency")
    limit = number(use, "limit_rejection_mains")
    return _rejection(
        use,
        circuit,
        key="rejection_mains",
        words=f"rejection of hum at {mains:g} Hz",
        frequency=mains,
        threshold=limit,
        passing=f"hum rejection at {mains:g} Hz falls to {limit:g} dB",
        reason="60 dB is a usual floor for a balanced input; below it hum between earths is soon heard",
    )


def _buzz(use: Use, circuit: BalancedCircuit) -> Rule:
    limit = number(use, "limit_rejection_high")
    return _rejection(
        use,
        circuit,
        key="rejection_high",
        words="rejection of buzz at 10 kHz",
        frequency=BUZZ,
        threshold=limit,
        passing=f"buzz rejection at 10 kHz falls to {limit:g} dB",
        reason="50 dB keeps out the buzz of dimmers and switching supplies, which is weaker than hum",
    )


def _rejection(
    use: Use,
    circuit: BalancedCircuit,
    *,
    key: str,
    words: str,
    frequency: float,
    threshold: float,
    passing: str,
    reason: str,
) -> Rule:
    chain = line_chain(circuit.line, [frequency])
    receiver = number(use, "receiver_rejection")
    return Rule(
        key=key,
        words=words,
        unit="dB",
        frequency=frequency,
        position=ONE_LEG,
        worse="lower",
        compute=lambda r: rejection(circuit, chain, r, receiver)[..., 0],
        threshold=threshold,
        passing=passing,
        reason=reason,
        source="practice",
    )


def _noise(use: Use, circuit: BalancedCircuit) -> Rule:
    temperature, bandwidth = number(use, "temperature"), number(use, "bandwidth")
    limit = number(use, "limit_noise")
    loop = 2 * circuit.line.core_resistance * circuit.line.length
    thermal = thermal_noise(circuit.source_impedance + loop, temperature, bandwidth)
    present = np.hypot(thermal, number(use, "source_noise"))
    contacts = 2 * (circuit.contacts_near + circuit.contacts_far)
    return Rule(
        key="noise",
        words="rise of noise",
        unit="dB",
        frequency=None,
        position=BOTH_LEGS,
        worse="higher",
        compute=lambda r: noise_rise(thermal_noise(contacts * r, temperature, bandwidth), present),
        threshold=limit,
        passing=f"noise rises by {limit:g} dB",
        reason="half a decibel is the smallest rise of noise that a listener may tell",
        source="practice",
    )
