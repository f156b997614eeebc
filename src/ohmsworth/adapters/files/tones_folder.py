"""The folder of a measurement over frequency, before its recordings are analysed."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.takes_csv import read_takes
from ohmsworth.adapters.files.tones_template import TONES_TEMPLATE
from ohmsworth.adapters.files.tones_toml import read_tones, tones_of
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.capacitance.loaded import WISHES as OF_WIRES
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.tone_files import PLAN, WISHES, recordings_among


def load_tones(folder: Path) -> LoadedTones:
    """Read what is wished for in `folder`; where there is no tones.toml, what a new one says.

    Raises
    ------
    InputRefused
        With every fault of tones.toml, or where the folder is that of a cable's wires; nothing was written.
    """
    refuse_no_folder(folder)
    refuse_beside(folder, OF_WIRES)
    begin = None
    if os.path.lexists(folder / WISHES):
        read, faults = read_tones(folder / WISHES)
    else:
        begin = TONES_TEMPLATE.encode()
        read, faults = tones_of(tomllib.loads(TONES_TEMPLATE), [])
    if read is None:
        raise InputRefused(tuple(faults))
    plan = read_plan_json(folder / PLAN)[0]
    found = recordings_among(names_in(folder)).values() if folder.is_dir() else ()
    names = tuple(name for names in found for name in names)
    return LoadedTones(read[0], begin, plan, names, read[1], _contacts(folder))


def _contacts(folder: Path) -> tuple[str, ...]:
    """Recordings that takes.csv names and that are there; takes.csv itself where it cannot be read."""
    if not os.path.lexists(folder / TAKES):
        return ()
    read = read_takes(folder)[0]
    if read.table is None:
        return (TAKES,)
    return tuple(
        path.relative_to(folder).as_posix() for row in read.files for paths in row.values() for path in paths
    )


def names_in(folder: Path) -> list[str]:
    """What stands in a folder.

    Raises
    ------
    InputRefused
        When it cannot be looked into.
    """
    try:
        return sorted(os.listdir(folder))
    except OSError as error:
        reason, mend = (
            error.strerror or "a folder that cannot be read",
            "Check the folder and its permissions.",
        )
        raise InputRefused(
            (Fault(shorten(str(folder), 200), reason, "a folder that can be read", mend),)
        ) from None


def refuse_beside(folder: Path, other: str) -> None:
    """Refuse a folder in which `other` stands: what is played there is another measurement's."""
    if os.path.lexists(folder / other):
        mend = f"Name a folder of its own: the {PLAN} of another measurement stands here."
        found = f"a folder with {other}"
        raise InputRefused((Fault(shorten(str(folder), 200), found, "another folder", mend),))


def refuse_no_folder(folder: Path, must_be_there: bool = False) -> None:
    """Refuse what is there and is no folder; one that is not there only where it must be."""
    there = os.path.lexists(folder)
    stands = there and not folder.is_dir()
    if stands or (must_be_there and not there):
        mend = "Name the folder with the recordings." if must_be_there else "Name a folder, which may be new."
        found = "something that is no folder" if stands else "no such folder"
        raise InputRefused((Fault(shorten(str(folder), 200), found, "a folder", mend),))
