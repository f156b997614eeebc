"""What is true of an audio interface that does not exist."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ohmsworth.adapters.simulated.sound.truth import not_negative
from ohmsworth.errors import ArgumentFault

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
#: How the leads are connected: straight, the first input is at the shunt and the second at the contact; swapped, the other
#: way round; turned, the pair at the contact is reversed. Against the return, as a resistor (the shunt) and a wire behind it (the
#: contact) are heard: along, the first input is before the shunt and the second behind it; both before, neither is behind it.
Take = Literal["straight", "swapped", "turned", "swapped and turned", "along", "both before"]
TAKES: tuple[Take, ...] = ("straight", "swapped", "turned", "swapped and turned")
AGAINST_RETURN: tuple[Take, ...] = ("along", "both before")


@dataclass(frozen=True, slots=True)
class Input:
    """One input.

    Parameters
    ----------
    full_scale
        Peak volts that read as full scale.
    gain
        Relative error of that, as a factor.
    pole
        Hertz above which it falls with first order; infinity without.
    coupling
        Hertz below which it falls with first order; 0 without.
    delay
        Seconds by which it is late.
    crosstalk, rises
        Share of the other input's volts that reads here, and hertz from which it grows with frequency:
        ``crosstalk (1 + jf/rises)``.
    common
        Share of the volts common to both legs that reads here.
    noise
        White noise in volts rms over the whole band.
    offset
        Constant volts.
    hum
        Peak volts of the mains' fundamental.
    third
        Its own third harmonic at full scale, as a share of the fundamental.
    """

    full_scale: float = 1.0
    gain: float = 1.0
    pole: float = np.inf
    coupling: float = 0.0
    delay: float = 0.0
    crosstalk: float = 0.0
    rises: float = np.inf
    common: float = 0.0
    noise: float = 0.0
    offset: float = 0.0
    hum: float = 0.0
    third: float = 0.0

    def __post_init__(self) -> None:
        not_negative(self, "coupling", "noise", "hum")
        for name in ("full_scale", "gain", "pole", "rises"):
            if not getattr(self, name) > 0:
                raise ArgumentFault(name, getattr(self, name), "more than zero")

    def transfer(self, frequency: Array) -> Complex:
        """Shares of full scale that a volt reads as, shape as `frequency` in hertz."""
        low = 1 / (1 + 1j * frequency / self.pole)
        rotated = 2j * np.pi * frequency
        # At 0 Hz the coupling lets nothing through, unless there is none.
        high = frequency / (frequency - 1j * self.coupling) if self.coupling else 1.0
        return np.asarray(self.gain / self.full_scale * low * high * np.exp(-rotated * self.delay))

    def leak(self, frequency: Array) -> Complex:
        """Share of the other input's volts that reads here, shape as `frequency`."""
        return np.asarray(self.crosstalk * (1 + 1j * frequency / self.rises))


@dataclass(frozen=True, slots=True)
class Interface:
    """Two inputs on one clock.

    Parameters
    ----------
    inputs
        The first and the second.
    clock
        Recorder's samples to player's samples of the same stretch, less one.
    jitter
        Seconds rms by which each sample is taken early or late, the same at both inputs.
    start
        Sample of the recording at which the drive begins, not a whole number; negative when its beginning was missed.
    after
        Seconds recorded after the end of the drive.
    bits
        Of a sample; None for floating point.
    mains
        Hertz.
    """

    inputs: tuple[Input, Input] = field(default_factory=lambda: (Input(), Input()))
    clock: float = 0.0
    jitter: float = 0.0
    start: float = 4800.0
    after: float = 0.2
    bits: int | None = 24
    mains: float = 50.0

    def __post_init__(self) -> None:
        not_negative(self, "jitter", "after", "mains")
        if not abs(self.clock) < 0.1:
            raise ArgumentFault("clock", self.clock, "a small fraction")
        if self.bits not in (16, 24, 32, None):
            raise ArgumentFault("bits", self.bits, "16, 24, 32 or none")
