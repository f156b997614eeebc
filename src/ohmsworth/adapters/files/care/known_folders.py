"""Several study folders that are asked about together, or everything that is wrong with any of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from ohmsworth.adapters.files.folder import refuse_no_folder
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.care.known_studies import NamedStudy
from ohmsworth.work.ports import LoadedStudy


def load_studies(folders: Sequence[Path], load: Callable[[Path], LoadedStudy]) -> tuple[NamedStudy, ...]:
    """Read the studies with `load`, each named by its folder.

    Raises
    ------
    InputRefused
        With the faults of all, each with its folder; a folder, or readings, named twice among them.
    """
    faults: list[Fault] = []
    found: list[NamedStudy] = []
    seen: dict[Path, str] = {}
    held: dict[bytes, str] = {}
    for folder, name in zip(folders, _names(folders), strict=True):
        place = folder.resolve()
        if place in seen:
            mend = "Name each study once: counted twice it would seem surer than it is."
            faults.append(
                Fault(
                    f"FOLDER {shorten(str(folder), 100)}", "the same folder twice", "each folder once", mend
                )
            )
            continue
        seen[place] = name
        try:
            refuse_no_folder(folder)
            loaded = load(folder)
        except InputRefused as refused:
            faults += [replace(fault, where=f"{name}: {fault.where}") for fault in refused.faults]
            continue
        faults += _copied(folder, name, held)
        found.append(NamedStudy(name, loaded))
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(found)


def _names(folders: Sequence[Path]) -> list[str]:
    """What each folder is called: by itself, or with those above it where two have one name."""
    places = {folder.resolve() for folder in folders}
    short = [place.name for place in places]
    return [
        str(folder) if short.count(folder.resolve().name) > 1 else folder.resolve().name for folder in folders
    ]


def _copied(folder: Path, name: str, held: dict[bytes, str]) -> list[Fault]:
    """The same readings under another name."""
    try:
        content = (folder / READINGS).read_bytes()
    except OSError:  # a study of takes alone
        return []
    if content in held:
        found = f"the same readings as in {shorten(held[content], 60)}"
        mend = "Name only one of the two: counted twice a study would seem surer than it is."
        return [Fault(f"{name}: {READINGS}", found, "readings of its own", mend)]
    held[content] = name
    return []
