"""A folder that describes a cable, before or after it was measured."""

from __future__ import annotations

import re
from pathlib import Path

from ohmsworth.adapters.files.cable_csv import FILE as TEST
from ohmsworth.adapters.files.cable_csv import read_test
from ohmsworth.adapters.files.cable_toml import FILE as CABLE
from ohmsworth.adapters.files.cable_toml import NEW, read_cable
from ohmsworth.adapters.files.decode import read_bytes, read_text
from ohmsworth.adapters.files.folder import refuse_no_folder
from ohmsworth.adapters.files.memory import laid_down
from ohmsworth.cables.request import CableRequest
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.builds.folder import BuiltFolder
from ohmsworth.work.ports import LoadedCable

#: Names of papers in a folder.
_PAPER = re.compile(r"certificate-.*\.json", re.IGNORECASE)


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
    tested, more = read_test(folder / TEST, read.contacts, least_shown(request))
    faults = [*faults, *more, *(meter_faults(request) if request is not None else ())]
    if faults or request is None:
        raise InputRefused(tuple(faults))
    return LoadedCable(request, tested.rows, tested.unused, read.paper)


def least_shown(request: CableRequest | None) -> float:
    """What the meter of a cable may show at least, ohm; zero where none is stated."""
    return 0.0 if request is None or request.meter is None else request.meter.least


def meter_faults(request: CableRequest) -> list[Fault]:
    """What is wrong where something was measured and no meter is stated."""
    if request.meter is not None:
        return []
    mend = (
        'Without it no reading can be judged: write accuracy = "0.5 % + 3 counts" and resolution = "0.01 Ω".'
    )
    return [Fault(f"{CABLE}, key 'meter'", "no such table", "a table headed [meter]", mend)]


def cable_texts(folder: Path) -> tuple[str, str | None]:
    """The texts of cable.toml and of test.csv, None where nothing is measured yet, whatever code page they are in.

    Raises
    ------
    InputRefused
        For a file that is no text.
    """
    refuse_no_folder(folder)
    description, faults = read_text(folder / CABLE, NEW)
    readings = None
    if (folder / TEST).exists():
        readings, more = read_text(folder / TEST)
        faults = [*faults, *more]
    if faults or description is None:
        raise InputRefused(tuple(faults))
    return description, readings


def read_built(folder: Path) -> BuiltFolder:
    """Everything of a cable's folder that the records take in.

    Raises
    ------
    InputRefused
        For a file that is no text, or cannot be read.
    """
    toml, test = cable_texts(folder)
    papers: dict[str, bytes] = {}
    faults: list[Fault] = []
    for name in sorted(entry.name for entry in folder.iterdir() if _PAPER.fullmatch(entry.name)):
        content, more = read_bytes(folder / name, name, "a certificate", "Check its name.")
        faults += more
        if content is not None:
            papers[name] = content
    if faults:
        raise InputRefused(tuple(faults))
    return BuiltFolder(toml, None if test is None else test.encode(), papers)


def read_cable_texts(description: str, readings: str | None) -> LoadedCable:
    """Read a cable from those texts, wherever they are kept.

    Raises
    ------
    InputRefused
        As `load_cable`.
    """
    texts = {CABLE: description} | ({} if readings is None else {TEST: readings})
    with laid_down({name: text.encode("utf-8", "replace") for name, text in texts.items()}) as folder:
        return load_cable(folder)
