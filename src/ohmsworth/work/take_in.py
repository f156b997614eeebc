"""Folders of studies that were sent together into the records: each by itself, with what came of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from ohmsworth.errors import Fault, InputRefused, OhmsworthError
from ohmsworth.work.faces import face_of
from ohmsworth.work.import_study import WithHistory, import_study, left_words
from ohmsworth.work.own_times import without_zone
from ohmsworth.work.portable import StudyFolder
from ohmsworth.work.records import Records

#: A past study that is not here yet may be another of the folders.
_HISTORY = "study.toml, key 'history'"


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What came of one folder.

    Parameters
    ----------
    name
        Of the folder.
    study
        Its number in the records; None where it was refused.
    added, known
        How many lines are new, and whether the study was here before.
    left
        What is said of files that were left where they are.
    faults
        Why it was refused.
    edited
        Whether it was refused because rows were edited after an export: they can be taken as corrections, with a reason.
    without_zone
        Whether its times state no zone.
    """

    name: str
    study: int | None = None
    added: int = 0
    known: bool = False
    left: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = field(default=())
    edited: bool = False
    without_zone: bool = False


def take_in(
    records: Records,
    folders: Mapping[str, Path],
    read: Callable[[Path], StudyFolder],
    with_history: WithHistory,
    by: str,
    corrections: str | None = None,
) -> tuple[TakenIn, ...]:
    """Take every folder in that can be; one that is refused writes nothing and stops no other.

    Folders whose past studies are among them come after those, in whatever order they were sent.
    """

    def one(name: str, path: Path) -> TakenIn:
        folder: StudyFolder | None = None
        try:
            folder = read(path)
            found = import_study(records, folder, by, face_of, with_history, corrections)
        except InputRefused as refused:
            edited = folder is not None and bool(folder.edits)
            return TakenIn(name, faults=refused.faults, edited=edited)
        except OhmsworthError as error:
            mend = (
                "Look through the records, then send it again: what is there already is not taken in twice."
            )
            return TakenIn(name, faults=(Fault("the records", str(error), "room for this study", mend),))
        zoneless = without_zone([row.entry for row in folder.rows])
        return TakenIn(
            name, found.study, found.added, found.known, left_words(found.passed_over), without_zone=zoneless
        )

    told: dict[str, TakenIn] = {}
    waiting = dict(folders)
    while waiting:
        done = {name: one(name, path) for name, path in waiting.items()}
        told |= done
        again = {name for name, found in done.items() if any(f.where == _HISTORY for f in found.faults)}
        if len(again) == len(waiting):
            break
        waiting = {name: path for name, path in waiting.items() if name in again}
    return tuple(told[name] for name in folders)
