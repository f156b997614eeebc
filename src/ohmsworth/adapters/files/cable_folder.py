"""A folder that describes a cable, before or after it was measured."""

from __future__ import annotations

from pathlib import Path

from ohmsworth.adapters.files.cable_csv import FILE as TEST
from ohmsworth.adapters.files.cable_csv import read_test
from ohmsworth.adapters.files.cable_toml import FILE as CABLE
from ohmsworth.adapters.files.cable_toml import read_cable
from ohmsworth.adapters.files.folder import refuse_no_folder
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.ports import LoadedCable


def load_cable(folder: Path) -> LoadedCable:
    """Read cable.toml in `folder`, and test.csv where there is one.

    Raises
    ------
    InputRefused
        With every fault of both files; nothing was written.
    """
    refuse_no_folder(folder)
    read = read_cable(folder / CABLE)
    request, faults = read.request, read.faults
    if not (folder / TEST).exists():
        if faults or request is None:
            raise InputRefused(tuple(faults))
        return LoadedCable(request, None, (), read.paper)
    rows, unused, more = read_test(folder / TEST, read.contacts)
    faults = [*faults, *more]
    if request is not None and request.meter is None:
        mend = 'Without it no reading can be judged: write accuracy = "0.5 % + 3 counts" and resolution = "0.01 Ω".'
        faults.append(Fault(f"{CABLE}, key 'meter'", "no such table", "a table headed [meter]", mend))
    if faults or request is None:
        raise InputRefused(tuple(faults))
    return LoadedCable(request, rows, unused, read.paper)
