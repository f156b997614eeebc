"""The recordings of a folder, read: their takes, and what is wrong or doubtful about them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.sound_faults.all_faults import recorder_faults
from ohmsworth.resistance.impedance.sound_faults.connections import same_again
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake
from ohmsworth.resistance.impedance.take import read_take
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.work.capacitance.loaded import BOTH, STANDARDS, LoadedCapacitance
from ohmsworth.work.takes_sound import FATAL, SoundDoubt

#: Input, from 0, that hears what stands before the resistor.
SOURCE = 0
#: A tone is heard where it is so many times its noise.
_HEARD = 10.0
#: Both inputs at one place read alike but for so large a factor; behind a resistor none reads more than before it, but for this.
_GAINS, _MORE = 2.0, 1.02
_LEADS = "Follow the leads: input 1 before the resistor, input 2 behind it."


@dataclass(frozen=True, slots=True, eq=False)
class HeardTakes:
    """Takes by the names of their recordings, and doubts about their sound."""

    takes: Mapping[str, Take]
    doubts: tuple[SoundDoubt, ...]


def hear(loaded: LoadedCapacitance, plan: TonePlan) -> HeardTakes:
    """Every recording of the folder.

    Raises
    ------
    InputRefused
        With all faults at once, those of recordings that cannot be opened among them.
    """
    faults, doubts = list(loaded.faults), []
    takes: dict[str, Take] = {}
    placed: dict[str, PlacedTake] = {}
    for stem, recording in loaded.recordings.items():
        try:
            take = read_take(plan, recording)
        except InputRefused as refused:
            faults += refused.faults
            continue
        one = PlacedTake(recording, plan, take.start, take.clock)
        found = list(recorder_faults(one, SOURCE))
        found += [same for other in placed.values() for same in same_again(other, one)]
        faults += [_fault(recording.name, doubt) for doubt in found if doubt.code in FATAL]
        doubts += [SoundDoubt(recording.name, doubt) for doubt in found if doubt.code not in FATAL]
        takes[stem], placed[stem] = take, one
    faults += _leads(loaded, takes)
    if faults:
        raise InputRefused(tuple(faults))
    return HeardTakes(takes, tuple(doubts))


def _fault(file: str, doubt: Doubt) -> Fault:
    return Fault(file, doubt.words, "a take that can be used", doubt.mend)


def _leads(loaded: LoadedCapacitance, takes: Mapping[str, Take]) -> list[Fault]:
    """What the levels say of the leads, against what the names of the recordings say."""
    faults = []
    for stem, take in takes.items():
        name = loaded.recordings[stem].name
        silent = [number for number in (0, 1) if not _hears(take, number)]
        # A wire that is a short leaves next to nothing at the second input, and never nothing at all.
        whole = stem in STANDARDS or not take.tones.mean.all()
        if SOURCE in silent or (silent and whole):
            told = " and ".join(f"input {number + 1}" for number in silent)
            expected = "tones at both inputs" if whole else "tones at input 1"
            faults.append(Fault(name, f"next to nothing on {told}", expected, f"{_LEADS} Then record again."))
    if faults or BOTH not in takes:
        return faults
    gains = _second_over_first(takes[BOTH])
    if not 1 / _GAINS < gains < _GAINS:
        found = f"{gains:.2g} times as much on input 2 as on input 1"
        mend = "Both inputs go before the resistor for this take, and their gains are set alike."
        faults.append(
            Fault(
                loaded.recordings[BOTH].name, found, "about as much on both inputs", f"{mend} Record again."
            )
        )
        return faults
    for stem, take in takes.items():
        share = _second_over_first(take) / gains
        if stem != BOTH and share > _MORE:
            found = f"{share:.3g} times as much behind the resistor as before it"
            faults.append(
                Fault(
                    loaded.recordings[stem].name,
                    found,
                    "less behind it than before it",
                    f"The inputs are exchanged, or a gain was touched. {_LEADS} Then record again.",
                )
            )
    return faults


def _hears(take: Take, number: int) -> bool:
    """Whether more than half of the tones stand out of the noise of an input."""
    strength = np.abs(take.tones.mean[number])
    noise = np.sqrt(take.tones.noise[:, number, number].real)
    return bool(np.median(strength - _HEARD * noise) > 0)


def _second_over_first(take: Take) -> float:
    """At the lowest tone, where no capacitance takes anything away."""
    mean = take.tones.mean
    return float(np.abs(mean[1, 0] / mean[0, 0]))
