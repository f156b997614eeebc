"""Leads: an input that hears nothing, inputs exchanged, a take that is another one once more, leads that were not changed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.drive import peak
from ohmsworth.resistance.impedance.sound_faults.heard import Heard
from ohmsworth.resistance.impedance.sound_faults.placed import BLOCK, PlacedTake, spoken

Array = NDArray[np.float64]

#: An input is dead when its level check is no more than so many times the noise, or this share of the other input's.
_OF_NOISE, _OF_OTHER = 5.0, 3e-4
#: An input with tones of this root mean square is driven far beyond full scale: the other may read its crosstalk.
_OVERDRIVEN, _CROSSTALK = 0.75, 0.02
#: Exchanged: the level is off by more than the first, and by less than the second if they are exchanged (logarithms).
_OFF, _FITS = 0.5, 0.25
#: A contact may differ from what was expected by this factor (logarithm) before inputs look exchanged.
_UNEXPECTED = float(np.log(3))


def dead_input(sound: Heard, at_shunt: int) -> list[Doubt]:
    """An input that hears hardly anything of the level check.

    Parameters
    ----------
    at_shunt
        Number, from 0, of the input at the shunt.
    """
    strength = np.abs(sound.check)
    overdriven = sound.tones > _OVERDRIVEN
    share = np.where(overdriven[::-1], _CROSSTALK, _OF_OTHER)
    dead = strength <= np.maximum(_OF_NOISE * sound.grass, share * strength[::-1])
    if not dead.any():
        return []
    if dead.all():
        words = "neither input hears the level check"
        mend = (
            "See that the drive is played at the output that is connected, that shunt and contact lie in its row, and that the "
            "recording program records these inputs."
        )
    elif dead[at_shunt] and overdriven[1 - at_shunt]:
        words = f"{spoken(at_shunt)}, at the shunt, hears hardly anything, and the other one far too much: no current flows"
        mend = "The contact is open, or the way back from it: close it, or look at the leads."
    elif dead[at_shunt]:
        words = f"{spoken(at_shunt)}, at the shunt, hears hardly anything of the level check"
        mend = "The shunt is bridged, or its leads are off, or no current flows: look at these leads, the shunt and the row."
    elif overdriven[at_shunt]:
        words = (
            f"{spoken(1 - at_shunt)}, at the contact, hears hardly anything, and the other one far too much"
        )
        mend = "The shunt is open, or the way to it: look at its ends."
    else:
        words = f"{spoken(1 - at_shunt)}, at the contact, hears hardly anything of the level check"
        mend = "Look at its leads; if the contact is so good, use a smaller shunt or more current."
    return [Doubt("DEAD_INPUT", words, (), mend)]


def exchanged(
    take: PlacedTake, circuit: Circuit, sound: Heard, at_shunt: int, ratio: float | None = None
) -> list[Doubt]:
    """Inputs that look exchanged: by the shunt's level where full scale is known, or by what the contact should be.

    Parameters
    ----------
    at_shunt
        Number, from 0, of the input that is said to be at the shunt.
    ratio
        The contact's impedance over the shunt's at 1 kHz as it is expected, where somebody knows; by much less than to a
        factor of three nobody need know it.
    """
    strength = np.abs(sound.check)
    if not strength.all():
        return []
    if circuit.inputs is not None:
        volts = strength * np.array(circuit.inputs)
        said = _off(volts, circuit, peak(take.plan), at_shunt)
        otherwise = _off(volts, circuit, peak(take.plan), 1 - at_shunt)
        if abs(said) > _OFF and abs(otherwise) < _FITS:
            return [_exchange(at_shunt, f"{np.exp(said):.2g} times the voltage that the shunt should have")]
    if ratio is not None:
        scale = np.ones(2) if circuit.inputs is None else np.array(circuit.inputs)
        volts = strength * scale
        found = float(volts[1 - at_shunt] / volts[at_shunt])
        off, turned = abs(np.log(found / ratio)), abs(np.log(1 / found / ratio))
        if off > _UNEXPECTED and turned < off / 2:
            return [
                _exchange(
                    at_shunt, f"{1 / found:.2g} times the contact's voltage; {1 / ratio:.2g} is expected"
                )
            ]
    return []


def _off(volts: Array, circuit: Circuit, played: float, at_shunt: int) -> float:
    """Logarithm of an input's voltage over what the shunt should have, if the shunt is there."""
    shunt = circuit.shunt.resistance
    contact = shunt * float(volts[1 - at_shunt] / volts[at_shunt])
    return float(np.log(volts[at_shunt] / (shunt * circuit.current(played * circuit.output, contact))))


def _exchange(at_shunt: int, how: str) -> Doubt:
    words = f"the inputs look exchanged: {spoken(at_shunt)}, said to be at the shunt, has {how}"
    mend = (
        "Follow the leads from shunt and contact to the inputs; say which is which, or connect them as said."
    )
    return Doubt("INPUTS_EXCHANGED", words, (), mend)


def same_again(take: PlacedTake, other: PlacedTake) -> list[Doubt]:
    """Two takes that are one and the same recording: sample by sample, wherever each was cut."""
    shift = round(other.start - take.start)
    first = max(take.signal.start, -shift, 0)
    last = min(take.signal.stop, take.recording.frames, other.recording.frames - shift)
    if last - first < 1000:
        return []
    moving = np.zeros(2)
    for one, two in zip(
        take.recording.read(first, last, BLOCK),
        other.recording.read(first + shift, last + shift, BLOCK),
        strict=False,
    ):
        if len(one) != len(two) or (one != two).any():
            return []
        moving = np.maximum(moving, np.ptp(one, axis=0))
    if not moving.any():
        return []
    words = f"{take.recording.name} and {other.recording.name} are the same recording"
    return [
        Doubt(
            "SAME_TAKE", words, (), "Name another file for one of them, or record it with the leads changed."
        )
    ]


def leads_as_said(sound: Heard, other: Heard, swapped: bool, turned: bool) -> list[Doubt]:
    """Whether the leads differ between two takes as they are said to, by the ratio of the inputs at the level check.

    Parameters
    ----------
    other
        Of the second take.
    swapped, turned
        Whether, between the takes, the inputs were exchanged, and whether the contact's pair was reversed.
    """
    if not (np.abs(sound.check).all() and np.abs(other.check).all()):
        return []
    first, second = (one.check[1] / one.check[0] for one in (sound, other))
    fits = {
        (exchange, reverse): abs(
            np.log(second / ((1 / first if exchange else first) * (-1 if reverse else 1)))
        )
        for exchange in (False, True)
        for reverse in (False, True)
    }
    best = min(fits, key=lambda one: fits[one])
    # Equal voltages at shunt and contact look the same either way round.
    if best == (swapped, turned) or fits[best] > 0.3 or fits[swapped, turned] < 3 * fits[best] + 0.1:
        return []
    words = f"between two takes the leads were {_told(*best)}, but said to be {_told(swapped, turned)}"
    mend = "Look at the names of the files; if they are right, change the leads as asked and record again."
    return [Doubt("LEADS_NOT_AS_SAID", words, (), mend)]


def _told(swapped: bool, turned: bool) -> str:
    words = [word for word, there in (("swapped", swapped), ("turned", turned)) if there]
    return " and ".join(words) or "left alone"
