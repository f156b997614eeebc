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
_LOUD: tuple[Series, ...] = ("contact", "load")


@dataclass(frozen=True, slots=True)
class SoundDoubt:
    """A doubt about the sound of one recording."""

    file: str
    doubt: Doubt


def sound_doubts(
    loaded: LoadedTakes, takes: Mapping[tuple[Series, Kind], Take]
) -> tuple[list[Fault], tuple[SoundDoubt, ...]]:
    """Faults that leave no impedance in the takes, and doubts about the others."""
    placed = {
        place: PlacedTake(loaded.recordings[place], loaded.plan, take.start, take.clock)
        for place, take in takes.items()
    }
    found: list[SoundDoubt] = []
    for (series, kind), take in placed.items():
        name = take.recording.name
        if series in _LOUD:
            at_shunt = 1 if kind.startswith("swapped") else 0
            doubts = sound_faults(take, loaded.wishes.circuit, at_shunt, _ratio(loaded, series))
            found += [SoundDoubt(name, doubt) for doubt in doubts]
        found += [SoundDoubt(name, doubt) for doubt in _beside(placed, series, kind)]
    faults = [
        Fault(one.file, one.doubt.words, "a take that can be used", one.doubt.mend)
        for one in found
        if one.doubt.code in FATAL
    ]
    return faults, tuple(one for one in found if one.doubt.code not in FATAL)


def _ratio(loaded: LoadedTakes, series: Series) -> float | None:
    """What is in the contact's place over the shunt, as it is expected."""
    load = loaded.known.load
    ohm = loaded.wishes.contact if series == "contact" else None if load is None else load.resistance
    return None if ohm is None else ohm / loaded.wishes.circuit.shunt.resistance


def _beside(placed: Mapping[tuple[Series, Kind], PlacedTake], series: Series, kind: Kind) -> list[Doubt]:
    """A take against the straight one of its own series, and against the contact's where it is another's."""
    take, other = placed[series, kind], placed.get((series, "straight"))
    if kind == "straight":
        first = placed.get(("contact", "straight"))
        return [] if series == "contact" or first is None else same_again(first, take)
    if other is None:
        return []
    found = same_again(other, take)
    if found or series not in _LOUD:
        return found
    swapped, turned = kind.startswith("swapped"), kind.endswith("turned")
    return leads_as_said(heard(other), heard(take), swapped, turned)
