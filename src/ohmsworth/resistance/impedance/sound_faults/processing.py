"""Processing of the level: automatic gain, compression, noise gates; or a gain that somebody turned meanwhile."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance import drive
from ohmsworth.resistance.impedance.sound_faults.between import noise_taken_away
from ohmsworth.resistance.impedance.sound_faults.heard import (
    floor,
    quiet_parts,
    rounding,
    spectrum_of_noise,
)
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake, spoken
from ohmsworth.resistance.impedance.tone_plan import Stretch

Array = NDArray[np.float64]

#: Levels of the same sound that differ by more than this share were not passed on alike.
_ALIKE = 0.03
#: The level check may differ by so much from the marks: they pass an inductance at other frequencies.
_CHECK = 0.08
#: Noise floors of silent parts that differ by more than this factor of power.
_FLOORS = 5.0
#: A floor of this many times the rounding's is noise; below it is the rounding's.
_ABOVE_ROUNDING = 4.0


def processing(take: PlacedTake, at_shunt: int) -> list[Doubt]:
    """A level or a noise floor that changes where it should not.

    Parameters
    ----------
    at_shunt
        Number, from 0, of the input at the shunt: its level does not depend on a contact that moves.
    """
    told = [*_levels(take, at_shunt), *_floors(take), *noise_taken_away(take)]
    if not told:
        return []
    mend = (
        "Switch off automatic gain, noise suppression, gates and every effect in the system, the driver and the recording "
        "program, do not touch the gains during a take, and record again."
    )
    return [Doubt("PROCESSED", "; ".join(told), (), mend)]


def _levels(take: PlacedTake, number: int) -> list[str]:
    """Levels of the marks, of the level check and along the tones, against each other."""
    plan, told = take.plan, []
    first, last, check = (
        _strength(take, part, number) for part in (plan.first_mark, plan.last_mark, plan.level_check)
    )
    if first and last and abs(last / first - 1) > _ALIKE:
        told.append(f"the last mark is {last / first:.3g} times as strong as the first on {spoken(number)}")
    played = _middle(drive.level_check(plan)) / _middle(drive.mark(plan))
    marks = (first + last) / 2
    if marks and check and abs(check / marks / played - 1) > _CHECK:
        told.append(
            f"the level check is {check / marks / played:.3g} times as strong against the marks as it was played"
        )
    for part in plan.main:
        begun, ended = _begun_and_ended(take, part, number)
        if begun and ended and abs(ended / begun - 1) > _ALIKE:
            told.append(
                f"the tones end {ended / begun:.3g} times as strong as they begin on {spoken(number)}"
            )
            break
    return told


def _strength(take: PlacedTake, part: Stretch, number: int) -> float:
    """Root mean square of the middle of a part, 0 where it was not recorded."""
    whole = take.stretch(part)
    if len(whole) < 0.99 * (1 + take.clock) * len(part):
        return 0.0
    return _middle(take.recording.whole(whole.start, whole.stop)[:, number])


def _middle(wave: Array) -> float:
    """Root mean square between swelling and fading, its mean taken off."""
    inside = wave[int(0.2 * len(wave)) : int(0.8 * len(wave))]
    return float(inside.std())


def _begun_and_ended(take: PlacedTake, part: Stretch, number: int) -> tuple[float, float]:
    """Levels of the first and of the last quarter of the periods: the middle one, that a lost block does not count."""
    strengths = []
    for period in take.periods(part):
        inside = take.stretch(period)
        if len(inside) >= 0.99 * (1 + take.clock) * len(period):
            strengths.append(float(take.recording.whole(inside.start, inside.stop)[:, number].std()))
    if len(strengths) < 6:
        return 0.0, 0.0
    quarter = max(len(strengths) // 4, 3)
    return float(np.median(strengths[:quarter])), float(np.median(strengths[-quarter:]))


def _floors(take: PlacedTake) -> list[str]:
    """Noise floors of the silent parts, against each other."""
    parts = quiet_parts(take)
    if len(parts) < 2:
        return []
    found = np.array([floor(spectrum_of_noise(waves), take.recording.rate) for _, waves in parts])
    least = rounding(take)
    told = []
    for number in range(2):
        low, high = int(found[:, number].argmin()), int(found[:, number].argmax())
        lowest, highest = float(found[low, number]), float(found[high, number])
        if highest <= _ABOVE_ROUNDING * least or highest <= _FLOORS * max(lowest, least):
            continue
        by = f"{10 * np.log10(highest / lowest):.0f} dB more" if lowest > 0 else "more"
        told.append(
            f"{spoken(number)} has {by} noise {parts[high][0]} than {parts[low][0]}"
            + ("" if lowest else ", where it is exactly zero")
        )
    return told
