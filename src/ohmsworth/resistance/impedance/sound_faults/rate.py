"""Rates that differ, and a recording that ends too early."""

from __future__ import annotations

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake

#: Clocks of interfaces agree to better than this.
_CLOCKS = 1e-3
#: Rates that interfaces run at.
_RATES = (8000, 11025, 16000, 22050, 24000, 32000, 44100, 48000, 88200, 96000, 176400, 192000)


def other_rate(take: PlacedTake) -> list[Doubt]:
    """Rates of player, recorder and file that do not agree."""
    plan, recording = take.plan, take.recording
    stretched = abs(take.clock) > _CLOCKS
    if not stretched and recording.rate == plan.rate:
        return []
    ran = _nearest(plan.rate * (1 + take.clock))
    words = f"the drive is made for {plan.rate} Hz, the file says {recording.rate} Hz"
    if stretched:
        words += f", and the marks lie {1 + take.clock:.4g} times as far apart as in the drive"
        words += f": as if recorded at {ran} Hz" if ran else ""
    else:
        words += f", and the marks lie as far apart as at {plan.rate} Hz"
    mend = f"Set player, recorder and file to {plan.rate} Hz, switch off conversions of rate and speed, and record again."
    return [Doubt("OTHER_RATE", words, (), mend)]


def _nearest(rate: float) -> int | None:
    return next((known for known in _RATES if abs(rate / known - 1) < _CLOCKS), None)


def cut_off(take: PlacedTake) -> list[Doubt]:
    """A recording that begins after the first mark, or ends before the last."""
    lost = take.at(take.plan.last_mark.stop) - take.recording.frames
    late = -take.at(take.plan.first_mark.start)
    doubts = []
    mend = "Start recording before playing, stop it after the last mark has sounded, and save all of it."
    if late > 1:
        words = f"the first {late / take.recording.rate:.2f} s of what was played are missing"
        doubts.append(Doubt("CUT_OFF", words, (), mend))
    if lost > 1:
        words = f"the last {lost / take.recording.rate:.2f} s of what was played are missing"
        doubts.append(Doubt("CUT_OFF", words, (), mend))
    return doubts
