"""A folder that describes a cable, before or after it was measured."""

from __future__ import annotations

from pathlib import Path

from ohmsworth.adapters.files.cable_csv import FILE as TEST
from ohmsworth.adapters.files.cable_csv import read_test
from ohmsworth.adapters.files.cable_toml import FILE as CABLE
from ohmsworth.adapters.files.cable_toml import read_cable
from ohmsworth.adapters.files.folder import refuse_no_folder
from ohmsworth.cables.request import CableRequest
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
    request, contacts, faults = read_cable(folder / CABLE)
    if not (folder / TEST).exists():
        if faults or request is None:
            raise InputRefused(tuple(faults))
        return LoadedCable(request, None, ())
    tested, more = read_test(folder / TEST, contacts)
    faults = [*faults, *more, *(meter_faults(request) if request is not None else ())]
    if faults or request is None:
        raise InputRefused(tuple(faults))
    return LoadedCable(request, tested.rows, tested.unused)


def meter_faults(request: CableRequest) -> list[Fault]:
    """What is wrong where something was measured and no meter is stated."""
    if request.meter is not None:
        return []
    mend = (
        'Without it no reading can be judged: write accuracy = "0.5 % + 3 counts" and resolution = "0.01 Ω".'
    )
    return [Fault(f"{CABLE}, key 'meter'", "no such table", "a table headed [meter]", mend)]
