"""What a contact does in any balanced use: level, treble, rejection of hum and buzz, noise."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import Circuit
from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.rule import Curve, Position, Rule, curve_at, level_change, rule_at
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.balanced import (
    BOTH_LEGS,
    ONE_LEG,
    back_transfer,
    balanced_circuit,
    hum_transfer,
    signal_transfer,
)
from ohmsworth.consequence.uses.cables import core_resistance
from ohmsworth.consequence.uses.noise import noise_rise, thermal_noise
from ohmsworth.materials import BOLTZMANN

#: Hertz: where level is told, where treble is told, where buzz from dimmers and switching supplies is told.
REFERENCE, TREBLE, BUZZ = 1e3, 20e3, 10e3
#: Hertz between which curves are drawn.
LOWEST, HIGHEST = 20.0, 100e3


def balanced_rules(use: Use) -> tuple[Rule, ...]:
    """The rules of every balanced use, in the order in which people ask."""
    circuit = balanced_circuit(use)
    level, rejection = _level_curve(circuit), _rejection_curve(use, circuit)
    return (
        _level(use, level, BOTH_LEGS),
        _level(use, level, ONE_LEG),
        _treble(use, level),
        _hum(use, rejection),
        _buzz(use, rejection),
        _noise(use),
    )


def balanced_curves(use: Use) -> tuple[Curve, ...]:
    """Change of level, rejection, and noise."""
    circuit = balanced_circuit(use)
    return (_level_curve(circuit), _rejection_curve(use, circuit), _noise_curve(use, circuit))


def _level_curve(circuit: Circuit) -> Curve:
    return Curve(
        key="level_change",
        words="change of level",
        unit="dB",
        low=LOWEST,
        high=HIGHEST,
        position=BOTH_LEGS,
        circuit=circuit,
        solve=lambda frequency: signal_transfer(circuit, frequency),
        show=level_change,
        worse="lower",
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
        solve=lambda frequency: hum_transfer(circuit, frequency),
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


def _level(use: Use, curve: Curve, position: Position) -> Rule:
    limit = number(use, "limit_level")
    return rule_at(
        curve,
        REFERENCE,
        position,
        key="level",
        words="change of level at 1 kHz",
        threshold=-limit,
        passing=f"level at 1 kHz falls by {limit:g} dB",
        reason="a tenth of a decibel shows in a careful level check, and is below what is heard",
    )


def _treble(use: Use, curve: Curve) -> Rule:
    limit = number(use, "limit_treble")
    change = curve_at(curve, np.array([REFERENCE, TREBLE]), BOTH_LEGS)

    def compute(resistance: Array) -> Array:
        found = change(resistance)
        return np.asarray(found[..., 1] - found[..., 0])

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


def _noise(use: Use) -> Rule:
    temperature, bandwidth = number(use, "temperature"), number(use, "bandwidth")
    limit = number(use, "limit_noise")
    loop = 2 * core_resistance(use) * number(use, "length")
    thermal = thermal_noise(number(use, "source_impedance") + loop, temperature, bandwidth)
    present = np.hypot(thermal, number(use, "source_noise"))
    contacts = 2 * (number(use, "contacts_near") + number(use, "contacts_far"))
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
