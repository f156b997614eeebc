"""Files that somebody sent, laid into a folder of their own: nothing in them is taken on trust."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from io import BytesIO
from pathlib import Path

from ohmsworth.adapters.files.cable_toml import FILE as CABLE
from ohmsworth.adapters.files.contacts_folder import no_sound
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.adapters.files.packed import DEEPEST, left_by_system, open_tree
from ohmsworth.adapters.files.plain_names import is_plain, safe_name
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.record_folder import read_study_folder
from ohmsworth.adapters.files.record_json import FILE as RECORD
from ohmsworth.adapters.files.record_marks import parsed
from ohmsworth.adapters.files.shop_json import CARDS
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.keeping import LaidOut
from ohmsworth.work.portable import StudyFolder
from ohmsworth.work.recordings import OpenRecording

#: What is sent at once, unpacked: bytes, files, studies.
MOST_BYTES, MOST_FILES, MOST_STUDIES = 512 * 1024 * 1024, 20_000, 500
#: Name of the folder of files that came without one.
LOOSE = "the files"
_ZIP = (b"PK\x03\x04", b"PK\x05\x06")
_MEND = "Send study.toml and readings.csv, cable.toml and test.csv, a folder with them, or a zip file of such folders."


def lay_out(folder: Path, files: Sequence[tuple[str, bytes]]) -> LaidOut:
    """Write `files` below `folder`, zip files unpacked, and find the studies and the cables among them.

    Raises
    ------
    InputRefused
        For names that lead elsewhere or stand there twice, for damaged zip files, for more than anybody sends, and where
        there is neither study nor cable. What was written by then is in `folder`, which is to be removed.
    """
    total = count = 0
    for name, data in _unpacked(files):
        total, count = total + len(data), count + 1
        if total > MOST_BYTES or count > MOST_FILES:
            much = f"more than {MOST_BYTES // 2**20} MB or {MOST_FILES} files when unpacked"
            raise _refused("the files", much, "what a shop measures", "Send fewer folders at once.")
        _write(folder, name, data)
    found = _found(folder)
    if not found.studies and not found.cables and not found.whole:
        raise _refused("the files", "no study and no cable among them", "study.toml or cable.toml", _MEND)
    number = len(found.studies) + len(found.cables)
    if number > MOST_STUDIES:
        raise _refused(
            "the files", f"{number} studies and cables", f"up to {MOST_STUDIES}", "Send fewer at once."
        )
    return found


def read_laid_out(folder: Path, root: Path, open_recording: OpenRecording = no_sound) -> StudyFolder:
    """Read a study's folder of those in `root`; `open_recording` opens the recordings that takes.csv names.

    Raises
    ------
    InputRefused
        With every fault; for a past study in a folder that was not sent.
    """
    if (folder / STUDY).is_file():
        text, _ = read_text(folder / STUDY)
        listed = (parsed(text or "") or {}).get("history")
        names = [name for name in listed if isinstance(name, str)] if isinstance(listed, list) else []
        outside = [name for name in names if not _inside(folder, name, root)]
        if outside:
            mend = "Send the folder of the past study together with this one, in one zip file."
            raise InputRefused(
                tuple(
                    Fault(f"{STUDY}, key 'history'", shorten(name), "a folder that was sent too", mend)
                    for name in outside
                )
            )
    return read_study_folder(folder, open_recording)


def _inside(folder: Path, name: str, root: Path) -> bool:
    try:
        place = (folder / name.strip()).resolve()
    except (OSError, ValueError, RuntimeError):
        return False
    return place.is_relative_to(root.resolve())


def _unpacked(files: Sequence[tuple[str, bytes]]) -> Iterator[tuple[str, bytes]]:
    """Every file by its path; those of a zip file in a folder with its name, unless they bring one of their own."""
    for name, data in files:
        if left_by_system(name):
            continue
        if not data.startswith(_ZIP):
            yield (name if "/" in name else f"{LOOSE}/{name}"), data
            continue
        stem = safe_name(name.rpartition("/")[2].removesuffix(".zip"), "zip")
        with open_tree(BytesIO(data)) as tree:
            for inside in tree.names:
                yield f"{stem}/{inside}", tree.read(inside)


def _write(folder: Path, name: str, data: bytes) -> None:
    parts = name.split("/")
    if not all(map(is_plain, parts)) or len(parts) > DEEPEST + 2:
        raise _refused(shorten(name, 200), "a name that leads elsewhere", "a plain name", "Rename the file.")
    place = folder.joinpath(*parts)
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with open(place, "xb") as file:
            file.write(data)
    except (FileExistsError, NotADirectoryError) as error:
        raise _refused(shorten(name, 200), "a name twice", "each file once", _MEND) from error
    except OSError as error:
        reason = error.strerror or "it cannot be written"
        raise _refused(shorten(name, 200), reason, "room for the files", "Free the disk.") from error


def _found(folder: Path) -> LaidOut:
    """The topmost folders of studies and of cables by their paths; what is inside one belongs to it."""
    studies: dict[str, Path] = {}
    cables: dict[str, Path] = {}
    whole = False
    for place, folders, names in os.walk(folder):
        folders.sort()
        if CARDS in names:
            whole = True
        elif CABLE in names and STUDY not in names:
            cables[Path(place).relative_to(folder).as_posix()] = Path(place)
        elif {STUDY, READINGS, RECORD} & set(names):
            studies[Path(place).relative_to(folder).as_posix()] = Path(place)
        else:
            continue
        folders.clear()
    return LaidOut(_shown(studies), _shown(cables), whole)


def _shown(studies: Mapping[str, Path]) -> dict[str, Path]:
    """By the last part of the path where that tells them apart."""
    short = {name: name.rpartition("/")[2] for name in studies}
    return {
        (short[name] if [*short.values()].count(short[name]) == 1 else name): path
        for name, path in studies.items()
    }


def _refused(where: str, found: str, expected: str, mend: str) -> InputRefused:
    return InputRefused((Fault(where, found, expected, mend),))
