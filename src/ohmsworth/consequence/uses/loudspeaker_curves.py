"""What a loudspeaker gets over frequency: change of level by the contacts, level, damping factor."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.rule import Curve, Position, decibels, level_change
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.loudspeaker_circuit import (
    RUN,
    load_transfer,
    loudspeaker_circuit,
    seen_circuit,
    seen_transfer,
)

ALL = Position("every contact of both conductors", RUN.contacts())
#: Hertz between which a response is told.
LOWEST, HIGHEST = 20.0, 20e3


def loudspeaker_curves(use: Use) -> tuple[Curve, ...]:
    """Change of level, level with all that is lost, damping factor."""
    circuit, seen = loudspeaker_circuit(use), seen_circuit(use)
    change = Curve(
        key="level_change",
        words="change of level",
        unit="dB",
        low=LOWEST,
        high=HIGHEST,
        position=ALL,
        circuit=circuit,
        solve=lambda frequency: load_transfer(circuit, frequency),
        show=level_change,
        worse="lower",
    )
    return (
        change,
        replace(change, key="response", words="level against the amplifier without load", show=level_shown),
        replace(
            change,
            key="damping",
            words="damping factor at the loudspeaker",
            unit="",
            circuit=seen,
            solve=lambda frequency: seen_transfer(seen, frequency),
            show=damping_shown(use),
        ),
    )


def level_shown(y: Complex, ideal: Complex) -> Array:
    """Level in dB of `y` against 1."""
    del ideal
    return decibels(np.abs(y))


def damping_shown(use: Use) -> Callable[[Complex, Complex], Array]:
    """From the impedance that the loudspeaker sees to the damping factor there: nominal impedance over it."""
    nominal = number(use, "nominal_impedance")
    return lambda y, _ideal: np.asarray(nominal / np.abs(y))
