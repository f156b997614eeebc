"""A take, played and recorded from here: which is next, on what device, at which level, and whether it is good."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ohmsworth.errors import Fault, InputRefused, OhmsworthError, nearest_name, shorten
from ohmsworth.report.tones_answer import RecordingAnswer
from ohmsworth.resistance.impedance.drive import drive, peak
from ohmsworth.resistance.impedance.levels import FULLEST, level_of
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.take import read_take
from ohmsworth.resistance.impedance.tone_plan import Stretch, TonePlan
from ohmsworth.units import show
from ohmsworth.work.audio_ports import (
    Array,
    AudioDevice,
    AudioDevices,
    Channels,
    Played,
    Sound,
    StageRecording,
)
from ohmsworth.work.level_check import (
    CLIPPED,
    Connected,
    LevelMeter,
    Levels,
    LevelVerdict,
    OnLevel,
    decibels,
    level_verdict,
    show_level,
)
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.tone_files import PLAN
from ohmsworth.work.tones import recordings_of

#: Samples of a drive that are made at a time.
BLOCK = 1 << 17
#: A tone that is less than this above the noise beside it, in decibels, is hardly heard.
HARDLY = 20.0
#: Names that a message lists.
_LISTED = 6


class TakeSpoiled(InputRefused):
    """Something was lost while a take was recorded; nothing of it was kept."""


@dataclass(frozen=True, slots=True)
class RecordingPorts:
    """What plays and records, what keeps a recording, and what opens it again."""

    devices: AudioDevices
    stage: StageRecording
    opened: OpenRecording


@dataclass(frozen=True, slots=True)
class Bench:
    """What a folder's takes are recorded with.

    Parameters
    ----------
    folder
        Where the takes go.
    loaded
        What the folder holds.
    plan
        What is played.
    device, channels
        On what.
    """

    folder: Path
    loaded: LoadedTones
    plan: TonePlan
    device: AudioDevice
    channels: Channels

    @property
    def seconds(self) -> float:
        """Of a take."""
        return self.plan.length / self.plan.rate


@dataclass(frozen=True, slots=True)
class TakeTold:
    """Whether a take is good for the analysis, and what to say of it."""

    good: bool
    sentences: tuple[str, ...]


def plan_of(loaded: LoadedTones) -> TonePlan:
    """The plan of a folder's takes.

    Raises
    ------
    InputRefused
        When there is none, or it is louder than an output plays without distortion.
    """
    if loaded.begin is not None or loaded.plan is None:
        mend = "Run 'ohmsworth tones FOLDER' first, and connect what the wiring card draws."
        raise InputRefused((Fault(PLAN, "no plan that can be read", "what 'ohmsworth tones' wrote", mend),))
    highest = peak(loaded.plan)
    if highest > FULLEST * (1 + 1e-6):
        found, expected = f"tones that peak at {highest:.3g} of full scale", f"{FULLEST:g} or less"
        mend = "Run 'ohmsworth tones FOLDER' again: a plan is not edited by hand."
        raise InputRefused((Fault(PLAN, found, expected, mend),))
    return loaded.plan


def chosen_device(found: Sequence[AudioDevice], wanted: str | None) -> AudioDevice:
    """The device with a name, a part of it, or a number of the list; the only one where none is named.

    Raises
    ------
    InputRefused
        When there is none, or more than one.
    """
    if not found:
        mend = "Connect the interface, switch it on, and look with --list."
        raise InputRefused((Fault("audio devices", "none", "one that plays and records", mend),))
    names = tuple(str(one) for one in found)
    if wanted is None:
        fits = [one for one in found if one.inputs >= 2]
        if len(fits) == 1:
            return fits[0]
        found_words = f"{len(found)} devices: {_listed(names)}"
        mend = "Name one with --device: tones are not played on whatever comes first."
        raise InputRefused((Fault("--device", found_words, "the interface that the card is wired to", mend),))
    if wanted.isascii() and wanted.isdigit() and 1 <= int(wanted) <= len(found):
        return found[int(wanted) - 1]
    low = wanted.lower()
    fits = [one for one in found if low in (one.name.lower(), str(one).lower())]
    fits = fits or [one for one in found if low in str(one).lower()]
    if len(fits) == 1:
        return fits[0]
    if fits:
        mend = "Give more of the name, or the number that --list shows."
        told = f"{shorten(wanted)}, which fits {_listed([str(one) for one in fits])}"
        raise InputRefused((Fault("--device", told, "one device", mend),))
    near = nearest_name(wanted, tuple(one.name for one in found))
    mend = f"Is it {near}?" if near else f"There is {_listed(names)}."
    raise InputRefused((Fault("--device", shorten(wanted), "the name of a device", mend),))


def _listed(names: Sequence[str]) -> str:
    more = f", and {len(names) - _LISTED} more" if len(names) > _LISTED else ""
    return f"{'; '.join(names[:_LISTED])}{more}"


def all_takes(loaded: LoadedTones) -> tuple[RecordingAnswer, ...]:
    """The takes that the card asks for, in their order."""
    return recordings_of(loaded.wishes.turned)


def waiting_takes(loaded: LoadedTones) -> tuple[RecordingAnswer, ...]:
    """Those that are not in the folder yet."""
    there = {_stem(name) for name in loaded.recordings}
    return tuple(one for one in all_takes(loaded) if _stem(one.file) not in there)


def named_take(loaded: LoadedTones, name: str, replace: bool) -> RecordingAnswer:
    """The take that is called so.

    Raises
    ------
    InputRefused
        When there is no such take, or a recording of it that must not be replaced.
    """
    takes = {_stem(one.file): one for one in all_takes(loaded)}
    take = takes.get(name.lower().removesuffix(".wav"))
    if take is None:
        mend = "Set turned = true in tones.toml for the turned ones, and run 'ohmsworth tones' again."
        expected = " or ".join(takes)
        raise InputRefused((Fault("--take", shorten(name), expected, mend),))
    there = [one for one in loaded.recordings if _stem(one) == _stem(take.file)]
    if there and (not replace or there != [take.file]):
        mend = "Move it elsewhere" + (", or say --replace." if there == [take.file] else ".")
        found = f"a recording that is there already ({' and '.join(there)})"
        raise InputRefused((Fault(take.file, found, "a take that is not made yet", mend),))
    return take


def _stem(name: str) -> str:
    """What a recording is called; the two files of a pair are called alike."""
    return name.lower().rpartition(".")[0].removesuffix("-1").removesuffix("-2")


def take_words(loaded: LoadedTones, channels: Channels, take: RecordingAnswer) -> tuple[str, ...]:
    """Which take it is, and what to connect for it."""
    takes = all_takes(loaded)
    number = takes.index(take)
    first, second = channels.inputs
    wired = f"{take.first_input} on input {first}, {take.second_input} on input {second}"
    count = f"Take {number + 1} of {len(takes)} ({take.file}):"
    if number == 0:
        return (f"{count} connect as the card draws it: {wired}.",)
    calm = "Touch nothing else: neither the gains, nor the contact."
    if take.turned and not takes[number - 1].turned:
        turn = "exchange + and − of the contact's sense leads at its input, and have the plugs as in the first take"
        return (f"{count} {turn}: {wired}.", calm)
    return (f"{count} exchange the two plugs at the inputs: {wired}.", calm)


def connected(bench: Bench, take: RecordingAnswer) -> Connected:
    """What hangs at the inputs in a take."""
    level = level_of(bench.plan, bench.loaded.wishes.circuit, bench.loaded.wishes.contact)
    volts = {"shunt": level.shunt_voltage, "contact": level.contact_voltage}
    parts = (take.first_input, take.second_input)
    return Connected(bench.channels.inputs, parts, (volts[parts[0]], volts[parts[1]]))


def check_level(
    ports: RecordingPorts, bench: Bench, take: RecordingAnswer, on_level: OnLevel
) -> LevelVerdict:
    """Play the level check alone, keep nothing, and say what to do with the gains.

    Raises
    ------
    InputRefused
        When the device does not do it.
    """
    meter = LevelMeter(bench.plan.rate, on_level)
    sound = _sound(bench.plan, bench.plan.level_check)
    played = ports.devices.play_and_record(bench.device, sound, bench.channels, meter.take)
    verdict = level_verdict(meter.levels(), connected(bench, take), take == all_takes(bench.loaded)[0])
    if not played.dropouts:
        return verdict
    lost = f"Samples were lost ({played.dropouts[0].what}): a take would not be usable. {_CALM}"
    return LevelVerdict(False, verdict.in_vain, (*verdict.sentences, lost))


_CALM = "Close other programs, connect the interface without a hub, and raise its buffer size."


def record_take(
    ports: RecordingPorts, bench: Bench, take: RecordingAnswer, replace: bool, on_level: OnLevel
) -> TakeTold:
    """Play the drive, keep what is recorded once all of it is there, read it, and say whether it is good.

    Raises
    ------
    TakeSpoiled
        When something was lost; nothing was kept.
    InputRefused
        When the device does not do it, or vanishes; nothing was kept.
    OutputFault
        When the recording cannot be written, or is there already and `replace` is not said.
    """
    path, meter = bench.folder / take.file, LevelMeter(bench.plan.rate, on_level)
    with ports.stage(path, bench.plan.rate, bench.seconds, replace) as keep:

        def both(block: Array) -> None:
            keep(block)
            meter.take(block)

        sound = _sound(bench.plan, Stretch(0, bench.plan.length))
        _refuse_spoiled(take, ports.devices.play_and_record(bench.device, sound, bench.channels, both))
    return take_told(bench.plan, ports.opened([path], None), meter.levels(), connected(bench, take))


def _sound(plan: TonePlan, part: Stretch) -> Sound:
    """A part of the drive, as it is played."""

    def blocks() -> Iterator[Array]:
        for at in range(part.start, part.stop, BLOCK):
            yield drive(plan, at, min(at + BLOCK, part.stop))

    silence = max(plan.first_mark.start - part.start, 0)
    return Sound(plan.rate, len(part), peak(plan), silence, blocks())


def _refuse_spoiled(take: RecordingAnswer, played: Played) -> None:
    if played.dropouts:
        mend = f"Nothing of it was kept: record again. {_CALM}"
        raise TakeSpoiled(
            tuple(
                Fault(f"{take.file}, at {one.seconds:.1f} s", one.what, "a take without a gap", mend)
                for one in played.dropouts
            )
        )


def take_told(plan: TonePlan, recording: Recording, levels: Levels, inputs: Connected) -> TakeTold:
    """Whether a take is good, by what was heard of it and by what lock-in finds."""
    bad, told = [], []
    for place in (0, 1):
        if levels.highest[place] >= CLIPPED:
            bad.append(
                f"{inputs[place].capitalize()} clips: turn both gains down, and make every take again."
            )
    try:
        take = read_take(plan, recording)
    except OhmsworthError as error:
        return TakeTold(False, (*bad, f"The tones cannot be found in it. {error}"))
    told.append(
        f"The take is found, {show(take.start / plan.rate, 's')} after its beginning; it peaks at "
        f"{show_level(levels.highest[0])} and {show_level(levels.highest[1])}."
    )
    if not take.shared_clock:
        told.append(
            f"Output and input run {1e6 * take.clock:+.1f} millionths apart: they have a clock each, which is allowed for. One "
            "interface for both is better."
        )
    for place in (0, 1):
        above = _above_noise(take, place)
        words = f"The weakest tone at {inputs[place]} stands {above:.0f} dB above the noise beside it"
        if above < HARDLY:
            bad.append(f"{words}: is it connected, and is nothing humming near it?")
        else:
            told.append(f"{words}.")
    return TakeTold(not bad, (*told, *bad))


def _above_noise(take: Take, place: int) -> float:
    """Decibels by which the mean of the weakest tone stands above what noise makes of it."""
    noise = np.sqrt(take.tones.noise[:, place, place].real)
    return min(
        decibels(float(tone / max(left, 1e-30)))
        for tone, left in zip(np.abs(take.tones.mean[place]), noise, strict=True)
    )
