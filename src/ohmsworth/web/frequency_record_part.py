"""Recording from here, on the page over frequency: the interface, the take that is next, what is heard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from ohmsworth.advice.cautions import TONES_APART, TONES_LOUD, TONES_OUTPUT
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.tones_sentences import show_seconds
from ohmsworth.web.forms import Sent
from ohmsworth.web.pages import Fragment
from ohmsworth.web.recorder import LEVEL, AtHand, Recorder, kind_of
from ohmsworth.work.audio_ports import AudioDevice
from ohmsworth.work.level_check import LevelVerdict, decibels, show_level
from ohmsworth.work.record_take import take_words
from ohmsworth.work.sound_run import SoundState
from ohmsworth.work.tone_files import Kind

CAUTIONS = (TONES_APART, TONES_OUTPUT, TONES_LOUD)
#: Decibels of full scale at the lower end of a meter.
FAINTEST = -60.0
NO_DEVICE = "No device plays and records. Connect the interface, switch it on, and start the bench again."


@dataclass(frozen=True, slots=True)
class Chosen:
    """How it is recorded, as it was filled in."""

    device: str = ""
    first: str = "1"
    second: str = "2"
    outputs: str = ""
    ticked: bool = False


@dataclass(frozen=True, slots=True)
class Meter:
    """The level of one input in decibels of full scale: now, and the highest so far, as numbers and in words."""

    label: str
    now: float
    highest: float
    now_words: str
    highest_words: str


@dataclass(frozen=True, slots=True)
class HandTake:
    """A take of the contact at hand; `verdict` is "" until it is recorded."""

    kind: Kind
    file: str
    words: str
    hint: str
    verdict: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HandPart:
    """The contact at hand; `next` is the take to be recorded, None when all are; `step` says which of how many."""

    name: str
    device: str
    takes: tuple[HandTake, ...]
    next: HandTake | None
    step: str
    level_seconds: str
    take_seconds: str
    key: str


@dataclass(frozen=True, slots=True)
class SoundPart:
    """What sounds, or has sounded last."""

    key: str
    words: str
    sounds: bool
    over: bool
    held: bool
    seconds: float
    of: float
    meters: tuple[Meter, ...]
    good: bool
    sentences: tuple[str, ...]
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RecordPart:
    """The section.

    Parameters
    ----------
    study
        Whose page it is.
    looked
        Whether interfaces were looked for.
    missing
        Why there is none, in a sentence; "" where there is one.
    busy
        The study whose contact is being recorded, where it is another one.
    devices
        Number and words of each.
    chosen
        What was chosen.
    faults
        What is wrong with that.
    hand, sound
        The contact at hand, and what sounds.
    """

    study: int
    looked: bool
    missing: str = ""
    busy: int | None = None
    devices: tuple[tuple[str, str], ...] = ()
    chosen: Chosen = Chosen()
    faults: tuple[str, ...] = ()
    hand: HandPart | None = None
    sound: SoundPart | None = None
    cautions: tuple[str, ...] = CAUTIONS


@dataclass(frozen=True, kw_only=True)
class Levels(Fragment):
    """The part of the section that moves."""

    template: ClassVar[str] = "frequency_levels.html.j2"

    sound: SoundPart
    address: str


def read_chosen(sent: Sent) -> Chosen:
    """How it is to be recorded."""
    texts = (sent.text("device"), sent.text("first"), sent.text("second"), sent.text("outputs"))
    return Chosen(*texts, ticked=sent.text("ticked") == "yes")


def record_part(
    recorder: Recorder,
    study: int,
    looked: bool,
    key: str,
    holder: str,
    chosen: Chosen | None = None,
    faults: Sequence[Fault] = (),
) -> RecordPart:
    """The section as it stands; interfaces are looked for where `looked` says so and no contact is at hand.

    Parameters
    ----------
    key
        Of the sound that a button would begin.
    holder
        Of the sound that this page has begun.
    """
    hand, last = recorder.at_hand(), recorder.runs.last()
    words = tuple(str(one) for one in faults)
    if hand is not None:
        if hand.study != study:
            return RecordPart(study, True, busy=hand.study, faults=words)
        sound = None if last is None else sound_part(last.state(), hand, holder)
        return RecordPart(study, True, hand=_hand(hand, key), sound=sound, faults=words)
    if not looked:
        return RecordPart(study, False, faults=words)
    try:
        found = recorder.ports().devices.found()
    except InputRefused as refused:
        missing = " ".join(
            f"Nothing is recorded from here: found {one.found}. {one.mend}" for one in refused.faults
        )
        return RecordPart(study, True, missing=missing)
    able = [(str(number), _in_words(one)) for number, one in enumerate(found, 1) if one.inputs >= 2]
    if not able:
        return RecordPart(study, True, missing=NO_DEVICE)
    return RecordPart(
        study,
        True,
        devices=tuple(able),
        chosen=chosen or Chosen(able[0][0] if len(able) == 1 else ""),
        faults=words,
    )


def _in_words(one: AudioDevice) -> str:
    rates = ", ".join(f"{rate / 1000:g}" for rate in one.rates)
    told = f"; {rates} kHz" if rates else ""
    return f"{one}: {one.inputs} in, {one.outputs} out{told}"


def _hand(hand: AtHand, key: str) -> HandPart:
    form, bench = hand.form, hand.bench
    takes = tuple(_take(hand, number) for number in range(len(hand.takes)))
    following = next((one for one in takes if not one.verdict), None)
    name = ", ".join(
        part
        for part in (
            form.specimen,
            f"contact {form.contact}" if form.contact else "",
            form.condition,
            f"mating {form.mating}" if form.mating else "",
        )
        if part
    )
    step = "" if following is None else f"take {takes.index(following) + 1} of {len(takes)}"
    level = show_seconds(len(bench.plan.level_check) / bench.plan.rate)
    return HandPart(name, str(bench.device), takes, following, step, level, show_seconds(bench.seconds), key)


def _take(hand: AtHand, number: int) -> HandTake:
    take = hand.takes[number]
    words, *calm = take_words(hand.bench.loaded, hand.bench.channels, take)
    told = hand.told.get(kind_of(take))
    verdict = "" if told is None else "good" if told.good else "not good"
    sentences = () if told is None else told.sentences
    return HandTake(kind_of(take), take.file, words, " ".join(calm), verdict, sentences)


def sound_part(state: SoundState, hand: AtHand, holder: str) -> SoundPart:
    """What is heard, or was."""
    numbers = hand.bench.channels.inputs
    meters = tuple(
        _meter(f"input {numbers[place]}", state.peaks[place], state.highest[place]) for place in (0, 1)
    )
    told = state.told
    sentences = told.sentences if told is not None else ((state.why,) if state.why else ())
    return SoundPart(
        state.key,
        _doing(state),
        state.sounds,
        state.over,
        holder == state.key,
        min(state.seconds, state.of),
        state.of,
        meters,
        told is not None and told.good,
        sentences,
        tuple(f"{one.where}: found {one.found}. {one.mend}" for one in state.faults),
    )


def _doing(state: SoundState) -> str:
    """What is being done, or was."""
    what = "The level check" if state.what == LEVEL else f"The take {state.what}"
    if state.over:
        verdicts = {True: "is good", False: "is not good"}
        ended = "was broken off" if state.told is None else verdicts[state.told.good]
        return f"{what} {ended if not isinstance(state.told, LevelVerdict) else 'is done'}."
    if state.sounds:
        return f"Tones are playing: {what[0].lower()}{what[1:]}, {state.seconds:.0f} of {state.of:.0f} s."
    return f"{what} is recorded, and is being read."


def _meter(label: str, peak: float, highest: float) -> Meter:
    return Meter(label, _shown(peak), _shown(highest), show_level(peak), show_level(highest))


def _shown(peak: float) -> float:
    return round(min(max(decibels(peak), FAINTEST), 0.0), 1)
