"""A study's folder on disk as what the records take in: exported ones with their log, and those made by hand."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from ohmsworth.adapters.files.cables import FILE as CABLES
from ohmsworth.adapters.files.check_csv import FILE as CHECK
from ohmsworth.adapters.files.checks import read_checks
from ohmsworth.adapters.files.contacts_folder import no_sound
from ohmsworth.adapters.files.decode import read_bytes, read_text
from ohmsworth.adapters.files.entries import read_entries
from ohmsworth.adapters.files.folder import refuse_no_folder, row_faults
from ohmsworth.adapters.files.folder_takes import read_folder_takes
from ohmsworth.adapters.files.memory import PAST
from ohmsworth.adapters.files.plain_names import is_plain
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.readings_csv import read_readings
from ohmsworth.adapters.files.record_edits import edits_of
from ohmsworth.adapters.files.record_json import FILE as RECORD
from ohmsworth.adapters.files.record_json import FILES, paper_files, read_record
from ohmsworth.adapters.files.record_marks import parsed
from ohmsworth.adapters.files.study_record import folder_of
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.study_toml import read_study
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.takes_kept import FILE as KEPT
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.readings.study import Study
from ohmsworth.work.portable import Edits, FolderRow, StudyFolder, StudyLog
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.study_log import fold
from ohmsworth.work.tone_files import PLAN, WISHES


def read_study_folder(folder: Path, open_recording: OpenRecording = no_sound) -> StudyFolder:
    """Read the folder; of its past studies only what they are known by.

    Parameters
    ----------
    open_recording
        Opens the recordings that takes.csv names; without it only what is kept of them counts.

    Raises
    ------
    InputRefused
        With every fault of its files.
    """
    found = _one_folder(folder, open_recording)
    return replace(found, past=_past(folder, found, open_recording)) if found.history else found


def _one_folder(folder: Path, open_recording: OpenRecording) -> StudyFolder:
    refuse_no_folder(folder)
    log = _log(folder)
    if log is not None and not any(os.path.lexists(folder / name) for name in (STUDY, READINGS, TAKES)):
        return StudyFolder("", log=log)  # a study that could not be written as a folder
    if log is not None and (whole := _as_exported(folder, log)) is not None:
        return whole
    study, faults = read_study(folder / STUDY)
    text, _ = read_text(folder / STUDY)
    rows, more = _rows(folder, study, log is not None)
    faults += more
    taken, more = read_folder_takes(folder, study, log is not None, open_recording)
    faults += more
    faults += read_checks(folder)[1]
    beside, more = _beside(
        folder, parsed(text or "") or {}, log is not None or os.path.lexists(folder / TAKES)
    )
    faults += more
    if faults or study is None or text is None:
        raise InputRefused(tuple(faults))
    found = StudyFolder(
        text.removeprefix("\ufeff"),
        rows,
        tuple(sorted(study.keep)),
        dict(study.set_aside),
        beside,
        log,
        history=study.history,
        passed_over=_passed_over(folder, beside, log),
        take_rows=taken.rows,
        takes=taken.takes,
        standards=taken.standards,
    )
    return found if log is None else replace(found, edits=edits_of(log.study, found))


def _as_exported(folder: Path, log: StudyLog) -> StudyFolder | None:
    """The folder where its files are to the byte what the log makes; None where any is not.

    Nobody has edited it, so that it comes back even where its reader has faults to find in it.
    """
    try:
        made = folder_of(fold(log.study.lines), log.study.contents.__getitem__)
    except InputRefused:
        return None
    known = (STUDY, READINGS, TAKES, CHECK, CABLES, WISHES, PLAN)
    if {name for name in known if os.path.lexists(folder / name)} - set(made):
        return None
    # What takes told stands in the log; the file beside may have been made anew, or deleted.
    for name, data in made.items():
        if name == KEPT:
            continue
        found, _ = read_bytes(folder / name, name, "", "")
        if found != data:
            return None
    history = tuple(f"study {number}" for number in log.past)
    passed = _passed_over(folder, made, log)
    return StudyFolder(made[STUDY].decode(), log=log, edits=Edits(), history=history, passed_over=passed)


def _log(folder: Path) -> StudyLog | None:
    """What record.json holds; None where there is none."""
    if not os.path.lexists(folder / RECORD):
        return None
    data, faults = read_bytes(folder / RECORD, RECORD, "a file", "Export the study again.")
    if data is None:
        raise InputRefused(tuple(faults))
    return read_record(data, lambda path: _content(folder, path))


def _content(folder: Path, path: str) -> bytes:
    """A file of the log, from nowhere but the folder `files`."""
    parts = path.split("/")
    place = folder.joinpath(*parts)
    mend = "Take the folder as it was exported, with all its files."
    links = any(folder.joinpath(*parts[: i + 1]).is_symlink() for i in range(len(parts)))
    if parts[0] != FILES or not 2 <= len(parts) <= 3 or not all(map(is_plain, parts)) or links:
        expected = f"a file in the folder '{FILES}'"
        raise InputRefused((Fault(RECORD, f"the file {shorten(path)}", expected, mend),))
    data, faults = read_bytes(place, shorten(path, 200), "the file that record.json names", mend)
    if data is None:
        raise InputRefused(tuple(faults))
    return data


def _rows(folder: Path, study: Study | None, numbered: bool) -> tuple[tuple[FolderRow, ...], list[Fault]]:
    """The rows of readings.csv; none where there is no such file."""
    if not os.path.lexists(folder / READINGS):
        elsewhere = os.path.lexists(folder / TAKES)
        return (), [] if study is None or elsewhere else row_faults(study, frozenset())
    named = (*study.factors, *study.scatter_by) if study is not None else ()
    read, faults = read_readings(folder / READINGS, named)
    if study is not None and read.lines is not None:
        faults += row_faults(study, read.lines)
    data, more = read_bytes(folder / READINGS, READINGS, "a file", "Check the file.")
    if faults or data is None:
        return (), faults or more
    return read_entries(data, numbered), []


def _beside(folder: Path, table: Mapping[str, object], tones: bool) -> tuple[dict[str, bytes], list[Fault]]:
    """The files that the readers look for beside study.toml; of `tones` too, where takes are of them."""
    uses = table.get("use")
    named = [use.get("touchstone") for use in uses if isinstance(use, dict)] if isinstance(uses, list) else []
    names = [
        CHECK,
        CABLES,
        *((WISHES, PLAN) if tones else ()),
        *(name.strip() for name in named if isinstance(name, str)),
    ]
    beside: dict[str, bytes] = {}
    faults: list[Fault] = []
    for name in dict.fromkeys(names):
        if not is_plain(name):
            mend = "Copy the file into the study's folder, and write its name alone."
            where = f"{STUDY}, key 'touchstone'"
            faults.append(Fault(where, shorten(name), "a file of the study's folder", mend))
        elif os.path.lexists(folder / name):
            data, more = read_bytes(folder / name, name, "a file", "Check the file.")
            faults += more
            beside |= {} if data is None else {name: data}
    return beside, faults


def _passed_over(folder: Path, beside: Mapping[str, bytes], log: StudyLog | None) -> tuple[str, ...]:
    known = {STUDY, READINGS, TAKES, KEPT, *beside}
    known |= {RECORD, FILES, *paper_files(log.study)} if log is not None else set()
    past = {f"study {number}" for number in log.past} if log is not None else set()
    return tuple(name for name in sorted(os.listdir(folder)) if name not in known | past)


def _past(folder: Path, found: StudyFolder, open_recording: OpenRecording) -> dict[str, StudyFolder | str]:
    """What each past study is known by: the key of its first line, or its own folder where that was made by hand.

    Raises
    ------
    InputRefused
        Where there is no such folder.
    """
    known = {f"study {number}": key for number, key in found.log.past.items()} if found.log else {}
    past: dict[str, StudyFolder | str] = {}
    for name in found.history:
        if name in known:
            past[name] = known[name]
            continue
        if PAST.fullmatch(name) and not (folder / name).is_dir():
            mend = "Import the past study first, and write the number that it has then."
            where = f"{STUDY}, key 'history'"
            raise InputRefused((Fault(where, shorten(name), "a folder of a past study", mend),))
        other = _one_folder(folder / name, open_recording)
        past[name] = other.log.study.key if other.log else other
    return past
