"""takes.csv: which recordings are of which contact, or everything that is wrong with it."""

from __future__ import annotations

import os
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

import numpy as np

from ohmsworth.adapters.files.labels import read_labels
from ohmsworth.adapters.files.sheet import Sheet, open_sheet
from ohmsworth.adapters.files.takes_kept import KeptTakes, read_kept
from ohmsworth.errors import Fault, nearest_name, shorten
from ohmsworth.readings.factors import OWN_COLUMNS, PART_CONDITIONS
from ohmsworth.readings.table import UNSTATED, ReadingTable
from ohmsworth.work.tone_files import KINDS, NEEDS, PAIR, Kind

FILE = "takes.csv"
#: The column in which the recording of each kind stands.
COLUMNS: dict[str, Kind] = {kind.replace("-", " "): kind for kind in KINDS}
_MEND = "Write the file's name as it stands in the folder, such as takes/D01-1-straight.wav."


@dataclass(frozen=True, slots=True, eq=False)
class ReadTakes:
    """What could be read of takes.csv; `table` holds no readings, `files` the files of each row's recordings.

    `kept` is what recordings told before; one that it knows by name need not be in the folder any more.
    """

    table: ReadingTable | None = None
    labelled: bool = False
    lines: frozenset[int] | None = None
    unused: tuple[str, ...] = ()
    files: tuple[Mapping[Kind, tuple[Path, ...]], ...] = ()
    kept: KeptTakes = field(default_factory=KeptTakes)


def read_takes(folder: Path, named: tuple[str, ...] = ()) -> tuple[ReadTakes, list[Fault]]:
    """Read the file: what it holds, and all its faults; `named` are columns of names that the study asks for."""
    opened, faults = open_sheet(folder / FILE, FILE, named=(*named, *COLUMNS), readings=False)
    sheet = opened.sheet
    if sheet is None:
        return ReadTakes(lines=opened.lines), faults
    if "straight" not in sheet.columns:
        near = nearest_name("straight", sheet.unused)
        mend = (
            f"Is it {shorten(near)}? Then name it straight."
            if near
            else "Add it: the file of each contact's first recording."
        )
        faults.append(Fault(FILE, "no column 'straight'", "a column 'straight' with the recordings", mend))
    labels, more = read_labels(sheet.cells, sheet.lines, named, FILE)
    kept = read_kept(folder)
    files, bad = _files(sheet, folder, kept.recordings)
    faults += [*more, *bad]
    if "specimen" not in labels or not len(sheet):
        return ReadTakes(lines=opened.lines), faults
    further = {
        name: labels[name]
        for name in dict.fromkeys((*PART_CONDITIONS, *named))
        if name in labels and name not in OWN_COLUMNS
    }
    table = ReadingTable(
        sheet.lines, labels["specimen"], labels["condition"], labels.get("contact"), labels.get("mating"),
        labels.get("plug"), labels.get("socket"), np.full(len(sheet), UNSTATED, np.int8), None, None, None, None,
        None, others=further,
    )  # fmt: skip
    return ReadTakes(table, not more and opened.whole, opened.lines, sheet.unused, files, kept), faults


def _files(
    sheet: Sheet, folder: Path, kept: Collection[str]
) -> tuple[tuple[Mapping[Kind, tuple[Path, ...]], ...], list[Fault]]:
    """The files of each row, and the faults of their names."""
    faults: list[Fault] = []
    rows: list[dict[Kind, tuple[Path, ...]]] = [{} for _ in range(len(sheet))]
    seen: dict[str, str] = {}
    for column, kind in COLUMNS.items():
        if column not in sheet.columns:
            continue
        for row, text in enumerate(sheet.texts(column)):
            where = f"{FILE}, line {sheet.lines[row]}, column '{column}'"
            if not text:
                if kind == "straight":
                    faults.append(Fault(where, "an empty cell", "the first recording of the contact", _MEND))
                continue
            found = _found(folder, text, kept)
            if isinstance(found, str):
                faults.append(Fault(where, found, "a recording in the study's folder", _MEND))
            elif text in seen:
                mend = "Each recording is of one contact, connected in one way: correct one of the two."
                faults.append(
                    Fault(where, f"{shorten(text)} as in {seen[text]}", "each recording once", mend)
                )
            else:
                seen[text], rows[row][kind] = where, found
    for row, files in enumerate(rows):
        for kind in files:
            needed = NEEDS[kind]
            if needed not in files and needed != "straight":
                where, other = f"{FILE}, line {sheet.lines[row]}", needed.replace("-", " ")
                mend = "Name it too, or leave this one out."
                faults.append(
                    Fault(
                        where, f"a recording '{kind.replace('-', ' ')}' alone", f"'{other}' beside it", mend
                    )
                )
    return tuple(rows), faults


def _found(folder: Path, text: str, kept: Collection[str]) -> tuple[Path, ...] | str:
    """The file, or the two files of a pair, that a cell means; or what is wrong with it."""
    name = PurePosixPath(text.replace("\\", "/"))
    if name.is_absolute() or ".." in name.parts or not name.parts or ":" in name.parts[0]:
        return f"{shorten(text)}, which is not below the study's folder"
    path = folder / name
    pair = tuple(path.with_name(f"{path.stem}{end}{path.suffix}") for end in PAIR)
    # What lies there comes before what once did.
    for there in (os.path.lexists, lambda one: name_in(folder, one) in kept):
        if there(path):
            return (path,)
        if all(os.path.lexists(one) or there(one) for one in pair):
            return pair
    return f"{shorten(text)}, and no such file"


def name_in(folder: Path, path: Path) -> str:
    """What a recording below `folder` is called."""
    return path.relative_to(folder).as_posix()
