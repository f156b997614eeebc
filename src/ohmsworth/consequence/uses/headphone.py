"""A headphone: crosstalk through the common return, level, balance, bass and damping."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ohmsworth.consequence.rule import Curve, Kind, Position, Rule, curve_at, level_change, rule_at
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.audio_rules import REFERENCE, against, level_rule, once
from ohmsworth.consequence.uses.audio_settings import check_line
from ohmsworth.consequence.uses.headphone_circuit import (
    BOTH_CHANNELS,
    CHANNELS,
    COMMON_RETURN,
    EVERY_CONTACT,
    ONE_CHANNEL,
    balance_transfer,
    crosstalk_transfer,
    damping_transfer,
    headphone_circuit,
    level_transfer,
)
from ohmsworth.consequence.uses.headphone_settings import HEADPHONE_SETTINGS

#: Hertz between which curves are drawn.
LOWEST, HIGHEST = 20.0, 20e3


def headphone_curves(use: Use) -> tuple[Curve, ...]:
    """Change of level, crosstalk, and damping factor."""
    level = _level_curve(use)
    return (level, _crosstalk_curve(use, level), _damping_curve(level))


def headphone_rules(use: Use) -> tuple[Rule, ...]:
    """The rules of a headphone, in the order in which people ask."""
    level = _level_curve(use)
    crosstalk = _crosstalk_curve(use, level)
    limit = number(use, "limit_level")
    return (
        _crosstalk(
            crosstalk,
            "crosstalk",
            number(use, "limit_crosstalk"),
            "amplifiers and converters do better than 60 dB, so that a plug beyond it is the weakest part",
        ),
        _crosstalk(
            crosstalk,
            "image",
            number(use, "limit_image"),
            "from about 30 dB on what belongs to one side is heard to move inwards; 40 dB leave room to spare",
        ),
        level_rule(
            level, CHANNELS, limit, "half a decibel is hardly heard, and made up for by the volume control"
        ),
        _middle(level, limit),
        _balance(use, level),
        *(_bass(use, level, position) for position in (CHANNELS, EVERY_CONTACT)),
        *(_damping(use, level, position) for position in (CHANNELS, EVERY_CONTACT)),
    )


def _level_curve(use: Use) -> Curve:
    circuit = headphone_circuit(use)
    return Curve(
        key="level_change",
        words="change of level, both channels alike",
        unit="dB",
        low=LOWEST,
        high=HIGHEST,
        position=EVERY_CONTACT,
        circuit=circuit,
        solve=once(lambda frequency: level_transfer(circuit, frequency)),
        show=level_change,
        worse="lower",
    )


def _crosstalk_curve(use: Use, level: Curve) -> Curve:
    own = number(use, "own_crosstalk")
    return replace(
        level,
        key="crosstalk",
        words="crosstalk: one ear against the other that alone is driven",
        position=COMMON_RETURN,
        solve=once(lambda frequency: crosstalk_transfer(level.circuit, frequency)),
        show=lambda y, _ideal: against(y, 1.0, own),
        worse="higher",
    )


def _damping_curve(level: Curve) -> Curve:
    return replace(
        level,
        key="damping",
        words="damping factor: impedance of the ear over all that it sees",
        unit="",
        solve=once(lambda frequency: damping_transfer(level.circuit, frequency)),
        show=lambda y, _ideal: np.asarray(np.abs(y)),
    )


def _crosstalk(curve: Curve, key: str, limit: float, reason: str) -> Rule:
    return rule_at(
        curve,
        REFERENCE,
        COMMON_RETURN,
        key=key,
        words="crosstalk at 1 kHz",
        threshold=-limit,
        passing=f"crosstalk at 1 kHz comes up to {limit:g} dB below the other ear",
        reason=reason,
    )


def _middle(curve: Curve, limit: float) -> Rule:
    """Of what both channels share: it has to go through the common return, what differs between them does not."""
    return rule_at(
        curve,
        REFERENCE,
        COMMON_RETURN,
        key="middle",
        words="change of level at 1 kHz of what both channels share",
        threshold=-limit,
        passing=f"what both channels share, as voices, falls by {limit:g} dB",
        reason="what differs between the channels keeps its level, so that voices sink into the rest",
    )


def _balance(use: Use, level: Curve) -> Rule:
    limit = number(use, "limit_balance")
    balance = replace(
        level,
        key="balance",
        solve=lambda frequency: balance_transfer(level.circuit, frequency),
    )
    return rule_at(
        balance,
        REFERENCE,
        ONE_CHANNEL,
        key="balance",
        words="change of level of one ear against the other at 1 kHz",
        threshold=-limit,
        passing=f"one ear falls {limit:g} dB below the other",
        reason="0.5 to 1 dB between the ears is the least that is heard to move a sound",
        source="BreebaartFaller",
    )


def _bass(use: Use, level: Curve, position: Position) -> Rule:
    """Where the impedance is higher a resistance in series takes less: the resonance comes up against the rest."""
    resonance, limit = number(use, "resonance_frequency"), number(use, "limit_bass")
    change = curve_at(level, np.array([REFERENCE, resonance]), position)

    def compute(resistance: Array) -> Array:
        found = change(resistance)
        return np.asarray(found[..., 1] - found[..., 0])

    return Rule(
        key="bass",
        words=f"change of level at the bass resonance, {resonance:g} Hz, beyond that at 1 kHz",
        unit="dB",
        frequency=resonance,
        position=position,
        worse="higher",
        compute=compute,
        threshold=limit,
        passing=f"the bass resonance comes up by {limit:g} dB against 1 kHz",
        reason="half a decibel over an octave or more may be heard side by side",
        source="practice",
    )


def _damping(use: Use, level: Curve, position: Position) -> Rule:
    limit = number(use, "limit_damping")
    return rule_at(
        _damping_curve(level),
        REFERENCE,
        position,
        key="damping",
        words="damping factor at 1 kHz",
        threshold=limit,
        passing=f"the damping factor at 1 kHz falls to {limit:g}",
        reason="a usual rule: what feeds a headphone should have at most an eighth of its impedance",
    )


CAUTIONS = (
    (
        "Take the headphone off and turn the volume down before a plug goes in or out, and before a contact is cleaned or "
        "moved: what a bad contact held back comes at full level at once, and can harm hearing."
    ),
    "Most plugs with three contacts short a channel on their way into the socket: turn the volume down first.",
)

HEADPHONE = Kind(
    "headphone",
    HEADPHONE_SETTINGS,
    check_line,
    headphone_rules,
    headphone_curves,
    CAUTIONS,
    cable="two-core",
    signal=BOTH_CHANNELS,
)
