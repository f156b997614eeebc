"""Takes of the records as takes.csv and takes.analysed.json: what the recordings told, and what they were called."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import PurePosixPath

from ohmsworth.adapters.files.plain_names import is_plain
from ohmsworth.adapters.files.record_rows import columns_of, sheet_bytes
from ohmsworth.adapters.files.takes_csv import COLUMNS
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.takes_kept import FILE as KEPT
from ohmsworth.adapters.files.takes_kept import KeptStandard, KeptTake, KeptTakes, kept_bytes
from ohmsworth.readings.entry import Entry
from ohmsworth.work.study_lines import takes_in_file
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_log import RecordedTake, TakeFile
from ohmsworth.work.tone_files import PAIR, Kind


def take_files(state: StudyState, named: Collection[str] = ()) -> dict[str, bytes]:
    """The two files, as far as there is anything for them; `named` are columns that the study asks for by name.

    Line i + 2 of takes.csv is ``takes_in_file(state)[i]``. The recordings themselves are in no records: takes.analysed.json
    knows them by name and SHA-256.
    """
    takes, standards = takes_in_file(state), state.standard_of
    if not takes and not standards:
        return {}
    cells, recordings = _called(takes)
    kept = KeptTakes(
        {one.digest: KeptTake(one.basis, one.told, _moment(one.at)) for one in takes},
        recordings,
        {
            series: KeptStandard(one.digest, one.told, at=_moment(one.at if one.dated else None))
            for series, one in standards.items()
        },
    )
    files = {KEPT: kept_bytes(kept)}
    if takes:
        entries = [_bare(one.reading.entry) for one in takes]
        columns = columns_of([one.reading.number for one in takes], entries, named, COLUMNS)
        texts = {column: [row.get(kind, "") for row in cells] for column, kind in COLUMNS.items()}
        columns |= {column: each for column, each in texts.items() if any(each)}
        files[TAKES] = sheet_bytes(columns)
    return files


def _moment(at: datetime | None) -> str:
    return "" if at is None else at.isoformat()


def _bare(entry: Entry) -> Entry:
    """What was taken, without what was found: that stands in the other file."""
    return replace(entry, polarity="", voltage=None, current=None, resistance=None, temperature=None)


def _called(takes: Sequence[RecordedTake]) -> tuple[list[dict[Kind, str]], dict[str, str]]:
    """The cell of each recording, row by row, and the SHA-256 of every file by its name; each name once."""
    rows: list[dict[Kind, str]] = []
    recordings: dict[str, str] = {}
    taken: set[str] = set()
    for take in takes:
        row: dict[Kind, str] = {}
        for kind, files in take.files.items():
            cell = _cell(files)
            if cell is None or _names(cell, len(files), taken) is None:
                cell = _own_name(take.reading.number, kind, len(files), taken)
            names = _names(cell, len(files), taken)
            assert names is not None
            taken |= {cell.lower(), *(name.lower() for name in names)}
            recordings |= {name: one.sha256 for name, one in zip(names, files, strict=True)}
            row[kind] = cell
        rows.append(row)
    return rows, recordings


def _cell(files: Sequence[TakeFile]) -> str | None:
    """How takes.csv names one file, or a pair that ends with -1 and -2; None for names that it cannot hold."""
    if not all(all(map(is_plain, one.name.split("/"))) for one in files):
        return None
    paths = [PurePosixPath(one.name) for one in files]
    if len(paths) == 1:
        return str(paths[0])
    stems = [path.stem.removesuffix(end) for path, end in zip(paths, PAIR, strict=True)]
    whole = [str(path.with_name(f"{stem}{path.suffix}")) for path, stem in zip(paths, stems, strict=True)]
    pair = tuple(str(path) for path in paths) == _pair(whole[0])
    return whole[0] if pair else None


def _pair(cell: str) -> tuple[str, ...]:
    path = PurePosixPath(cell)
    return tuple(str(path.with_name(f"{path.stem}{end}{path.suffix}")) for end in PAIR)


def _names(cell: str, files: int, taken: Collection[str]) -> tuple[str, ...] | None:
    """The names of the files that a cell means; None where one of them is another's."""
    names = (cell,) if files == 1 else _pair(cell)
    return None if any(name.lower() in taken for name in (cell, *names)) else names


def _own_name(number: int, kind: Kind, files: int, taken: Collection[str]) -> str:
    """A name for a recording whose own is another's too, as where everybody's file is called straight.wav."""
    cell = f"reading {number}/{kind}.wav"
    while _names(cell, files, taken) is None:
        cell = f"again {cell}"
    return cell
