"""``ohmsworth play``: the takes of a folder, played and recorded from the terminal."""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth import wiring
from ohmsworth.advice.cautions import TONES_APART, TONES_LOUD, TONES_OUTPUT
from ohmsworth.cli.level_meter import MeterLines
from ohmsworth.cli.printing import print_json, print_text
from ohmsworth.errors import Fault, InputRefused, OutputFault, shorten
from ohmsworth.report.tones_sentences import show_seconds
from ohmsworth.work.audio_ports import AudioDevice, Channels
from ohmsworth.work.record_take import (
    Bench,
    RecordingPorts,
    TakeSpoiled,
    chosen_device,
    named_take,
    plan_of,
    record_take,
    take_words,
    waiting_takes,
)
from ohmsworth.work.record_take import check_level as checked
from ohmsworth.work.tone_files import Series, place_of

if TYPE_CHECKING:
    from ohmsworth.report.tones_answer import RecordingAnswer

FORMAT = "ohmsworth audio devices 1"
#: What may be typed; Enter alone is the empty text.
_ENTER, _STOP = "", "s"


@dataclass(frozen=True, slots=True)
class Options:
    """What was said on the command line."""

    device: str | None = None
    take: str | None = None
    of: Series = "contact"
    inputs: tuple[int, int] = (1, 2)
    outputs: tuple[int, ...] = ()
    replace: bool = False


class _Stopped(Exception):
    """The person has had enough."""


def devices(as_data: bool) -> None:
    """Print the audio interfaces that play and record."""
    found = wiring.recording_ports().devices.found()
    if as_data:
        print_json({"format": FORMAT, "devices": [_as_data(n, one) for n, one in enumerate(found, 1)]})
        return
    for number, one in enumerate(found, 1):
        rates = ", ".join(str(rate) for rate in one.rates) or "no usual rate"
        print_text(f"{number}  {one}: {one.inputs} in, {one.outputs} out; {rates} samples a second")
    if not found:
        print_text("No device plays and records. Connect the interface and switch it on.")


def refuse_alone(as_data: bool, replace: bool, take: str | None) -> None:
    """Refuse options that mean nothing without another one."""
    faults = []
    if as_data:
        mend = "Leave it out: a recording is talked through with whoever is at the bench."
        faults.append(Fault("--json", "no --list beside it", "--list --json", mend))
    if replace and take is None:
        mend = "Name the take that is to be made again."
        faults.append(Fault("--replace", "no --take beside it", "--take and the name of a take", mend))
    if faults:
        raise InputRefused(tuple(faults))


def _as_data(number: int, one: AudioDevice) -> dict[str, object]:
    return {
        "number": number,
        "name": one.name,
        "system": one.system,
        "inputs": one.inputs,
        "outputs": one.outputs,
        "rates": list(one.rates),
        "usual_rate": one.usual_rate,
    }


def play(folder: Path | None, options: Options) -> None:
    """Record the takes that are missing, or one of them, each once somebody has pressed Enter."""
    ports = wiring.recording_ports()
    bench, takes = _begin(ports, folder, options)
    if not takes:
        of = "" if options.of == "contact" else f" of the {options.of}"
        print_text(
            f"Every take{of} is there: read them with 'ohmsworth takes', or name one to make again with --take."
        )
        return
    print_text(f"Device: {bench.device}. Each take is {show_seconds(bench.seconds)} long.\n")
    for caution in (TONES_APART, TONES_OUTPUT, TONES_LOUD):
        print_text(f"! {caution}")
    made: list[str] = []
    try:
        for take in takes:
            bench = replace(bench, loaded=wiring.load_tones(bench.folder))  # with the takes made meanwhile
            print_text("\n" + "\n".join(take_words(bench.loaded, bench.channels, take)))
            _one(ports, bench, take, options.replace)
            made.append(take.file)
    except _Stopped:
        print_text("Stopped. What was recorded and kept stays.")
        return
    except KeyboardInterrupt:
        print_text("Stopped. Nothing of this take was kept; those before it stay.")
        raise
    except InputRefused as refused:
        if not made:
            raise
        raise OutputFault(
            f"{take.file} was not recorded. {refused}\nKept from before: {', '.join(made)}."
        ) from None
    _what_next(bench, options, place_of(takes[0].file)[0])


def _begin(
    ports: RecordingPorts, folder: Path | None, options: Options
) -> tuple[Bench, tuple[RecordingAnswer, ...]]:
    """Everything that can be refused before somebody is asked for anything."""
    if folder is None:
        mend = "Write ohmsworth play FOLDER, or ohmsworth play --list."
        raise InputRefused((Fault("FOLDER", "nothing", "the folder that 'ohmsworth tones' made", mend),))
    if not folder.is_dir():
        mend = "Make it with 'ohmsworth tones FOLDER'."
        found = "something that is no folder" if os.path.lexists(folder) else "no such folder"
        raise InputRefused((Fault(shorten(str(folder), 200), found, "a folder with plan.json", mend),))
    loaded = wiring.load_tones(folder)
    plan = plan_of(loaded)
    if options.take is None:
        takes = waiting_takes(loaded, options.of)
    else:
        takes = (named_take(loaded, options.take, options.replace, options.of),)
    outputs = options.outputs or tuple(range(1, loaded.wishes.channels + 1))
    channels = _channels(options.inputs, outputs)
    device = chosen_device(ports.devices.found(), options.device)
    return Bench(folder, loaded, plan, device, channels), takes


def _channels(inputs: tuple[int, int], outputs: tuple[int, ...]) -> Channels:
    faults = [
        Fault(option, " ".join(map(str, numbers)), "different numbers from 1 on", "Count channels from 1.")
        for option, numbers in (("--inputs", inputs), ("--outputs", outputs))
        if min(numbers) < 1 or len(set(numbers)) < len(numbers)
    ]
    if faults:
        raise InputRefused(tuple(faults))
    return Channels(inputs, outputs)


def _one(ports: RecordingPorts, bench: Bench, take: RecordingAnswer, replacing: bool) -> None:
    """One take, until it is good or somebody goes on without it."""
    _asked(
        f"Press Enter for the level check ({show_seconds(len(bench.plan.level_check) / bench.plan.rate)})."
    )
    _gains(ports, bench, take)
    while True:
        try:
            with MeterLines(bench.seconds, bench.channels.inputs) as lines:
                told = record_take(ports, bench, take, replacing, lines.show)
        except TakeSpoiled as spoiled:
            for fault in spoiled.faults:
                print_text(f"Not usable: {fault.where}: {fault.found}.")
            print_text(spoiled.faults[0].mend)
            _asked("Press Enter to record this take again.")
            continue
        for sentence in told.sentences:
            print_text(sentence)
        print_text(f"{'Good' if told.good else 'Not good'}: {bench.folder / take.file}")
        if told.good:
            return
        if not told.usable:
            _asked("Nothing can be found from it as it is. Press Enter to record it again in its place.")
        elif _asked("Press Enter to record it again in its place; n and Enter goes on as it is.", "n") == "n":
            return
        replacing = True


def _gains(ports: RecordingPorts, bench: Bench, take: RecordingAnswer) -> None:
    """The level check, until somebody presses Enter for the take itself."""
    while True:
        with MeterLines(len(bench.plan.level_check) / bench.plan.rate, bench.channels.inputs) as lines:
            verdict = checked(ports, bench, take, lines.show)
        for sentence in verdict.sentences:
            print_text(sentence)
        if verdict.good:
            if _asked("Press Enter to record the take; c and Enter checks the level again.", "c") == _ENTER:
                return
        elif verdict.in_vain:
            _asked("Press Enter to check the level again.")
        elif _asked("Press Enter to check the level again; r and Enter records as it is.", "r") == "r":
            return


def _asked(question: str, *others: str) -> str:
    """What somebody answers: Enter, or one of `others`; nothing sounds before.

    Raises
    ------
    InputRefused
        When nobody can answer.
    """
    while True:
        print_text(f"{question} ({_STOP} and Enter stops.)")
        if sys.stdout is not None:
            sys.stdout.flush()
        line = sys.stdin.readline() if sys.stdin is not None else ""
        if not line:
            mend = "Run it in a terminal, where somebody sees to headphones and loudspeakers."
            raise InputRefused((Fault("the keyboard", "nobody", "somebody who presses Enter", mend),))
        word = line.strip().lower()
        if word == _STOP:
            raise _Stopped
        if word in (_ENTER, *others):
            return word


def _what_next(bench: Bench, options: Options, series: Series) -> None:
    """Say which takes of the series are still missing, or that all are there."""
    missing = waiting_takes(wiring.load_tones(bench.folder), series)
    if missing and options.take is not None:
        print_text(f"\nStill to make: {', '.join(one.file for one in missing)}.")
    elif not missing:
        whole = "Every take" if series == "contact" else f"Every take of the {series}"
        print_text(f"\n{whole} is in {bench.folder}. Turn the output down before you disconnect anything.")
