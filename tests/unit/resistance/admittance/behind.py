"""Takes as the lock-in leaves them, of a resistor and something behind it, with planted gains, crosstalk and noise."""

from dataclasses import dataclass

import numpy as np

from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.curve import Complex
from ohmsworth.resistance.impedance.phasors import Lines, Take
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for

_CIRCUIT = Circuit(Shunt(1e4), series=1e4, output=1.0)
#: The tones of a new capacitance.toml.
PLAN = plan_for(
    Wishes(_CIRCUIT, 0.0, _CIRCUIT.current(0.25, 0.0), low=200.0, high=12e3, tones=9, seconds=10.0, level=4.0)
)
FREQUENCY = PLAN.frequencies
TURN = 2j * np.pi * FREQUENCY
DEGREES = 78.0


@dataclass(frozen=True)
class TrueDivider:
    """What is true: ohm, what input 2 and the leads have (siemens), gain of input 2 over 1, crosstalk onto 2 and back, noise."""

    resistance: float = 1e4
    own: Complex | None = None
    gain: complex = 1.0
    onto: complex = 0.0
    back: complex = 0.0
    noise: float = 0.0

    def take(self, share: Complex, rng: np.random.Generator | None = None) -> Take:
        """A take in which `share` of the first input's volts stands at the second, shape (tones,)."""
        first, second = PLAN.amplitudes, PLAN.amplitudes * share
        mean = np.stack([first + self.back * second, self.gain * (second + self.onto * first)])
        if rng is not None:
            parts = rng.normal(size=(2, *mean.shape))
            mean = mean + (parts[0] + 1j * parts[1]) * self.noise / np.sqrt(2)
        told = np.tile(max(self.noise, 1e-12) ** 2 * np.eye(2, dtype=complex), (len(FREQUENCY), 1, 1))
        lines = Lines(PLAN.cycles, mean[None], told, np.full(len(FREQUENCY), DEGREES))
        return Take(lines, lines, 0.0, 0.0, 0.0)

    def joined(self, rng: np.random.Generator | None = None) -> Take:
        """Both inputs before the resistor."""
        return self.take(np.ones(len(FREQUENCY), complex), rng)

    def behind(self, wire: Complex | float = 0.0, rng: np.random.Generator | None = None) -> Take:
        """A wire of so many siemens behind it: a divider of the resistor and all that hangs there (Kirchhoff)."""
        own = np.zeros(len(FREQUENCY), complex) if self.own is None else self.own
        return self.take(1 / (1 + self.resistance * (own + wire)), rng)
