"""The takes of a study's contacts: takes.csv with tones.toml, plan.json and the recordings, read together."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.adapters.files.standards_folder import FolderStandards, standards_in, unreadable
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.takes_csv import ReadTakes, name_in
from ohmsworth.adapters.files.takes_kept import KeptStandard, KeptTake, KeptTakes, keep, sha_of
from ohmsworth.adapters.files.tones_toml import read_tones
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.table import ReadingTable
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.of_contacts import gathered
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.work.contact_takes import contact_of
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.ports import LoadedImpedances
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.take_log import Files, TakeFile
from ohmsworth.work.take_told import basis_of, digest_of, is_whole, told_of
from ohmsworth.work.takes_setup import TakesSetup, setup_of
from ohmsworth.work.tone_files import PLAN, WISHES, Kind, Series

#: An asked frequency may lie so many times beyond the lowest or highest tone.
_BEYOND = 1.1


@dataclass(frozen=True, slots=True, eq=False)
class ToldTake:
    """What the recordings of one row of takes.csv told, and on which basis."""

    line: int
    files: Files
    digest: str
    kept: KeptTake


@dataclass(frozen=True, slots=True, eq=False)
class ToldTakes:
    """What all of them told.

    Parameters
    ----------
    takes
        A row each, in the order of takes.csv.
    standards
        Those of short, load and open; only where they were asked for, or a row had to be analysed.
    standard_files
        Which files each of these is made of, of those that are in the folder.
    outdated, short, setup
        As of `LoadedImpedances`.
    """

    takes: tuple[ToldTake, ...]
    standards: Mapping[Series, KeptStandard]
    standard_files: Mapping[Series, Files]
    outdated: Mapping[tuple[Series, ...], tuple[int, ...]]
    short: Curve | None
    setup: TakesSetup | None = None


@dataclass(frozen=True, slots=True, eq=False)
class _Row:
    """A row with its recordings: where they would lie, and whether all of them do."""

    line: int
    paths: Mapping[Kind, tuple[Path, ...]]
    files: Files
    here: bool

    @property
    def digest(self) -> str:
        return digest_of(self.files)


def no_sound(paths: Sequence[Path], channels: tuple[int, int] | None = None) -> Recording:  # noqa: ARG001
    """Opens no recording: for folders of which only what their recordings told is at hand."""
    mend = "Answer the study from the folder in which its recordings are."
    found = "a recording that is not kept here, and nothing of what it told"
    raise InputRefused((Fault(paths[0].name, found, "recordings, or what they told", mend),))


def load_impedances(
    folder: Path,
    read: ReadTakes,
    table: ReadingTable,
    asked: tuple[float, ...],
    open_recording: OpenRecording,
) -> LoadedImpedances:
    """The impedances of the contacts of takes.csv, from the recordings or from what they told before.

    Parameters
    ----------
    read, table
        takes.csv without a fault, and its table with the conditions that the study asks for.
    asked
        Hertz that the study asks about.

    Raises
    ------
    InputRefused
        With every fault of tones.toml, plan.json, the recordings, and the frequencies asked about.
    """
    told = told_takes(folder, read, open_recording, asked)
    entries = [one.kept.entry for one in told.takes]
    found = gathered(table, [curve for curve, _ in entries])
    states = tuple(state for _, state in entries)
    return LoadedImpedances(found, states, asked, told.outdated, told.short, told.setup)


def told_takes(
    folder: Path,
    read: ReadTakes,
    open_recording: OpenRecording,
    asked: tuple[float, ...] = (),
    with_standards: bool = False,
) -> ToldTakes:
    """What the recordings of takes.csv tell; `with_standards` also those of short, load and open.

    Raises
    ------
    InputRefused
        As `load_impedances`.
    """
    wishes, faults = read_tones(folder / WISHES)
    plan, more = read_plan_json(folder / PLAN)
    faults += more
    if wishes is None or plan is None:
        raise InputRefused(tuple(faults))
    frequency = plan.frequencies
    faults += _out_of_reach(asked, float(frequency[0]), float(frequency[-1]))
    standards, more = standards_in(folder, wishes[1].channels, read.kept, frequency, open_recording)
    faults += more
    rows = _rows(folder, read)
    faults += [_of_other_tones(row) for row in rows if _other_tones(row, read.kept, frequency)]
    if faults:
        raise InputRefused(tuple(faults))
    loaded, bases = LoadedTakes(*wishes, plan, standards.opened, (), ()), _bases(folder, standards)
    told = _told(folder, rows, bases, read.kept, loaded, standards, open_recording, with_standards)
    known = {**read.kept.standards, **told.standards}.get("short")
    is_taken_off = known is not None and standards.digests.get("short") == known.digest
    return replace(
        told,
        outdated=_outdated(folder, standards, told.takes),
        short=known.curve if known is not None and is_taken_off else None,
        setup=setup_of(
            wishes[0].circuit,
            wishes[1],
            plan,
            standards.days(read.kept),
            tuple(tuple(one.files) for one in told.takes),
            tuple(one.kept.at for one in told.takes),
        ),
    )


def _outdated(
    folder: Path, standards: FolderStandards, takes: Sequence[ToldTake]
) -> dict[tuple[Series, ...], tuple[int, ...]]:
    """Lines of takes on another basis than that of now, by the standards that were not there yet when they were analysed."""
    wishes, plan = (folder / WISHES).read_bytes(), (folder / PLAN).read_bytes()
    digests = standards.digests
    lacking: dict[str, tuple[Series, ...]] = {}
    for number in range(len(digests) + 1):
        for left in combinations(digests, number):
            there = {series: digest for series, digest in digests.items() if series not in left}
            lacking[basis_of(wishes, plan, there)] = left
    now, found = basis_of(wishes, plan, digests), dict[tuple[Series, ...], tuple[int, ...]]()
    for take in takes:
        if take.kept.basis != now:
            left = lacking.get(take.kept.basis, ())
            found[left] = (*found.get(left, ()), take.line)
    return found


def _out_of_reach(asked: tuple[float, ...], lowest: float, highest: float) -> list[Fault]:
    """Frequencies that no tone is near."""
    mend = "Ask about a frequency of the tones, or record a plan that has it."
    return [
        Fault(
            "study.toml, [frequencies], key 'at'",
            f"{hertz:g} Hz",
            f"{lowest:g} Hz to {highest:g} Hz, as the tones",
            mend,
        )
        for hertz in asked
        if not lowest / _BEYOND <= hertz <= highest * _BEYOND
    ]


def _rows(folder: Path, read: ReadTakes) -> list[_Row]:
    """Every row with the digests of its recordings, from the files or from what was kept of them."""
    assert read.table is not None
    faults: list[Fault] = []
    rows = []
    for line, paths in zip(read.table.line.tolist(), read.files, strict=True):
        hashed: dict[Kind, tuple[TakeFile, ...]] = {}
        here = True
        for kind, files in paths.items():
            try:
                hashed[kind] = tuple(_hashed(folder, path, read.kept.recordings) for path in files)
            except OSError as error:
                faults.append(unreadable(TAKES, error))
            here = here and all(os.path.lexists(path) for path in files)
        rows.append(_Row(line, paths, hashed, here))
    if faults:
        raise InputRefused(tuple(faults))
    _refuse_copies(rows)
    return rows


def _hashed(folder: Path, path: Path, kept: Mapping[str, str]) -> TakeFile:
    name = name_in(folder, path)
    return TakeFile(name, sha_of(path) if os.path.lexists(path) else kept[name])


def _bases(folder: Path, standards: FolderStandards) -> tuple[str, str]:
    """What contacts, and what short, load and open are analysed with."""
    try:
        wishes, plan = (folder / WISHES).read_bytes(), (folder / PLAN).read_bytes()
    except OSError as error:
        raise InputRefused((unreadable(WISHES, error),)) from error
    return basis_of(wishes, plan, standards.digests), basis_of(wishes, plan, {})


def _told(
    folder: Path,
    rows: Sequence[_Row],
    bases: tuple[str, str],
    kept: KeptTakes,
    loaded: LoadedTakes,
    standards: FolderStandards,
    open_recording: OpenRecording,
    with_standards: bool,
) -> ToldTakes:
    """Each row's impedance, analysed only where nothing is kept of the very same recordings.

    What is no longer there to be analysed counts with what it told then, on whichever basis that was.
    """
    basis, used = bases[0], dict[str, KeptTake]()
    for row in rows:
        one = kept.takes.get(row.digest)
        if one is not None and ((one.basis == basis and is_whole(one.told)) or not row.here):
            used[row.digest] = one
    new = [row for row in rows if row.digest not in used]
    told: Mapping[Series, KeptStandard] = {}
    faults: list[Fault] = []
    if new or with_standards:
        told = standards.told(loaded, kept, bases[1])
        curves = {series: one.curve for series, one in told.items()}
        for row in new:
            try:
                recordings = _opened(row, loaded, open_recording)
                at = kept.takes[row.digest].at if row.digest in kept.takes else ""
                used[row.digest] = KeptTake(basis, told_of(*contact_of(loaded, recordings, curves)), at)
            except InputRefused as refused:
                faults += [_at(row.line, fault) for fault in refused.faults]
    if faults:
        raise InputRefused(tuple(faults))
    takes = tuple(ToldTake(row.line, row.files, row.digest, used[row.digest]) for row in rows)
    if new:
        names = {one.name: one.sha256 for row in rows for files in row.files.values() for one in files}
        keep(folder, KeptTakes(used, names, told))
    return ToldTakes(takes, told, standards.files, {}, None)


def _other_tones(row: _Row, kept: KeptTakes, frequency: np.ndarray) -> bool:
    """Whether all that is left of a row was recorded with another plan."""
    one = None if row.here else kept.takes.get(row.digest)
    return one is not None and not np.array_equal(one.entry[0].frequency, frequency)


def _of_other_tones(row: _Row) -> Fault:
    mend = f"Put back the {PLAN} that they were recorded with, or remove the row."
    return Fault(f"{TAKES}, line {row.line}", "takes of other tones", f"the tones of {PLAN}", mend)


def _refuse_copies(rows: Sequence[_Row]) -> None:
    """No two contacts have recordings that are alike to the last sample."""
    first: dict[str, int] = {}
    faults = []
    for row in rows:
        if first.setdefault(row.digest, row.line) != row.line:
            found = f"recordings that are those of line {first[row.digest]}, sample by sample"
            mend = "One of the two was copied over the other, or named twice: find the right one, or remove the row."
            faults.append(Fault(f"{TAKES}, line {row.line}", found, "recordings of its own", mend))
    if faults:
        raise InputRefused(tuple(faults))


def _opened(row: _Row, loaded: LoadedTakes, open_recording: OpenRecording) -> dict[Kind, Recording]:
    """Every recording of a row; the faults of all of them at once."""
    opened: dict[Kind, Recording] = {}
    faults: list[Fault] = []
    for kind, paths in row.paths.items():
        there = open_recording if all(map(os.path.lexists, paths)) else no_sound
        try:
            opened[kind] = there(paths, loaded.known.channels if len(paths) == 1 else None)
        except InputRefused as refused:
            faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))
    return opened


def _at(line: int, fault: Fault) -> Fault:
    return Fault(f"{TAKES}, line {line}: {fault.where}", fault.found, fault.expected, fault.mend)
