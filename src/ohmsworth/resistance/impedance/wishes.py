"""What is wished for before there is a plan, and the plan that comes of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.crest import crest_factor, low_crest_phases
from ohmsworth.resistance.impedance.levels import amplitudes_for
from ohmsworth.resistance.impedance.tone_plan import TonePlan, Way
from ohmsworth.resistance.impedance.tones import choose_cycles

#: Periods in seconds that are tried in turn where none is wished for: the shortest has the fewest samples to look at.
PERIODS = (1.0, 2.0, 4.0)
#: Seconds of the parts beside the tones: silence at both ends, level check, pauses, each mark; and of the run-in at least.
SILENCE, LEVEL, GAP, MARK, RUN_IN = 1.0, 10.0, 0.5, 0.5, 1.0
#: Decimals of amplitudes and phases: processors differ beyond them, and the same wishes shall give the same plan on all.
_DIGITS = 9


@dataclass(frozen=True, slots=True)
class Wishes:
    """What somebody wants to find out, and with what.

    Parameters
    ----------
    circuit
        What the drive meets before the contact.
    contact
        Expected resistance of the contact in ohm.
    current
        Ampere through the contact: the peak, or where `rms` the root mean square of what sounds at once.
    rms
        How `current` is meant.
    low, high
        Ends of the range of tones in hertz.
    tones
        How many.
    way
        All together, or one after the other.
    seconds
        How long the tones are listened to in a take, all of them.
    rate
        Samples a second.
    period
        Seconds of a period; None: the shortest of `PERIODS` that has such tones.
    noise
        Of each input, in V/√Hz.
    turned
        Whether the takes are repeated with the sense leads of the contact exchanged.
    channels
        Of the file that is played: one, or two alike.
    uncertainty
        Standard uncertainty of R, in ohm, that noise may leave at any tone; None where nothing is wished.
    level
        Seconds of the level check, which the gains are set by.
    """

    circuit: Circuit
    contact: float
    current: float
    rms: bool = False
    low: float = 20.0
    high: float = 20e3
    tones: int = 11
    way: Way = "together"
    seconds: float = 60.0
    rate: int = 48_000
    period: float | None = None
    noise: float = 2e-6 / 20e3**0.5
    turned: bool = False
    channels: int = 2
    uncertainty: float | None = None
    level: float = LEVEL

    @property
    def takes(self) -> int:
        """How many recordings there will be."""
        return 4 if self.turned else 2


def plan_for(wishes: Wishes) -> TonePlan:
    """The plan for `wishes`: the same wishes give the same plan.

    Raises
    ------
    ArgumentFault
        Where there are no such tones ("tones", "low", "high", "period"), the output cannot give the current ("current"),
        or the time is less than a period of every tone ("seconds").
    """
    period, cycles = _cycles(wishes)
    together = wishes.way == "together"
    weights = np.ones(len(cycles))
    phases = low_crest_phases(cycles, weights) if together else np.zeros(len(cycles))
    crest = crest_factor(cycles, weights, phases) if together else float(np.sqrt(2))
    sounding = weights if together else np.ones(1)
    amplitudes = amplitudes_for(
        wishes.circuit, wishes.contact, wishes.current, crest, sounding, wishes.rms
    ) * np.ones(len(cycles))
    turns = 1 if together else len(cycles)
    periods = round(wishes.seconds * wishes.rate / (period * turns))
    if periods < 1:
        least = turns * period / wishes.rate
        raise ArgumentFault("seconds", wishes.seconds, f"{least:g} s or more, a period of every tone")
    lengths = {
        name: round(seconds * wishes.rate)
        for name, seconds in (("silence", SILENCE), ("level", wishes.level), ("gap", GAP), ("mark", MARK))
    }
    return TonePlan(
        rate=wishes.rate,
        period=period,
        cycles=cycles,
        amplitudes=amplitudes.round(_DIGITS),
        phases=phases.round(_DIGITS),
        periods=periods,
        run_in=int(np.ceil(RUN_IN * wishes.rate / period)),
        way=wishes.way,
        **lengths,
    )


def _cycles(wishes: Wishes) -> tuple[int, np.ndarray]:
    """Samples of the period and cycles of the tones."""
    tried = PERIODS if wishes.period is None else (wishes.period,)
    for seconds in tried:
        period = round(seconds * wishes.rate)
        try:
            return period, choose_cycles(wishes.rate, period, wishes.low, wishes.high, wishes.tones)
        except ArgumentFault as fault:
            if fault.name != "tones" or seconds == tried[-1]:
                raise
    raise AssertionError("there is always a last period")
