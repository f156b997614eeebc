"""Digital audio on a balanced line of 110 Ω."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ohmsworth.consequence.circuit import Circuit, polynomials_of, wave_delay
from ohmsworth.consequence.rule import Compute, Curve, Kind, Position, Rule, rule_at, shares_of
from ohmsworth.consequence.use import Use, number
from ohmsworth.consequence.uses.cables import pair_alone
from ohmsworth.consequence.uses.digital_audio_circuit import (
    BOTH_LEGS,
    DIGITAL_AUDIO_PATH,
    HIGHEST_OVER_RATE,
    LOWEST,
    ONE_LEG,
    digital_audio_circuit,
    input_transfer,
    margin_curve,
    output_transfer,
    return_loss_curve,
    source_emf,
)
from ohmsworth.consequence.uses.digital_audio_settings import (
    DIGITAL_AUDIO_SETTINGS,
    HIGHEST,
    check_digital_audio,
    shortest_pulse,
)
from ohmsworth.consequence.uses.eye import opening, received, sent, spread_of_edges
from ohmsworth.consequence.uses.reflection import band, worst_return_loss
from ohmsworth.units import show_stated

#: Frequencies at which level is told, in samples of each channel: the shortest pulses in turn, and the top of the band.
_PULSES, _TOP = 64, HIGHEST_OVER_RATE
_POSITIONS = (BOTH_LEGS, ONE_LEG)


def digital_audio_rules(use: Use) -> tuple[Rule, ...]:
    """Level at the receiver, its eye and edges, and what comes back to the source."""
    circuit = digital_audio_circuit(use)
    return (*_margins(use, circuit), *_eyes(use, circuit), *_return_losses(use, circuit))


def digital_audio_curves(use: Use) -> tuple[Curve, ...]:
    """Margin and return loss."""
    circuit = digital_audio_circuit(use)
    return (margin_curve(use, circuit), return_loss_curve(circuit))


def _margins(use: Use, circuit: Circuit) -> Iterator[Rule]:
    curve, rate = margin_curve(use, circuit), number(use, "sample_rate")
    for position in _POSITIONS:
        yield _margin(use, curve, "margin", _PULSES * rate, position)
    yield _margin(use, curve, "margin_top", _TOP * rate, BOTH_LEGS)


def _margin(use: Use, curve: Curve, key: str, frequency: float, position: Position) -> Rule:
    limit, told = number(use, "limit_margin"), show_stated(frequency, "Hz")
    return rule_at(
        curve,
        frequency,
        position,
        key=key,
        words=f"level at the receiver above what it needs, at {told}",
        threshold=limit,
        passing=f"level at the receiver at {told} falls to {limit:g} dB above what it needs",
        reason="twice the volts that the receiver needs leaves room for noise and for what comes back",
    )


def _eyes(use: Use, circuit: Circuit) -> Iterator[Rule]:
    delay = wave_delay(pair_alone(use)) * number(use, "length")
    signal = sent(shortest_pulse(use), number(use, "rise_time"))
    transfer = input_transfer(circuit, signal.frequency)
    for position in _POSITIONS:
        polynomials = polynomials_of(transfer, shares_of(circuit, position))
        at_receiver = partial(received, signal, polynomials, delay)
        yield _eye(use, position, at_receiver)
        if position is BOTH_LEGS:
            yield _jitter(use, position, at_receiver)


def _eye(use: Use, position: Position, at_receiver: Compute) -> Rule:
    limit, emf = number(use, "receiver_minimum"), source_emf(use)
    return Rule(
        key="eye",
        words="opening of the eye at the receiver, peak to peak over half of the shortest pulse",
        unit="V",
        frequency=None,
        position=position,
        worse="lower",
        # A signal of ±1 is half of its EMF from peak to peak.
        compute=lambda ohm: emf / 2 * opening(at_receiver(ohm)),
        threshold=limit,
        passing=f"the eye at the receiver closes to {show_stated(limit, 'V')}",
        reason="with a smaller eye a receiver need not decode: clicks, muting, no lock",
        source="AES3-receiver",
    )


def _jitter(use: Use, position: Position, at_receiver: Compute) -> Rule:
    part, pulse = number(use, "limit_jitter"), shortest_pulse(use)
    return Rule(
        key="jitter",
        words="spread of the edges at the receiver, by the line alone",
        unit="s",
        frequency=None,
        position=position,
        worse="higher",
        compute=lambda ohm: pulse * spread_of_edges(at_receiver(ohm)),
        threshold=part * pulse,
        passing=f"edges at the receiver spread by {part:g} of the shortest pulse",
        reason="a receiver has to bear as much fast jitter; beyond it bits may be lost",
        source="AES3-receiver",
    )


def _return_losses(use: Use, circuit: Circuit) -> Iterator[Rule]:
    high = HIGHEST_OVER_RATE * number(use, "sample_rate")
    delay, limit = wave_delay(pair_alone(use)) * number(use, "length"), number(use, "limit_return_loss")
    transfer = output_transfer(circuit, band(LOWEST, high, delay))
    told = f"{show_stated(LOWEST, 'Hz')} to {show_stated(high, 'Hz')}"
    for position in _POSITIONS:
        yield Rule(
            key="return_loss",
            words=f"worst return loss at the source, {told}",
            unit="dB",
            frequency=None,
            position=position,
            worse="lower",
            compute=worst_return_loss(polynomials_of(transfer, shares_of(circuit, position)), slice(None)),
            threshold=limit,
            passing=f"return loss between {told.replace(' to ', ' and ')} falls to {limit:g} dB",
            reason="so much comes back from an end of 88 Ω too, the lowest impedance that the standard allows",
            source="AES3",
        )


CAUTIONS = (
    "Disconnect both ends before you open a connector: a microphone input at the other end of a wrong plug has 48 V on it.",
)

DIGITAL_AUDIO = Kind(
    "digital audio",
    DIGITAL_AUDIO_SETTINGS,
    check_digital_audio,
    digital_audio_rules,
    digital_audio_curves,
    CAUTIONS,
    HIGHEST,
    cable="pair",
    path=DIGITAL_AUDIO_PATH,
)
