"""Whether a take is good, as soon as it is recorded: by its levels, by its sound, and by what lock-in finds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import OhmsworthError
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.take import read_take
from ohmsworth.units import show
from ohmsworth.work.level_check import CLIPPED, Connected, Levels, decibels, plugs_exchanged, show_level
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.takes_sound import FATAL, LOUD, SoundDoubt, doubts_about, held_against
from ohmsworth.work.tone_files import Kind, Series

#: A tone that is less than this above the noise beside it, in decibels, is hardly heard.
HARDLY = 20.0
#: Doubts that are told, and with which a take is good all the same: the level check has asked before.
_ONLY_TOLD = ("LEVEL_LOW",)


@dataclass(frozen=True, slots=True)
class TakeTold:
    """Whether a take is good for the analysis, what to say of it, and whether anything at all can be found from it."""

    good: bool
    sentences: tuple[str, ...]
    usable: bool = True


def take_told(loaded: LoadedTakes, place: tuple[Series, Kind], levels: Levels, inputs: Connected) -> TakeTold:
    """What is to be said of the take at `place`.

    Parameters
    ----------
    loaded
        With its recording and, where there is one, that of the take which it is held against.
    levels
        What was heard of it while it was recorded.
    inputs
        What hangs where.
    """
    clips = [
        f"{inputs[number].capitalize()} clips: turn both gains down, and make every take again."
        for number in (0, 1)
        if levels.highest[number] >= CLIPPED
    ]
    try:
        take = read_take(loaded.plan, loaded.recordings[place])
    except OhmsworthError as error:
        return TakeTold(False, (*clips, f"The tones cannot be found in it. {error}"), usable=False)
    told = [
        (
            f"The take is found, {show(take.start / loaded.plan.rate, 's')} after its beginning; it peaks at "
            f"{show_level(levels.highest[0])} and {show_level(levels.highest[1])}."
        )
    ]
    if not take.shared_clock:
        told.append(
            f"Output and input run {1e6 * take.clock:+.1f} millionths apart: they have a clock each, which is allowed for. One "
            "interface for both is better."
        )
    heard, faint = _heard(take, inputs)
    others, unread = _others(loaded, place)
    doubts = doubts_about(loaded, {place: take, **others}, place)
    # Where the meter saw it clip, that was said.
    doubts = tuple(one for one in doubts if not (clips and one.doubt.code == "CLIPPED"))
    wrong = "" if place[0] in LOUD else plugs_exchanged(levels, inputs)
    bad = [*clips, *faint, *([wrong] if wrong else []), *_spoken(doubts, inputs)]
    good = not (clips or faint or wrong) and all(one.doubt.code in _ONLY_TOLD for one in doubts)
    usable = not any(one.doubt.code in FATAL for one in doubts)
    return TakeTold(good, (*told, *heard, *unread, *bad), usable)


def _heard(take: Take, inputs: Connected) -> tuple[list[str], list[str]]:
    """How far the weakest tone stands above the noise where tones should be heard, and where it hardly does."""
    well, faint = [], []
    for number in (0, 1):
        if not inputs.hears(number):
            continue
        above = _above_noise(take, number)
        words = f"The weakest tone at {inputs[number]} stands {above:.0f} dB above the noise beside it"
        if above < HARDLY:
            faint.append(f"{words}: is it connected, and is nothing humming near it?")
        else:
            well.append(f"{words}.")
    return well, faint


def _above_noise(take: Take, number: int) -> float:
    """Decibels by which the mean of the weakest tone stands above what noise makes of it."""
    noise = np.sqrt(take.tones.noise[:, number, number].real)
    return min(
        decibels(float(tone / max(left, 1e-30)))
        for tone, left in zip(np.abs(take.tones.mean[number]), noise, strict=True)
    )


def _others(
    loaded: LoadedTakes, place: tuple[Series, Kind]
) -> tuple[dict[tuple[Series, Kind], Take], tuple[str, ...]]:
    """The take that this one is held against, or a sentence that it cannot be read."""
    other = held_against(place)
    if other == place or other not in loaded.recordings:
        return {}, ()
    recording = loaded.recordings[other]
    try:
        return {other: read_take(loaded.plan, recording)}, ()
    except OhmsworthError:
        return {}, (f"It is not held against {recording.name}, in which no take can be found.",)


def _spoken(doubts: tuple[SoundDoubt, ...], inputs: Connected) -> list[str]:
    """The doubts as sentences; they count inputs as the card does."""
    told = [f"{one.doubt.words[:1].upper()}{one.doubt.words[1:]}. {one.doubt.mend}" for one in doubts]
    if told and inputs.numbers != (1, 2):
        first, second = inputs.numbers
        told.append(f"Inputs 1 and 2 of the card are inputs {first} and {second} of the interface.")
    return told
