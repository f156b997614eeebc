"""A take, played and recorded from here: which is next, on what device, at which level, and whether it is good."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from ohmsworth.errors import Fault, InputRefused, nearest_name, shorten
from ohmsworth.report.tones_answer import RecordingAnswer
from ohmsworth.resistance.impedance.circuit import Shunt
from ohmsworth.resistance.impedance.drive import drive, largest_sample, peak
from ohmsworth.resistance.impedance.known import Known
from ohmsworth.resistance.impedance.levels import FULLEST
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import Stretch, TonePlan
from ohmsworth.work.audio_ports import (
    Array,
    AudioDevice,
    AudioDevices,
    Channels,
    Played,
    Sound,
    StageRecording,
)
from ohmsworth.work.in_place import NO_LOAD, caution_of, how_placed, volts_of
from ohmsworth.work.just_recorded import TakeTold, take_told
from ohmsworth.work.level_check import Connected, LevelMeter, LevelVerdict, OnLevel, level_verdict
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.takes_sound import held_against
from ohmsworth.work.tone_files import (
    PLAN,
    SERIES_NEEDS,
    STEMS,
    Series,
    place_of,
    recordings_among,
    stem_of,
)
from ohmsworth.work.tones import recordings_of

#: Samples of a drive that are made at a time.
BLOCK = 1 << 17
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
    # Earlier plans reach FULLEST with their samples: they stay playable while what sounds between them fits in too.
    if largest_sample(loaded.plan) > FULLEST * (1 + 1e-6) or highest > 1:
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


def all_takes(loaded: LoadedTones, series: Series = "contact") -> tuple[RecordingAnswer, ...]:
    """The takes that the card asks for, in their order; of a series, the same with something else in the contact's place.

    Raises
    ------
    InputRefused
        When tones.toml does not say what the load is, and its takes are asked for.
    """
    if series == "load" and _load(loaded) is None:
        raise InputRefused((NO_LOAD,))
    return recordings_of(loaded.wishes.turned, series)


def _load(loaded: LoadedTones) -> Shunt | None:
    return None if loaded.known is None else loaded.known.load


def waiting_takes(loaded: LoadedTones, series: Series = "contact") -> tuple[RecordingAnswer, ...]:
    """Those of a series that are not in the folder yet."""
    there = {place_of(name) for name in loaded.recordings}
    return tuple(one for one in all_takes(loaded, series) if place_of(one.file) not in there)


def named_take(loaded: LoadedTones, name: str, replace: bool, series: Series = "contact") -> RecordingAnswer:
    """The take that is called so, within its series or in full: of a short, ``swapped`` or ``short-swapped``.

    Raises
    ------
    InputRefused
        When there is no such take, or a recording of it that must not be replaced.
    """
    stem = name.lower().removesuffix(".wav")
    if series == "contact" and stem in STEMS:
        series = STEMS[stem][0]
    takes = {place_of(one.file): one for one in all_takes(loaded, series)}
    place = next((one for one in takes if stem in (one[1], stem_of(*one))), None)
    if place is None:
        mend = "Set turned = true in tones.toml for the turned ones, and run 'ohmsworth tones' again."
        expected = " or ".join(stem_of(*one) for one in takes)
        raise InputRefused((Fault("--take", shorten(name), expected, mend),))
    take = takes[place]
    there = [one for one in loaded.recordings if place_of(one) == place]
    if there and (not replace or there != [take.file]):
        mend = "Move it elsewhere" + (", or say --replace." if there == [take.file] else ".")
        found = f"a recording that is there already ({' and '.join(there)})"
        raise InputRefused((Fault(take.file, found, "a take that is not made yet", mend),))
    return take


def take_words(loaded: LoadedTones, channels: Channels, take: RecordingAnswer) -> tuple[str, ...]:
    """Which take it is, and what to connect for it."""
    series = place_of(take.file)[0]
    takes = all_takes(loaded, series)
    number = takes.index(take)
    first, second = channels.inputs
    wired = f"{take.first_input} on input {first}, {take.second_input} on input {second}"
    count = f"Take {number + 1} of {len(takes)} ({take.file}):"
    if number == 0:
        begin = f"{count} connect as the card draws it: {wired}."
        return (begin, *_first_words(loaded, series))
    calm = f"Touch nothing else: neither the gains, nor the {'contact' if series == 'contact' else 'rest'}."
    if take.turned and not takes[number - 1].turned:
        turn = "exchange + and − of the contact's sense leads at its input, and have the plugs as in the first take"
        return (f"{count} {turn}: {wired}.", calm)
    return (f"{count} exchange the two plugs at the inputs: {wired}.", calm)


def _first_words(loaded: LoadedTones, series: Series) -> tuple[str, ...]:
    """What the first take of a series asks for beside the card."""
    words = [how_placed(series, _load(loaded))]
    caution = caution_of(series, loaded.wishes, plan_of(loaded))
    if caution:
        words += [f"! {caution}", _GAINS_BACK]
    needs = SERIES_NEEDS.get(series)
    if needs is not None and needs not in {place_of(name)[0] for name in loaded.recordings}:
        words.append(f"These takes are of use only beside those of the {needs}: make them too.")
    return tuple(word for word in words if word)


_GAINS_BACK = "Make these takes last. If others follow, set both gains back to what they were before."


def connected(bench: Bench, take: RecordingAnswer) -> Connected:
    """What hangs at the inputs in a take."""
    loaded, series = bench.loaded, place_of(take.file)[0]
    shunt, other = volts_of(series, loaded.wishes, _load(loaded), bench.plan)
    parts = (take.first_input, take.second_input)
    volts = (shunt, other) if parts[0] == "shunt" else (other, shunt)
    return Connected(bench.channels.inputs, parts, volts)


def _may_turn(loaded: LoadedTones, take: RecordingAnswer) -> bool:
    """Whether the gains may still be turned: before the first take of all, and before the first with open ends."""
    series = place_of(take.file)[0]
    if take != all_takes(loaded, series)[0]:
        return False
    return series == "open" or all(place_of(name)[0] == series for name in loaded.recordings)


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
    verdict = level_verdict(meter.levels(), connected(bench, take), _may_turn(bench.loaded, take))
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
        # A file of two channels has them in the order of the numbers that tones.toml says.
        order = [1, 0] if _turned_round(bench) else [0, 1]

        def both(block: Array) -> None:
            keep(block[:, order])
            meter.take(block)

        sound = _sound(bench.plan, Stretch(0, bench.plan.length))
        _refuse_spoiled(take, ports.devices.play_and_record(bench.device, sound, bench.channels, both))
    loaded = _to_judge(ports, bench, take, ports.opened([path], _channels(bench)))
    return take_told(loaded, place_of(take.file), meter.levels(), connected(bench, take))


def _channels(bench: Bench) -> tuple[int, int] | None:
    """The numbers of the channels that tones.toml says."""
    return None if bench.loaded.known is None else bench.loaded.known.channels


def _turned_round(bench: Bench) -> bool:
    """Whether a file's second channel is to hold the first input."""
    channels = _channels(bench)
    return channels is not None and channels[0] > channels[1]


def _to_judge(
    ports: RecordingPorts, bench: Bench, take: RecordingAnswer, recording: Recording
) -> LoadedTakes:
    """The take that was just recorded, with the one that it is held against as far as that can be opened."""
    place = place_of(take.file)
    known = bench.loaded.known or Known()
    recordings = {place: recording}
    files = recordings_among(bench.loaded.recordings).get(stem_of(*held_against(place)), ())
    if files and place != held_against(place):
        channels = None if len(files) == 2 else known.channels
        with suppress(InputRefused):  # what is wrong with it is told by whoever reads them all
            recordings[held_against(place)] = ports.opened([bench.folder / name for name in files], channels)
    return LoadedTakes(bench.loaded.wishes, known, bench.plan, recordings, (), ())


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
