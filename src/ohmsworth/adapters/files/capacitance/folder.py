"""The folder of a measurement of capacitance, with the recordings that are there."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

from ohmsworth.adapters.files.capacitance.template import CAPACITANCE_TEMPLATE
from ohmsworth.adapters.files.capacitance.toml import NEW_ONE, capacitance_of
from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.adapters.files.takes_folder import no_recording
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.adapters.files.tones_folder import names_in, refuse_beside, refuse_no_folder
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.work.capacitance.loaded import STANDARDS, WISHES, LoadedCapacitance
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.tone_files import DRIVE, PLAN, is_sound, recordings_among
from ohmsworth.work.tone_files import WISHES as OF_A_CONTACT


def load_capacitance(folder: Path, open_recording: OpenRecording) -> LoadedCapacitance:
    """Read what is wished for in `folder` and open its recordings; where there is no capacitance.toml, what a new one says.

    Raises
    ------
    InputRefused
        With every fault of capacitance.toml, or where the folder is that of a contact.
    """
    refuse_no_folder(folder)
    refuse_beside(folder, OF_A_CONTACT)
    begin = None
    faults: list[Fault] = []
    if os.path.lexists(folder / WISHES):
        table, faults = read_toml(folder / WISHES, NEW_ONE)
    else:
        begin = CAPACITANCE_TEMPLATE.encode()
        table = tomllib.loads(CAPACITANCE_TEMPLATE)
    read, faults = (None, faults) if table is None else capacitance_of(table, faults)
    if read is None:
        raise InputRefused(tuple(faults))
    wishes, divider, measured, channels = read
    names = names_in(folder) if folder.is_dir() else []
    files = recordings_among(names, (*STANDARDS, *(one.take for one in measured)))
    taken = {name for found in files.values() for name in found}
    unused = tuple(name for name in names if is_sound(name) and name not in taken and name.lower() != DRIVE)
    recordings, wrong = _opened(folder, files, channels, open_recording)
    plan, bad = _played(folder) if files else (None, [])
    if files and plan is None:
        raise InputRefused((*bad, *wrong))
    return LoadedCapacitance(wishes, divider, measured, begin, plan, recordings, unused, tuple(wrong))


def _played(folder: Path) -> tuple[TonePlan | None, list[Fault]]:
    """The plan that the recordings were made with, or what stands in the way."""
    if os.path.lexists(folder / PLAN):
        return read_plan_json(folder / PLAN)
    mend = f"Put it back beside them; or move the recordings aside, and begin anew with a new {DRIVE}."
    return None, [Fault(PLAN, "recordings, and no such file", f"the {PLAN} they were made with", mend)]


def _opened(
    folder: Path,
    files: dict[str, tuple[str, ...]],
    channels: tuple[int, int] | None,
    open_recording: OpenRecording,
) -> tuple[dict[str, Recording], list[Fault]]:
    """Recordings by their names without ending, and the faults of those that cannot be opened."""
    found: dict[str, Recording] = {}
    wrong: list[Fault] = []
    for stem, names in files.items():
        fault = no_recording(stem, names)
        if fault is not None:
            wrong.append(fault)
            continue
        try:
            pair = channels if len(names) == 1 else None
            found[stem] = open_recording([folder / name for name in names], pair)
        except InputRefused as refused:
            wrong += refused.faults
    return found, wrong
