"""Study folders that are on no disk yet, read by the very same readers: laid down for a moment, for nobody else to see."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from ohmsworth.adapters.files.bench_folder import load_bench
from ohmsworth.adapters.files.contacts_folder import no_sound
from ohmsworth.adapters.files.folder import load_question, load_study
from ohmsworth.adapters.files.lot_folder import load_lot
from ohmsworth.adapters.files.plain_names import is_plain
from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.adapters.files.record_marks import parsed
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.tones_toml import read_tones
from ohmsworth.errors import Fault, InputRefused, OutputFault, shorten
from ohmsworth.readings.study import Study
from ohmsworth.resistance.impedance.known import Known
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.wishes import Wishes
from ohmsworth.work.ports import LoadedBench, LoadedLot, LoadedStudy, PastFolder
from ohmsworth.work.tone_files import PLAN, WISHES

#: How a study of the records is named under `history`.
PAST = re.compile(r"study [1-9][0-9]{0,17}")


def read_folder(files: Mapping[str, bytes], past: PastFolder | None = None) -> LoadedStudy:
    """Read the study whose folder holds `files`, and the past studies that it names as "study 12", from `past`.

    Takes count by what is kept of them: no recording is opened.

    Raises
    ------
    InputRefused
        As `load_study`; and for a history that is no study of the records.
    """
    with _laid_with_past(files, past) as folder:
        return load_study(folder, no_sound)


def read_lot_folder(files: Mapping[str, bytes], past: PastFolder | None = None) -> LoadedLot:
    """Read what the folder that holds `files` asks about a lot, with its sample where there is one; `past` as there.

    Raises
    ------
    InputRefused
        As `load_lot`; and for a history that is no study of the records.
    """
    with _laid_with_past(files, past) as folder:
        return load_lot(folder)


@contextmanager
def _laid_with_past(files: Mapping[str, bytes], past: PastFolder | None) -> Iterator[Path]:
    """A folder that holds `files`, and inside it those of the past studies that it names."""
    history = _history(files)
    with laid_down(files) as folder:
        for name, number in history.items():
            found = past(number) if past is not None else None
            if found is None:
                raise InputRefused((_no_study(name),))
            _lay(folder / name, found)
        yield folder


def read_bench_folder(files: Mapping[str, bytes]) -> LoadedBench:
    """Read what the folder that holds `files` says of the bench: a repeatability study, and checks among its rows.

    Raises
    ------
    InputRefused
        As `load_bench`.
    """
    with laid_down(files) as folder:
        return load_bench(folder)


def read_question_text(toml: str, files: Mapping[str, bytes] | None = None) -> Study:
    """Read a study.toml from its text; `files` stand beside it: cables.toml, measured leads.

    Raises
    ------
    InputRefused
        With every fault of the text.
    """
    with laid_down({**(files or {}), STUDY: toml.encode("utf-8", "replace")}) as folder:
        return load_question(folder)


def read_tones_text(toml: str, plan: bytes | None = None) -> tuple[Wishes, Known, TonePlan | None]:
    """Read a tones.toml from its text, with the plan.json beside it where there is one.

    Raises
    ------
    InputRefused
        With every fault of both.
    """
    files = {WISHES: toml.encode("utf-8", "replace")} | ({} if plan is None else {PLAN: plan})
    with laid_down(files) as folder:
        read, faults = read_tones(folder / WISHES)
        made, more = (None, []) if plan is None else read_plan_json(folder / PLAN)
    if read is None or faults or more:
        raise InputRefused((*faults, *more))
    return *read, made


@contextmanager
def laid_down(files: Mapping[str, bytes]) -> Iterator[Path]:
    """A folder that holds `files`, which its owner alone may look into; gone at the end.

    Raises
    ------
    InputRefused
        For a name that is not that of one file, or a measured lead that is sought elsewhere.
    OutputFault
        When there is no room for it.
    """
    faults = _strange_leads(files)
    if faults:
        raise InputRefused(tuple(faults))
    with _in_words():
        place = tempfile.TemporaryDirectory(prefix="ohmsworth-", ignore_cleanup_errors=True)
    with place:
        folder = Path(place.name) / "study"
        _lay(folder, files)
        yield folder


@contextmanager
def _in_words() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        reason = error.strerror or "no room"
        told = f"A study cannot be laid down for reading: {reason}. Free room on the disk."
        raise OutputFault(told) from error


def _lay(folder: Path, files: Mapping[str, bytes]) -> None:
    expected, mend = "the name of one file", "Add the file again under another name."
    bad = [name for name in files if not is_plain(name)]
    if bad:
        raise InputRefused(tuple(Fault("a file of the study", shorten(n), expected, mend) for n in bad))
    with _in_words():
        folder.mkdir(mode=0o700)
        for name, data in files.items():
            (folder / name).write_bytes(data)


def _strange_leads(files: Mapping[str, bytes]) -> list[Fault]:
    """Measured leads that study.toml names outside of its folder: no study of the records may look there."""
    tables = _toml(files).get("use")
    uses = [one for one in tables if isinstance(one, dict)] if isinstance(tables, list) else []
    mend = "Add the file to the study, and write its name alone."
    return [
        Fault(f"{STUDY}, [[use]] number {i}, key 'touchstone'", shorten(name), "a file of the study", mend)
        for i, use in enumerate(uses, start=1)
        if isinstance(name := use.get("touchstone"), str) and not is_plain(name.strip())
    ]


def _toml(files: Mapping[str, bytes]) -> dict[str, Any]:
    """The table of study.toml; empty where it cannot be read, which its reader will tell."""
    return parsed(files.get(STUDY, b"").decode("utf-8", "replace")) or {}


def _history(files: Mapping[str, bytes]) -> dict[str, int]:
    """Numbers of the past studies by how study.toml names them; other faults of it are the reader's to tell."""
    listed = _toml(files).get("history")
    names = [name for name in listed if isinstance(name, str)] if isinstance(listed, list) else []
    strange = [name for name in names if not PAST.fullmatch(name.strip())]
    if strange:
        raise InputRefused(tuple(_no_study(name) for name in strange))
    return {name.strip(): int(name.strip()[6:]) for name in names}


def _no_study(name: str) -> Fault:
    expected = 'studies of these records by number, such as history = ["study 12"]'
    mend = "Bring the past study into the records, and name it by its number there."
    return Fault(
        f"{STUDY}, key 'history'", f"{shorten(name)}, which is no study of the records", expected, mend
    )
