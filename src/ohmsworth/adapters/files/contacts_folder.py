"""The takes of a study's contacts: takes.csv with tones.toml, plan.json and the recordings, read together."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.takes_csv import ReadTakes
from ohmsworth.adapters.files.takes_folder import no_recording
from ohmsworth.adapters.files.takes_kept import Entry, digest_of, keep, read_kept
from ohmsworth.adapters.files.tones_folder import names_in
from ohmsworth.adapters.files.tones_toml import read_tones
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.table import ReadingTable
from ohmsworth.resistance.impedance.of_contacts import gathered
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.work.contact_takes import contact_of, standards_of
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.ports import LoadedImpedances
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.tone_files import PLAN, STEMS, WISHES, Kind, Series, recordings_among

#: An asked frequency may lie so many times beyond the lowest or highest tone.
_BEYOND = 1.1


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
    wishes, faults = read_tones(folder / WISHES)
    plan, more = read_plan_json(folder / PLAN)
    faults += more
    if wishes is None or plan is None:
        raise InputRefused(tuple(faults))
    frequency = plan.frequencies
    faults += _out_of_reach(asked, float(frequency[0]), float(frequency[-1]))
    standards, more = _standards(folder, wishes[1].channels, open_recording)
    faults += more
    loaded = LoadedTakes(*wishes, plan, standards[1], (), ())
    if faults:
        raise InputRefused(tuple(faults))
    entries = _analysed(folder, read, loaded, standards[0], open_recording)
    found = gathered(table, [curve for curve, _ in entries])
    return LoadedImpedances(found, tuple(state for _, state in entries), asked)


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


def _standards(
    folder: Path, channels: tuple[int, int] | None, open_recording: OpenRecording
) -> tuple[tuple[list[tuple[str, Path]], dict[tuple[Series, Kind], Recording]], list[Fault]]:
    """The takes of short, load and open: their files, and they themselves opened."""
    files: list[tuple[str, Path]] = []
    opened: dict[tuple[Series, Kind], Recording] = {}
    faults: list[Fault] = []
    for stem, names in recordings_among(names_in(folder)).items():
        if STEMS[stem][0] == "contact":
            continue
        wrong = no_recording(stem, names)
        if wrong is not None:
            faults.append(wrong)
            continue
        paths = tuple(folder / name for name in names)
        files += [(f"{stem} {number}", path) for number, path in enumerate(paths)]
        try:
            opened[STEMS[stem]] = open_recording(paths, channels if len(paths) == 1 else None)
        except InputRefused as refused:
            faults += refused.faults
    return (files, opened), faults


def _analysed(
    folder: Path,
    read: ReadTakes,
    loaded: LoadedTakes,
    standards: list[tuple[str, Path]],
    open_recording: OpenRecording,
) -> list[Entry]:
    """Each row's impedance, analysed only where nothing is kept of the very same recordings."""
    kept, digests = read_kept(folder), _digests(folder, read, standards)
    new = [digest for digest in digests if digest not in kept]
    if new:
        common = standards_of(loaded) if loaded.recordings else {}
        made: dict[str, Entry] = {digest: kept[digest] for digest in digests if digest in kept}
        faults: list[Fault] = []
        assert read.table is not None
        for line, files, digest in zip(read.table.line.tolist(), read.files, digests, strict=True):
            if digest in made:
                continue
            try:
                recordings = _opened(files, loaded, open_recording)
                made[digest] = contact_of(loaded, recordings, common)
            except InputRefused as refused:
                faults += [_at(line, fault) for fault in refused.faults]
        if faults:
            raise InputRefused(tuple(faults))
        keep(folder, made)
        kept = made
    return [kept[digest] for digest in digests]


def _digests(folder: Path, read: ReadTakes, standards: list[tuple[str, Path]]) -> list[str]:
    """What each row's impedance is made of."""
    faults: list[Fault] = []
    found = []
    begin = ""
    rows = [
        [],
        *(
            [(f"{kind} {n}", p) for kind, paths in one.items() for n, p in enumerate(paths)]
            for one in read.files
        ),
    ]
    rows[0] = [(WISHES, folder / WISHES), (PLAN, folder / PLAN), *standards]
    for parts in rows:
        try:
            made = digest_of(parts, begin)
        except OSError as error:
            reason, mend = (
                error.strerror or "a file that cannot be read",
                "Check the file and its permissions.",
            )
            faults.append(Fault(str(error.filename or TAKES), reason, "a file that can be read", mend))
            continue
        begin = begin or made
        found.append(made)
    if faults:
        raise InputRefused(tuple(faults))
    _refuse_copies(read, found[1:])
    return found[1:]


def _refuse_copies(read: ReadTakes, digests: list[str]) -> None:
    """No two contacts have recordings that are alike to the last sample."""
    assert read.table is not None
    first: dict[str, int] = {}
    faults = []
    for line, digest in zip(read.table.line.tolist(), digests, strict=True):
        if first.setdefault(digest, line) != line:
            found = f"recordings that are those of line {first[digest]}, sample by sample"
            mend = "One of the two was copied over the other, or named twice: find the right one, or remove the row."
            faults.append(Fault(f"{TAKES}, line {line}", found, "recordings of its own", mend))
    if faults:
        raise InputRefused(tuple(faults))


def _opened(
    files: Mapping[Kind, tuple[Path, ...]], loaded: LoadedTakes, open_recording: OpenRecording
) -> dict[Kind, Recording]:
    """Every recording of a row; the faults of all of them at once."""
    opened: dict[Kind, Recording] = {}
    faults: list[Fault] = []
    for kind, paths in files.items():
        try:
            opened[kind] = open_recording(paths, loaded.known.channels if len(paths) == 1 else None)
        except InputRefused as refused:
            faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))
    return opened


def _at(line: int, fault: Fault) -> Fault:
    return Fault(f"{TAKES}, line {line}: {fault.where}", fault.found, fault.expected, fault.mend)
