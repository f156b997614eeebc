"""The files of a lot's folder as texts, and a lot out of such texts, wherever they are kept: what its certificate carries."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from ohmsworth.adapters.files.cable_toml import FILE as CABLE
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.adapters.files.folder import refuse_no_folder
from ohmsworth.adapters.files.lot_folder import load_lot
from ohmsworth.adapters.files.memory import laid_down
from ohmsworth.adapters.files.record_marks import parsed
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.papers.lot_body import LOT_FILES
from ohmsworth.work.ports import LoadedLot


def is_lot(folder: Path) -> bool:
    """Whether `folder` holds a study and no cable.

    Raises
    ------
    InputRefused
        Where it holds both: nobody could tell which of them a certificate is of.
    """
    study, cable = (folder / STUDY).exists(), (folder / CABLE).exists()
    if study and cable:
        mend = "Put the study and the cable into folders of their own."
        found = f"{CABLE} and {STUDY} in one folder"
        raise InputRefused((Fault(folder.name, found, "a cable's folder, or a study's", mend),))
    return study


def lot_texts(folder: Path) -> dict[str, str]:
    """The texts of study.toml, and of readings.csv, check.csv and cables.toml where there are such files, by their names.

    Raises
    ------
    InputRefused
        For a file that is no text.
    """
    refuse_no_folder(folder)
    texts: dict[str, str] = {}
    faults: list[Fault] = []
    for name in LOT_FILES:
        if name != STUDY and not (folder / name).exists():
            continue
        text, more = read_text(folder / name)
        faults += more
        if text is not None:
            texts[name] = text
    if faults:
        raise InputRefused(tuple(faults))
    return texts


def read_lot_texts(texts: Mapping[str, str]) -> LoadedLot:
    """Read a lot from those texts, which are by the names of their files, and from nothing else on this computer.

    Raises
    ------
    InputRefused
        As `load_lot`; and where study.toml leans on files outside of them.
    """
    faults = _outside(texts.get(STUDY, ""))
    if faults:
        raise InputRefused(tuple(faults))
    with laid_down({name: text.encode("utf-8", "replace") for name, text in texts.items()}) as folder:
        return load_lot(folder)


def _outside(toml: str) -> list[Fault]:
    """Past studies and measured leads, whose files no certificate carries, and which no lot is judged by."""
    mend = "Take it out of study.toml: a lot's certificate stands on its own readings alone."
    table = parsed(toml) or {}
    uses = table.get("use")
    leads = isinstance(uses, list) and any(isinstance(use, dict) and "touchstone" in use for use in uses)
    found = [("history", "past studies")] if table.get("history") else []
    found += [("touchstone", "a measured lead")] if leads else []
    return [
        Fault(f"{STUDY}, key '{key}'", told, "none in the study of a lot to certify", mend)
        for key, told in found
    ]
