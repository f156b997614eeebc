"""Everything that can be wrong with a take before anything is computed from it."""

from __future__ import annotations

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.sound_faults.clipping import clipping
from ohmsworth.resistance.impedance.sound_faults.connections import dead_input, exchanged
from ohmsworth.resistance.impedance.sound_faults.dropouts import dropouts
from ohmsworth.resistance.impedance.sound_faults.heard import heard
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
    loudest = int(sound.tones.argmax())
    clipped = clipping(take, sound)
    dead = dead_input(sound, at_shunt)
    if dead:
        return (*clipped, *dead)
    # A block that stands still or twice spoils the phases too: it is told of once.
    lost = dropouts(take, sound) or slips(take, loudest)
    found = [*clipped, *lost, *hum(take, sound), *level_low(sound)]
    # A coder changes the noise too: it is told of once.
    changed = ([] if clipped else losses(take, loudest)) or processing(take, at_shunt)
    if not (clipped or changed):
        found += exchanged(take, circuit, sound, at_shunt, ratio)
    found += changed
    return tuple(found)
