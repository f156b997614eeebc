"""How much faster the recorder counts than the player: first by the marks, then by the turning of the tones."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.resistance.impedance.locate import Place
from ohmsworth.resistance.impedance.lockin import Timing, demodulate
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.windows import Windows

#: Tones that are asked; the highest turn most.
ASKED = 6
#: Spots that are looked at, a window of two periods each.
SPOTS, ONE, NONE = 5, Windows(1, 1), np.empty(0)
#: Turning, in radian over the main part, below which the clocks pass for one: both inputs turn alike, and what is lost of a
#: tone is the square of it.
ONE_CLOCK = 0.01
#: Standard uncertainty of where a mark lies, in samples; what is left where the tones cannot be asked.
MARK_UNCERTAINTY = 0.05


@dataclass(frozen=True, slots=True)
class Clock:
    """Difference of the clocks as a fraction, its standard uncertainty, and whether they pass for one."""

    difference: float
    uncertainty: float
    shared: bool


def read_clock(plan: TonePlan, recording: Recording, place: Place) -> Clock:
    """Follow the phase of the highest tones from spot to spot; the louder of the inputs tells."""
    stretch = plan.main[-1]
    tones = (plan.cycles[-1:] if plan.way == "in turn" else plan.cycles[-ASKED:]).astype(float)
    apart = np.sqrt(2) * MARK_UNCERTAINTY / (plan.last_mark.start - plan.first_mark.start)
    difference, uncertainty = place.clock, float(apart)
    at = _spots(plan)
    if len(at) > 2:
        scale = 1 + place.clock
        lines = np.concatenate(
            [
                demodulate(
                    recording, Timing(place.start + begin * scale, scale, plan.period), ONE, tones, NONE
                )[0]
                for begin in (stretch.start + at * plan.period).tolist()
            ]
        )
        louder = lines[:, int(np.abs(lines).mean(axis=(0, 2)).argmax())]
        slope, spread = _turning(louder, at.astype(float))
        weight = np.abs(louder).mean(axis=0) ** 2 * tones**2
        difference = float(scale * (1 - (weight * slope / tones).sum() / weight.sum()) - 1)
        uncertainty = float(np.sqrt(((weight * spread / tones) ** 2).sum()) / weight.sum())
    turned = 2 * np.pi * abs(difference) * plan.cycles[-1] * plan.periods
    return Clock(difference, uncertainty, bool(turned < ONE_CLOCK))


def _spots(plan: TonePlan) -> np.ndarray:
    """Periods at which a spot, two periods long, begins: spread evenly over the last stretch of the main part."""
    return np.unique(np.linspace(0, plan.periods - ONE.periods, SPOTS).astype(int))


def _turning(lines: np.ndarray, at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Cycles a period that each line turns, and the standard error; lines of shape (spots, lines) read `at` these periods."""
    # Spots are read by one clock each, the phase of each from its own beginning: tones have whole cycles up to there.
    phase = np.unwrap(np.angle(lines), axis=0) / (2 * np.pi)
    away = at - at.mean()
    square = (away**2).sum()
    slope = (away[:, None] * phase).sum(axis=0) / square
    left = phase - phase.mean(axis=0) - away[:, None] * slope
    return slope, np.sqrt((left**2).sum(axis=0) / (len(at) - 2) / square)
