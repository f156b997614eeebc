"""Everything that can be wrong with a take before anything is computed from it."""

from __future__ import annotations

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.sound_faults.clipping import clipping
from ohmsworth.resistance.impedance.sound_faults.connections import dead_input, exchanged
from ohmsworth.resistance.impedance.sound_faults.dropouts import dropouts
from ohmsworth.resistance.impedance.sound_faults.heard import Heard, heard
from ohmsworth.resistance.impedance.sound_faults.hum import hum
from ohmsworth.resistance.impedance.sound_faults.level import level_low
from ohmsworth.resistance.impedance.sound_faults.losses import losses
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake
from ohmsworth.resistance.impedance.sound_faults.processing import processing
from ohmsworth.resistance.impedance.sound_faults.rate import cut_off, other_rate
from ohmsworth.resistance.impedance.sound_faults.slips import slips


def sound_faults(
    take: PlacedTake, circuit: Circuit, at_shunt: int, ratio: float | None = None
) -> tuple[Doubt, ...]:
    """What is doubtful about a take, the causes before what follows from them.

    A take at another rate, cut off or with a dead input is told of that alone, and of clipping: the rest would mislead. Where
    it clips, or was processed or coded, that level does not tell which input is which.

    Parameters
    ----------
    at_shunt
        Number, from 0, of the input that is said to be at the shunt.
    ratio
        The contact's impedance over the shunt's at 1 kHz as it is expected; None where nobody knows.
    """
    found = [*other_rate(take), *cut_off(take)]
    if found:
        return tuple(found)
    sound = heard(take)
    dead = dead_input(sound, at_shunt)
    if dead:
        return (*clipping(take, sound), *dead)
    found, changed, level_tells = _whatever_the_leads(take, sound, at_shunt)
    if level_tells:
        found += exchanged(take, circuit, sound, at_shunt, ratio)
    return (*found, *changed)


def recorder_faults(take: PlacedTake, steady: int) -> tuple[Doubt, ...]:
    """What is doubtful about a take whatever its leads are at: the recorder, the level, the computer in between.

    Parameters
    ----------
    steady
        Number, from 0, of the input whose level does not depend on what is measured.
    """
    found = [*other_rate(take), *cut_off(take)]
    if found:
        return tuple(found)
    found, changed, _ = _whatever_the_leads(take, heard(take), steady)
    return (*found, *changed)


def _whatever_the_leads(take: PlacedTake, sound: Heard, steady: int) -> tuple[list[Doubt], list[Doubt], bool]:
    """Doubts about the recording, those about what was done to its sound, and whether levels tell of the leads all the same."""
    loudest = int(sound.tones.argmax())
    clipped = clipping(take, sound)
    # A block that stands still or twice spoils the phases too: it is told of once.
    lost = dropouts(take, sound) or slips(take, loudest)
    found = [*clipped, *lost, *hum(take, sound), *level_low(sound)]
    # A coder changes the noise too: it is told of once.
    changed = ([] if clipped else losses(take, loudest)) or processing(take, steady)
    return found, changed, not (clipped or changed)
