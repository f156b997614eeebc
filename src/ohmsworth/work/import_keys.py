"""Keys of lines that come from a folder made by hand: the same folder gives the same keys, so that nothing comes in twice."""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Sequence
from dataclasses import replace

from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.portable import FolderTake, StudyFolder


def key_of(*parts: object) -> str:
    """A key made of `parts`, which are texts, numbers and lists of them."""
    text = json.dumps(parts, ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return f"import.{hashlib.sha256(text.encode()).hexdigest()[:40]}"


def folder_key(folder: StudyFolder) -> str:
    """What a folder is known by: what it asks and its first row; without rows, the whole text of its study.toml.

    Rows may be added and marks may change without its becoming another study.
    """
    try:
        asked = tomllib.loads(folder.question).get("question", "")
    except ValueError:
        asked = folder.question
    if folder.rows:
        first = row_text(folder.rows[0].entry)
    else:
        first = _taken(folder.take_rows[0].entry) if folder.take_rows else folder.question
    return key_of("study", str(asked), first)


def row_keys(study: str, entries: Sequence[Entry]) -> list[str]:
    """A key for each row of the study known by `study`; rows that say the same are told apart by their order."""
    seen: dict[str, int] = {}
    keys = []
    for entry in entries:
        text = row_text(entry)
        seen[text] = seen.get(text, 0) + 1
        keys.append(key_of(study, "row", text, seen[text]))
    return keys


def take_keys(study: str, takes: Sequence[FolderTake]) -> list[str]:
    """A key for the takes of each row: by what was taken and by its recordings, whatever they told."""
    return [key_of(study, "take", _taken(one.row.entry), one.digest) for one in takes]


def _taken(entry: Entry) -> str:
    """What was recorded, without what was found."""
    return row_text(replace(entry, resistance=None))


def row_text(entry: Entry) -> str:
    """Everything that an entry says, in one fixed order."""
    figures = [_typed(getattr(entry, n)) for n in ("voltage", "current", "resistance", "temperature")]
    names = [entry.specimen, entry.condition, entry.contact, entry.mating, entry.polarity]
    when = None if entry.time is None else entry.time.isoformat()
    rest = [when, entry.operator, entry.note, entry.step, sorted(entry.others.items())]
    return json.dumps([*names, *figures, *rest], ensure_ascii=True)


def _typed(typed: Typed | None) -> list[str] | None:
    return None if typed is None else [typed.text, typed.unit]
