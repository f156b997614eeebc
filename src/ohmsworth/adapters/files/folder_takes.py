"""takes.csv of a folder as what the records take in: its rows, and what their recordings told."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path

from ohmsworth.adapters.files.contacts_folder import told_takes
from ohmsworth.adapters.files.decode import read_bytes
from ohmsworth.adapters.files.entries import read_entries
from ohmsworth.adapters.files.folder import of_takes, row_faults
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.takes_csv import COLUMNS, read_takes
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.entry import Entry
from ohmsworth.readings.names import column_name
from ohmsworth.readings.study import Study
from ohmsworth.work.portable import FolderRow, FolderStandard, FolderTake
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.take_resistance import as_typed, resistance_at
from ohmsworth.work.take_told import curve_of


@dataclass(frozen=True, slots=True, eq=False)
class FolderTakes:
    """The rows of takes.csv; and of a folder without a log what they, and short, load and open, told."""

    rows: tuple[FolderRow, ...] = ()
    takes: tuple[FolderTake, ...] = ()
    standards: tuple[FolderStandard, ...] = ()


def read_folder_takes(
    folder: Path, study: Study | None, logged: bool, open_recording: OpenRecording
) -> tuple[FolderTakes, list[Fault]]:
    """Read the file, and all its faults; where the folder has its log no recording is looked at, for the log has it all."""
    if not os.path.lexists(folder / TAKES):
        return FolderTakes(), []
    data, faults = read_bytes(folder / TAKES, TAKES, "a file", "Check the file.")
    if data is None:
        return FolderTakes(), faults
    if logged:
        return FolderTakes(read_entries(data, True)), []
    named = (*study.factors, *study.scatter_by) if study is not None else ()
    read, faults = read_takes(folder, named)
    if study is not None and read.lines is not None and not os.path.lexists(folder / READINGS):
        faults += [of_takes(fault) for fault in row_faults(study, read.lines)]
    if faults or study is None:
        return FolderTakes(), faults
    try:
        told = told_takes(folder, read, open_recording, study.frequencies, with_standards=True)
    except InputRefused as refused:
        return FolderTakes(), list(refused.faults)
    rows = tuple(replace(row, entry=_bare(row.entry)) for row in read_entries(data))
    takes = tuple(
        FolderTake(
            replace(row, entry=replace(row.entry, resistance=as_typed(at))),
            one.files,
            one.digest,
            one.kept.basis,
            one.kept.told,
        )
        for row, one in zip(rows, told.takes, strict=True)
        for at in (resistance_at(study.frequencies, curve_of(one.kept.told))[1],)
    )
    standards = tuple(
        FolderStandard(series, told.standard_files.get(series, {}), one.digest, one.told, one.at)
        for series, one in told.standards.items()
    )
    return FolderTakes(tuple(take.row for take in takes), takes, standards), []


def _bare(entry: Entry) -> Entry:
    """What was taken, without the names of its recordings, which the take itself has."""
    others = {heading: text for heading, text in entry.others.items() if column_name(heading) not in COLUMNS}
    return replace(entry, polarity="", voltage=None, current=None, resistance=None, others=others)
