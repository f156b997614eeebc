"""A cable from the texts of its files, wherever they are kept; and those texts out of a folder."""

from __future__ import annotations

from pathlib import Path

from ohmsworth.adapters.files.cable_csv import FILE as TEST
from ohmsworth.adapters.files.cable_folder import load_cable
from ohmsworth.adapters.files.cable_toml import FILE as CABLE
from ohmsworth.adapters.files.cable_toml import NEW
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.adapters.files.folder import refuse_no_folder
from ohmsworth.adapters.files.memory import laid_down
from ohmsworth.errors import InputRefused
from ohmsworth.work.ports import LoadedCable


def read_cable_texts(description: str, readings: str | None) -> LoadedCable:
    """Read a cable from the texts of cable.toml and test.csv.

    Raises
    ------
    InputRefused
        As `load_cable`.
    """
    files = {CABLE: _encoded(description)} | ({} if readings is None else {TEST: _encoded(readings)})
    with laid_down(files) as folder:
        return load_cable(folder)


def _encoded(text: str) -> bytes:
    return text.encode("utf-8", "replace")


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
