"""What a contact does in any balanced use: level, treble, rejection of hum and buzz, noise."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import Circuit
from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.rule import Curve, Rule, rule_at
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.audio_rules import level_curve, level_rule, noise_rule, once, treble_rule
from ohmsworth.consequence.uses.balanced import (
    BOTH_LEGS,
    ONE_LEG,
    back_transfer,
    balanced_circuit,
    hum_transfer,
    signal_transfer,
)
from ohmsworth.consequence.uses.cables import core_resistance
from ohmsworth.materials import BOLTZMANN

#: Hertz: where treble is told, where buzz from dimmers and switching supplies is told.
TREBLE, BUZZ = 20e3, 10e3
_SMALL = "a tenth of a decibel shows in a careful level check, and is below what is heard"
#: Hertz between which curves are drawn.
LOWEST, HIGHEST = 20.0, 100e3


def balanced_rules(use: Use) -> tuple[Rule, ...]:
    """The rules of every balanced use, in the order in which people ask."""
    circuit = balanced_circuit(use)
    level, rejection = _level_curve(circuit), _rejection_curve(use, circuit)
    loop = 2 * core_resistance(use) * number(use, "length")
    return (
        level_rule(level, BOTH_LEGS, number(use, "limit_level"), _SMALL),
        level_rule(level, ONE_LEG, number(use, "limit_level"), _SMALL),
        treble_rule(level, BOTH_LEGS, TREBLE, number(use, "limit_treble"), _SMALL),
        _hum(use, rejection),
        _buzz(use, rejection),
        noise_rule(use, BOTH_LEGS, number(use, "source_impedance") + loop, number(use, "limit_noise")),
    )


def balanced_curves(use: Use) -> tuple[Curve, ...]:
    """Change of level, rejection, and noise."""
    circuit = balanced_circuit(use)
    return (_level_curve(circuit), _rejection_curve(use, circuit), _noise_curve(use, circuit))


def _level_curve(circuit: Circuit) -> Curve:
    return level_curve(
        circuit, BOTH_LEGS, (LOWEST, HIGHEST), lambda frequency: signal_transfer(circuit, frequency)
    )


def _rejection_curve(use: Use, circuit: Circuit) -> Curve:
    """−20 log10(|V+ − V−|/Vcm + 10^(−receiver/20)): the receiver's own part is added in the worst phase."""
    own = 10 ** (-number(use, "receiver_rejection") / 20)

    def show(y: Complex, _ideal: Complex) -> Array:
        return np.asarray(-20 * np.log10(np.abs(y) + own))

    return Curve(
        key="rejection",
        words="rejection of what is common to both legs",
        unit="dB",
        low=LOWEST,
        high=HIGHEST,
        position=ONE_LEG,
        circuit=circuit,
        solve=once(lambda frequency: hum_transfer(circuit, frequency)),
        show=show,
        worse="lower",
    )


def _noise_curve(use: Use, circuit: Circuit) -> Curve:
    """√(4kT(Re Z − |Z|²/Zl)): what source, contacts and cable put across an input of Zl that adds nothing itself.

    Z is all that is between the legs; by Nyquist's theorem Re Z tells the noise of all of it, the input's own taken off.
    """
    per_ohm = 4 * BOLTZMANN * number(use, "temperature")
    load = number(use, "load_impedance")

    def show(y: Complex, _ideal: Complex) -> Array:
        return np.asarray(np.sqrt(per_ohm * np.maximum(y.real - np.abs(y) ** 2 / load, 0.0)))

    return Curve(
        key="noise_density",
        words="thermal noise of source, contacts and cable at the input",
        unit="V/√Hz",
        low=LOWEST,
        high=HIGHEST,
        position=BOTH_LEGS,
        circuit=circuit,
        solve=lambda frequency: back_transfer(circuit, frequency),
        show=show,
        worse="higher",
    )


def _hum(use: Use, curve: Curve) -> Rule:
    mains = number(use, "mains_frequency")
    limit = number(use, "limit_rejection_mains")
    return rule_at(
        curve,
        mains,
        ONE_LEG,
        key="rejection_mains",
        words=f"rejection of hum at {mains:g} Hz",
        threshold=limit,
        passing=f"hum rejection at {mains:g} Hz falls to {limit:g} dB",
        reason="60 dB is a usual floor for a balanced input; below it hum between earths is soon heard",
    )


def _buzz(use: Use, curve: Curve) -> Rule:
    limit = number(use, "limit_rejection_high")
    return rule_at(
        curve,
        BUZZ,
        ONE_LEG,
        key="rejection_high",
        words="rejection of buzz at 10 kHz",
        threshold=limit,
        passing=f"buzz rejection at 10 kHz falls to {limit:g} dB",
        reason="50 dB keeps out the buzz of dimmers and switching supplies, which is weaker than hum",
    )
