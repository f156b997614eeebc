"""Chains as they may stand on a bench, drawn by a seed: a circuit, what is true in it, and the interface."""

from __future__ import annotations

import numpy as np

from ohmsworth.adapters.simulated.sound.interface import Input, Interface
from ohmsworth.adapters.simulated.sound.truth import TrueContact, TrueShunt, Truth
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt

#: Volts rms that an input has of noise, from a quiet to a poor one, over 24 kHz.
_NOISE = (3e-7, 3e-6)


def any_chain(seed: int) -> tuple[Circuit, Truth, Interface]:
    """A chain without anything wrong: an interface of some make, well set, and some contact.

    Both inputs are set alike, so that the larger voltage comes to a quarter to four fifths of full scale.
    """
    rng = np.random.default_rng([seed, 7])
    contact = _any_contact(rng)
    stated = float(rng.choice([0.1, 0.22, 0.47, 1.0]))
    circuit = Circuit(
        Shunt(stated, 0.01, 20e-9, 20e-9),
        series=float(rng.uniform(8, 40)),
        output=float(rng.uniform(0.9, 3)),
        bridge=float(rng.choice([4.7, 10.0])) if rng.random() < 0.5 else None,
    )
    shunt = TrueShunt(
        stated * (1 + 0.01 * rng.uniform(-1, 1)), 40e-9 * rng.random(), 1e-4 * rng.uniform(-1, 1)
    )
    current = circuit.current(circuit.output, contact.resistance + contact.film)
    larger = current * max(stated, contact.resistance + contact.film)
    smaller = current * min(stated, contact.resistance + contact.film)
    full_scale = float(larger / rng.uniform(0.25, 0.8))
    clock = float(rng.normal(0, 30e-6))
    interface = Interface(
        (_any_input(rng, full_scale, smaller), _any_input(rng, full_scale, smaller)),
        clock=clock,
        jitter=float(rng.uniform(0, 3e-11)),
        start=float(rng.uniform(500, 60000)),
        after=float(rng.uniform(0.1, 1)),
        bits=24 if rng.random() < 0.7 else 32,
        mains=float(rng.choice([50.0, 60.0])),
    )
    return circuit, Truth(contact, shunt), interface


def _any_contact(rng: np.random.Generator) -> TrueContact:
    filmed = rng.random() < 0.4
    return TrueContact(
        resistance=float(np.exp(rng.normal(np.log(8e-3), 0.8))),
        inductance=float(rng.uniform(1e-9, 60e-9)),
        film=float(np.exp(rng.normal(np.log(0.02), 0.8))) if filmed else 0.0,
        capacitance=float(rng.uniform(1e-9, 1e-7)) if filmed else 0.0,
        scale=float(rng.uniform(0.1, 0.5)),
        lean=float(rng.uniform(-0.2, 0.2)),
        drift=float(rng.normal(0, 2e-3)),
        flicker=float(rng.uniform(0, 2e-4)),
    )


def _any_input(rng: np.random.Generator, full_scale: float, volts: float) -> Input:
    return Input(
        full_scale=full_scale,
        gain=1 + 0.02 * float(rng.normal()),
        pole=float(rng.uniform(6e4, 3e5)),
        coupling=float(rng.uniform(0.5, 5)),
        delay=float(rng.normal(0, 2e-8)),
        crosstalk=float(10 ** rng.uniform(-5.5, -4)),
        rises=float(rng.uniform(2e3, 2e4)),
        common=float(10 ** rng.uniform(-5, -3.5)),
        noise=float(np.exp(rng.uniform(*np.log(_NOISE)))),
        offset=full_scale * 1e-4 * float(rng.normal()),
        hum=volts * float(10 ** rng.uniform(-4, -1.7)),
        third=float(10 ** rng.uniform(-6, -4.5)),
    )
