"""What is wrong with takes by their sound, and by how they stand to each other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.errors import Fault
from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.sound_faults.all_faults import sound_faults
from ohmsworth.resistance.impedance.sound_faults.connections import leads_as_said, same_again
from ohmsworth.resistance.impedance.sound_faults.heard import heard
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.tone_files import Kind, Series

#: With one of these there is no impedance in the takes: the number would be another thing's.
FATAL = ("SAME_TAKE", "LEADS_NOT_AS_SAID", "DEAD_INPUT", "OTHER_RATE", "CUT_OFF")
#: What both inputs have to hear something of: a short leaves the one silent, an open circuit the other.
LOUD: tuple[Series, ...] = ("contact", "load")


@dataclass(frozen=True, slots=True)
class SoundDoubt:
    """A doubt about the sound of one recording."""

    file: str
    doubt: Doubt


def sound_doubts(
    loaded: LoadedTakes, takes: Mapping[tuple[Series, Kind], Take]
) -> tuple[list[Fault], tuple[SoundDoubt, ...]]:
    """Faults that leave no impedance in the takes, and doubts about the others."""
    found = [one for place in takes for one in doubts_about(loaded, takes, place)]
    faults = [
        Fault(one.file, one.doubt.words, "a take that can be used", one.doubt.mend)
        for one in found
        if one.doubt.code in FATAL
    ]
    return faults, tuple(one for one in found if one.doubt.code not in FATAL)


def doubts_about(
    loaded: LoadedTakes, takes: Mapping[tuple[Series, Kind], Take], place: tuple[Series, Kind]
) -> tuple[SoundDoubt, ...]:
    """Doubts about the sound of the take at `place`, by itself and beside what it is held against, where that is there."""
    series, kind = place
    take = _placed(loaded, takes, place)
    doubts: list[Doubt] = []
    if series in LOUD:
        at_shunt = 1 if kind.startswith("swapped") else 0
        doubts += sound_faults(take, loaded.wishes.circuit, at_shunt, _ratio(loaded, series))
    other = held_against(place)
    if other in takes:
        doubts += _beside(take, _placed(loaded, takes, other), place, other)
    return tuple(SoundDoubt(take.recording.name, doubt) for doubt in doubts)


def held_against(place: tuple[Series, Kind]) -> tuple[Series, Kind]:
    """The take beside which another has to differ: the straight one of its series, or of the contact; itself where none is."""
    series, kind = place
    return (series, "straight") if kind != "straight" else ("contact", "straight")


def _placed(
    loaded: LoadedTakes, takes: Mapping[tuple[Series, Kind], Take], place: tuple[Series, Kind]
) -> PlacedTake:
    return PlacedTake(loaded.recordings[place], loaded.plan, takes[place].start, takes[place].clock)


def _ratio(loaded: LoadedTakes, series: Series) -> float | None:
    """What is in the contact's place over the shunt, as it is expected."""
    load = loaded.known.load
    ohm = loaded.wishes.contact if series == "contact" else None if load is None else load.resistance
    return None if ohm is None else ohm / loaded.wishes.circuit.shunt.resistance


def _beside(
    take: PlacedTake, other: PlacedTake, place: tuple[Series, Kind], against: tuple[Series, Kind]
) -> list[Doubt]:
    """A take against another: whether it is the same once more and, in one series, whether the leads differ as they should."""
    if place == against:
        return []
    found = same_again(other, take)
    series, kind = place
    if found or series not in LOUD or against[0] != series:
        return found
    swapped, turned = kind.startswith("swapped"), kind.endswith("turned")
    return leads_as_said(heard(other), heard(take), swapped, turned)
