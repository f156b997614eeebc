"""A study folder: study.toml and readings.csv, read together and checked against each other."""

from __future__ import annotations

import os
import stat
from dataclasses import replace
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.checks import first_faults, only_checks, part_checks, read_checks
from ohmsworth.adapters.files.contacts_folder import load_impedances, no_sound
from ohmsworth.adapters.files.history import load_history
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.readings_csv import ReadReadings, read_readings
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.study_toml import read_study
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.takes_csv import ReadTakes, read_takes
from ohmsworth.errors import Fault, InputRefused, nearest_name, shorten
from ohmsworth.readings.factors import as_asked, columns_of, confounded
from ohmsworth.readings.names import clean_name
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import OFF, ReadingTable, distinct_pairs
from ohmsworth.resistance.impedance.of_contacts import USUAL, nearest_tone
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.recordings import OpenRecording

REFERENCE = f"{STUDY}, key 'reference'"
FACTORS = f"{STUDY}, key 'factors'"


def load_study(folder: Path, open_recording: OpenRecording | None = None) -> LoadedStudy:
    """Read the study in `folder`, and the past studies that it names.

    Parameters
    ----------
    open_recording
        Opens the recordings that takes.csv names; without it a study of takes alone is refused, and takes beside readings are
        left aside. With `no_sound` takes count by what is kept of them, and a study may ask about frequencies before it has any.

    Raises
    ------
    InputRefused
        With every fault of the files, or of the past studies.
    """

    def load(place: Path) -> LoadedStudy:
        return _load_one(place, open_recording)

    loaded = load(folder)
    return (
        replace(loaded, history=load_history(folder, loaded.study, load)) if loaded.study.history else loaded
    )


def _load_one(folder: Path, open_recording: OpenRecording | None) -> LoadedStudy:
    """The study in `folder` alone: what a past study itself leans on is not followed."""
    refuse_no_folder(folder)
    study, faults = read_study(folder / STUDY)
    named = (*study.factors, *study.scatter_by) if study is not None else ()
    takes = None
    if open_recording is not None:
        takes, more = _takes(folder, study, named, to_come=open_recording is no_sound)
        faults += more
        if takes is not None and not os.path.lexists(folder / READINGS):
            return _takes_alone(folder, study, takes, faults, open_recording)
    found, more = read_readings(folder / READINGS, named)
    faults += more
    kept, more = read_checks(folder)
    faults += more
    checks = None
    if study is not None:
        found, checks, more = part_checks(study, found)
        faults += more
        faults += [only_checks(study)] if checks is not None and found.table is None else []
        if found.table is not None:
            missing = _missing_columns(study, found.table)
            faults += missing
            found = found if missing else replace(found, table=as_asked(study, found.table))
        faults += _together(study, found, {fault.where for fault in faults})
    read = tuple(check for check in (kept, checks) if check is not None)
    if study is not None:
        faults += first_faults(study, read)
    if faults or study is None or found.table is None:
        raise InputRefused(tuple(faults))
    loaded = LoadedStudy(study, found.table, found.unused, read)
    if takes is None or takes.table is None or open_recording is None:
        return loaded
    return replace(
        loaded, impedances=load_impedances(folder, takes, takes.table, study.frequencies, open_recording)
    )


def _takes(
    folder: Path, study: Study | None, named: tuple[str, ...], to_come: bool
) -> tuple[ReadTakes | None, list[Fault]]:
    """takes.csv with the conditions that the study asks for; None where there is no such file, which may be `to_come`."""
    if not os.path.lexists(folder / TAKES):
        asked = study is not None and study.frequencies and not to_come
        mend = f"Name the recordings of each contact in {TAKES}, or remove the table."
        fault = Fault(f"{STUDY}, key 'frequencies'", f"no {TAKES} beside it", "takes to ask about", mend)
        return None, [fault] if asked else []
    takes, faults = read_takes(folder, named)
    if study is None or takes.table is None:
        return takes, faults
    missing = [of_takes(fault) for fault in _missing_columns(study, takes.table)]
    table = takes.table if missing else as_asked(study, takes.table)
    return replace(takes, table=table), faults + missing


def _takes_alone(
    folder: Path, study: Study | None, takes: ReadTakes, faults: list[Fault], open_recording: OpenRecording
) -> LoadedStudy:
    """A study whose contacts were measured with tones alone: its table holds R at the frequency that the answer is about."""
    if study is not None:
        cut = ReadReadings(takes.table, takes.labelled, takes.lines, takes.unused)
        faults += [of_takes(one) for one in _together(study, cut, {fault.where for fault in faults})]
    if faults or study is None or takes.table is None:
        raise InputRefused(tuple(faults))
    loaded = load_impedances(folder, takes, takes.table, study.frequencies, open_recording)
    tone = nearest_tone(loaded.found.frequency, (*study.frequencies, USUAL)[0])
    table = replace(takes.table, resistance=loaded.found.value[:, tone].real.copy())
    study = replace(study, home=replace(study.home, row_word="take"))
    return LoadedStudy(study, table, takes.unused, impedances=loaded, tone=tone)


def of_takes(fault: Fault) -> Fault:
    """What is told of readings.csv, told of takes.csv."""
    return Fault(
        *(text.replace(READINGS, TAKES) for text in (fault.where, fault.found, fault.expected, fault.mend))
    )


def load_question(folder: Path) -> Study:
    """Read the study.toml in `folder`; nothing needs to have been read at the bench.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    refuse_no_folder(folder)
    study, faults = read_study(folder / STUDY)
    if faults or study is None:
        raise InputRefused(tuple(faults))
    return study


def _missing_columns(study: Study, table: ReadingTable) -> list[Fault]:
    """Columns that study.toml names and readings.csv does not have."""
    there = columns_of(table)
    return [
        Fault(
            f"{STUDY}, key '{key}'",
            f"the column {shorten(name)}, which {READINGS} does not have",
            f"columns of {READINGS}",
            f"Add the column, or take its name out of '{key}'.",
        )
        for key, names in (("factors", study.factors), ("scatter_by", study.scatter_by))
        for name in names
        if name not in there
    ]


def refuse_no_folder(folder: Path) -> None:
    """Refuse what is no folder."""
    try:
        kind = "a file" if stat.S_ISREG(folder.stat().st_mode) else None
    except (OSError, ValueError) as error:
        kind = getattr(error, "strerror", None) or "a name that no folder can have"
        kind = "no such folder" if isinstance(error, FileNotFoundError) else kind
    if kind:
        expected, mend = (
            f"a folder with {STUDY} and {READINGS}",
            "Check the name, or run 'ohmsworth new FOLDER'.",
        )
        raise InputRefused((Fault(shorten(str(folder), 200), kind, expected, mend),))


def _together(study: Study, found: ReadReadings, bad: set[str]) -> list[Fault]:
    """The faults that need both files to see, as far as each file can be read."""
    faults: list[Fault] = []
    if found.table is not None and found.labelled:
        if bad.isdisjoint((REFERENCE, FACTORS)):
            faults += _reference(study, found.table)
        faults += [*_specimens(found.table), *_vanished(study, found.table), *_confounded(study, found.table)]
    if found.lines is not None:
        faults += row_faults(study, found.lines)
    if found.table is not None and f"{STUDY}, key 'scale'" not in bad:
        faults += logarithm_faults(study, found.table)
    return faults


def _confounded(study: Study, table: ReadingTable) -> list[Fault]:
    """What scatters and cannot be told from the conditions."""
    return [
        Fault(
            f"{STUDY}, key 'scatter_by'",
            f"each {name} with a condition of its own",
            f"a {name} that read several conditions",
            f"Let each {name} read every condition; if that is too late, take {name} out: the answer then cannot tell {name} "
            "and condition apart.",
        )
        for name in study.scatter_by
        if name in table.others and confounded(table, name)
    ]


def _reference(study: Study, table: ReadingTable) -> list[Fault]:
    names = table.condition.names
    some = ", ".join(shorten(name, 30) for name in names[:6])
    if study.reference is None:
        if len(names) < 2:
            return []
        mend = f"Add {_reference_line(study, table, names[0])}, or whichever the others are compared against."
        return [Fault(REFERENCE, f"no reference among {len(names)} conditions", f"one of {some}", mend)]
    if clean_name(study.reference) in names:
        return []
    if clean_name(study.reference) in table.specimen.names:
        found = f"{shorten(study.reference)}, which stands in the column 'specimen'"
        mend = "The headings 'specimen' and 'condition' seem to be exchanged: correct them, or the reference."
        return [Fault(REFERENCE, found, f"a condition in readings.csv: {some}", mend)]
    near = nearest_name(study.reference, names)
    if study.factors:
        line = _reference_line(study, table, near or names[0])
        hint = f"Write one level of each factor, in the order of 'factors', such as {line}."
        return [Fault(REFERENCE, shorten(study.reference), f"a condition in readings.csv: {some}", hint)]
    hint = f"Did you mean {shorten(near)}?" if near else "Write it as in readings.csv."
    return [Fault(REFERENCE, shorten(study.reference), f"a condition in readings.csv: {some}", hint)]


def _reference_line(study: Study, table: ReadingTable, condition: str) -> str:
    """How `condition` is written as the reference: with factors, as a list of their levels."""
    if not study.factors:
        return f'reference = "{condition[:40]}"'
    row = int(np.argmax(table.condition.codes == table.condition.names.index(condition)))
    levels = [labels.names[labels.codes[row]] for labels in table.factors.values()]
    return "reference = [" + ", ".join(f'"{level[:40]}"' for level in levels) + "]"


def _specimens(table: ReadingTable) -> list[Fault]:
    """A comparison needs, beside the conditions, at least one specimen more than it takes to tell them apart."""
    pairs, _ = distinct_pairs(table.specimen.codes, table.condition.codes)
    conditions = len(table.condition.names)
    if conditions < 2:
        return []
    specimens = len(np.unique(pairs[:, 0]))
    each = np.bincount(pairs[:, 1], minlength=conditions)
    paired = len(pairs) > specimens
    if (not paired and specimens > conditions) or (paired and specimens > 1):
        return []
    lonely = ", ".join(shorten(table.condition.names[c], 30) for c in np.flatnonzero(each == 1)[:6])
    mend = "Measure another specimen: one alone cannot show whether it is the condition or the specimen that differs."
    expected = "at least two specimens a condition in a comparison"
    return [Fault(f"{READINGS}, column 'specimen'", f"one specimen only under {lonely}", expected, mend)]


def _vanished(study: Study, table: ReadingTable) -> list[Fault]:
    """Conditions of which no reading is left to answer from."""
    flowing = table.polarity != OFF
    kept = flowing & ~np.isin(table.line, list(study.set_aside))
    faults = []
    for code, name in enumerate(table.condition.names):
        own = table.condition.codes == code
        if (kept & own).any():
            continue
        named = f"every reading of {shorten(name)}"
        if (flowing & own).any():
            mend = "Keep some of its rows, or remove the condition from readings.csv."
            faults.append(Fault(f"{STUDY}, key 'set_aside'", named, "at least one reading left", mend))
        else:
            where, mend = f"{READINGS}, column 'polarity'", "Add readings with the current on."
            faults.append(Fault(where, f"zero in {named}", "readings with the current on", mend))
    return faults


def row_faults(study: Study, lines: frozenset[int], file: str = STUDY) -> list[Fault]:
    """Rows kept or set aside in study.toml, or another `file`, that readings.csv does not hold."""
    return [
        Fault(
            f"{file}, key '{key}'",
            f"row {row}",
            f"a line of {READINGS} that holds a reading",
            "Check the number; the header is line 1.",
        )
        for key, rows in (("keep", study.keep), ("set_aside", study.set_aside))
        for row in sorted(rows)
        if row not in lines
    ]


def logarithm_faults(study: Study, table: ReadingTable) -> list[Fault]:
    """Resistances, read as such, that have no logarithm."""
    if study.scale != "log" or table.resistance is None:
        return []
    return [
        Fault(f"{READINGS}, line {table.line[i]}, column 'resistance'", "zero or a negative resistance",
              "more than zero", 'Check the reading; for readings scattered about zero write scale = "linear".')
        for i in np.flatnonzero(table.resistance <= 0)
    ]  # fmt: skip
