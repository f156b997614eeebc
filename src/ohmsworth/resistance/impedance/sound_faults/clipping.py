"""Clipping: samples at full scale, and tops that are flat below it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.drive import one_period
from ohmsworth.resistance.impedance.sound_faults.heard import Heard
from ohmsworth.resistance.impedance.sound_faults.placed import BLOCK, PlacedTake, spoken

Array = NDArray[np.float64]

#: A sample so near to the largest one lies on its top.
_TOP = 1e-3
#: Tops are flat when there are so many more samples on them than the drive has, or more than this share of all.
_MORE, _SHARE = 5.0, 2e-3


def clipping(take: PlacedTake, sound: Heard) -> list[Doubt]:
    """An input that clips, with how often and where first."""
    doubts = []
    for number in range(2):
        count, first = _at_full_scale(take, number)
        if count:
            words = f"{spoken(number)} is at full scale in {count} samples, first at {take.told(first)}"
            doubts.append(Doubt("CLIPPED", words, (), _MEND))
            continue
        share = _on_top(take, number, float(sound.peak[number]))
        if share > _SHARE + _MORE * _tops_of_drive(take):
            words = (
                f"the tops of {spoken(number)} are flat at {sound.peak[number]:.2g} of full scale: "
                f"{100 * share:.2g} % of the samples lie there"
            )
            doubts.append(Doubt("CLIPPED", words, (), _MEND))
    return doubts


_MEND = (
    "Turn the gain of both inputs down alike, until the level check peaks at half of full scale, and record again; if the "
    "tops stay flat, an input stage is overdriven: play more softly."
)


def _at_full_scale(take: PlacedTake, number: int) -> tuple[int, int]:
    """Samples at full scale, and the first of them."""
    step = 2.0 ** (1 - take.recording.bits) if take.recording.bits else 1e-6
    count, first, at = 0, 0, 0
    for block in take.recording.read(0, take.recording.frames, BLOCK):
        wave = block[:, number]
        # A floating sample may lie beyond full scale without harm.
        full = (wave >= 1 - 1.5 * step) | (wave <= -1 + 0.5 * step)
        if take.recording.bits is None:
            full &= np.abs(wave) <= 1 + 1e-6
        if full.any():
            first = first if count else at + int(full.argmax())
            count += int(full.sum())
        at += len(wave)
    return count, first


def _on_top(take: PlacedTake, number: int, peak: float) -> float:
    """Share of the samples of the tones that lie on the largest one."""
    if not peak:
        return 0.0
    near = max(_TOP * peak, 2 * 2.0 ** (1 - take.recording.bits) if take.recording.bits else 0.0)
    if near > 0.02 * peak:
        return 0.0  # too faint to have a form
    count = samples = 0
    for part in take.plan.main:
        inside = take.stretch(part)
        for block in take.recording.read(inside.start, inside.stop, BLOCK):
            count += int((np.abs(block[:, number]) >= peak - near).sum())
            samples += len(block)
    return count / max(samples, 1)


def _tops_of_drive(take: PlacedTake) -> float:
    """The same share for the tones as they are played."""
    plan = take.plan
    if plan.way == "in turn":
        return float(2 / np.pi * np.arccos(1 - _TOP))
    wave = np.abs(one_period(plan))
    return float((wave >= (1 - _TOP) * wave.max()).mean())
