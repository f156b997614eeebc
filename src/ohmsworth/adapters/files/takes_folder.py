"""The folder of a measurement over frequency with its recordings."""

from __future__ import annotations

from pathlib import Path

from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.tones_folder import names_in, refuse_no_folder
from ohmsworth.adapters.files.tones_toml import read_tones
from ohmsworth.errors import Fault, InputRefused, nearest_name
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.tone_files import (
    DRIVE,
    NEEDS,
    PLAN,
    STEMS,
    STRAIGHT,
    WISHES,
    Kind,
    Series,
    is_sound,
    number_of,
    recordings_among,
    stem_of,
)

_AS_THE_CARD_SAYS = "Record it as the wiring card says."


def load_takes(folder: Path, open_recording: OpenRecording) -> LoadedTakes:
    """Read tones.toml and plan.json of `folder`, and open its recordings; nothing of their sound is read yet.

    Recordings that cannot be opened are told in `faults`, so that the others are looked at too.

    Raises
    ------
    InputRefused
        When tones.toml, plan.json or the folder itself cannot be used, with the faults of the recordings beside.
    """
    refuse_no_folder(folder, must_be_there=True)
    read, faults = read_tones(folder / WISHES)
    plan, more = read_plan_json(folder / PLAN)
    names = names_in(folder)
    found = recordings_among(names)
    taken = {name for files in found.values() for name in files}
    unused = tuple(name for name in names if is_sound(name) and name not in taken and name.lower() != DRIVE)
    missing = _missing(found, unused, TAKES in names)
    recordings: dict[tuple[Series, Kind], Recording] = {}
    channels = None if read is None else read[1].channels
    for stem, files in found.items():
        wrong = no_recording(stem, files)
        if wrong is None:
            try:
                pair = channels if len(files) == 1 else None
                recordings[STEMS[stem]] = open_recording([folder / name for name in files], pair)
            except InputRefused as refused:
                missing += refused.faults
        else:
            missing.append(wrong)
    if read is None or plan is None:
        raise InputRefused((*faults, *more, *missing))
    return LoadedTakes(*read, plan, recordings, unused, tuple(missing))


def no_recording(stem: str, files: tuple[str, ...]) -> Fault | None:
    """What keeps these files from being one recording; None where they are."""
    numbers = [number_of(name) for name in files]
    if numbers in ([0], [1, 2]):
        return None
    if len(files) == 1:
        other = f"{stem}-{3 - numbers[0]}.wav"
        mend = f"Put {other} beside it, or name it {stem}.wav if it holds both inputs."
        return Fault(files[0], "one input of a pair alone", f"{other} beside it", mend)
    mend = "Move those aside that are not meant."
    return Fault(
        stem,
        " and ".join(files),
        "one file of two channels, or a pair that ends with -1 and -2",
        mend,
    )


def _missing(found: dict[str, tuple[str, ...]], unused: tuple[str, ...], contacts: bool) -> list[Fault]:
    """Recordings that others are of no use without; `contacts` says whether the folder is that of a study of many."""
    if "straight" not in found and contacts:
        mend = f"The contacts of {TAKES} are answered with 'ohmsworth answer FOLDER'."
        faults = [
            Fault(STRAIGHT, "no such recording, and a study of many contacts", "one contact's takes", mend)
        ]
    elif "straight" not in found:
        near = nearest_name(STRAIGHT, unused)
        mend = f"Is it {near}? Then name it {STRAIGHT}." if near else _AS_THE_CARD_SAYS
        more = [] if found else list(unused[:3])
        told = f"no such recording, and {', '.join(more)} beside" if more else "no such recording"
        faults = [Fault(STRAIGHT, told, "shunt on input 1 and contact on input 2", mend)]
    else:
        faults = []
    for stem in found:
        series, kind = STEMS[stem]
        other = stem_of(series, NEEDS[kind])
        if other not in found and other != "straight":
            mend = f"{_AS_THE_CARD_SAYS[:-1]}, or move {stem} aside."
            faults.append(Fault(stem, f"no {other} beside it", f"{other}.wav", mend))
    return faults
