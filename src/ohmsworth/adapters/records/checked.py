"""What is handed in is looked at before a transaction begins, so that the store only ever holds what it can give back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from json import loads
from math import isfinite
from typing import Any

from ohmsworth.adapters.records.database import to_json
from ohmsworth.adapters.records.tables import TYPED
from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.records import CARD_KINDS, Face, NewLine

#: Numbers beyond this do not fit the store.
LARGEST = 2**63 - 1
_LONGEST_KEY = 200
_DEEPEST = 40


@dataclass(frozen=True, slots=True)
class Ready:
    """A line with its fields as they will come back, and the values of its reading and its file."""

    line: NewLine
    fields: dict[str, Any]
    reading: dict[str, Any] | None
    content: dict[str, Any] | None


def ready(lines: Sequence[NewLine]) -> tuple[Ready, ...]:
    """Look at every line.

    Raises
    ------
    ArgumentFault
        When a line holds what the store cannot keep.
    QuantityFault
        When a quantity of an entry is no number with a unit of its dimension.
    """
    return tuple(_ready(line) for line in lines)


def _ready(line: NewLine) -> Ready:
    text("key", line.key)
    if not 0 < len(line.key) <= _LONGEST_KEY:
        raise ArgumentFault("key", line.key[:_LONGEST_KEY], f"1 to {_LONGEST_KEY} characters")
    text("kind", line.kind)
    text("reason", line.reason)
    if line.specimen is not None and line.entry is None:
        raise ArgumentFault("specimen", line.specimen, "None where there is no entry")
    _json("fields", line.fields)
    reading = None if line.entry is None else {**_reading(line.entry), "specimen_card": line.specimen}
    content = None
    if line.content is not None:
        content = {"bytes": line.content, "sha256": sha256(line.content).hexdigest()}
    return Ready(line, loads(to_json(dict(line.fields))), reading, content)


def text(name: str, value: object) -> None:
    """A text that both systems can keep: without a NUL, and without half a character."""
    if not isinstance(value, str) or "\0" in value or any("\ud800" <= c <= "\udfff" for c in value):
        raise ArgumentFault(name, value, "text without NUL and without unpaired surrogates")


def face(found: Face) -> None:
    """The words of a face, and its figures, which may be any finite numbers: nobody typed them."""
    for name in ("title", "state", "text", "due_for"):
        text(name, getattr(found, name))
    _json("figures", found.figures, derived=True)


def kind(found: str) -> None:
    """A kind of card."""
    if found not in CARD_KINDS:
        raise ArgumentFault("kind", found, f"one of {', '.join(CARD_KINDS)}")


def _json(name: str, value: object, depth: int = 0, derived: bool = False) -> None:
    if depth > _DEEPEST:
        raise ArgumentFault(name, "…", f"at most {_DEEPEST} levels")
    if isinstance(value, Mapping):
        for key, held in value.items():
            text(f"a name in {name}", key)
            _json(name, held, depth + 1, derived)
    elif isinstance(value, list | tuple):
        for held in value:
            _json(name, held, depth + 1, derived)
    elif isinstance(value, str):
        text(name, value)
    elif derived and isinstance(value, float) and isfinite(value):
        return
    elif not (value is None or isinstance(value, bool) or _is_whole(value)):
        raise ArgumentFault(name, value, "text, whole numbers, true, false, None, lists and dicts of them")


def _is_whole(value: object) -> bool:
    return isinstance(value, int) and abs(value) <= LARGEST


def _reading(entry: Entry) -> dict[str, Any]:
    values: dict[str, Any] = {
        name: getattr(entry, name)
        for name in ("specimen", "condition", "contact", "mating", "polarity", "operator", "note")
    }
    for name, value in values.items():
        text(name, value)
    for name in TYPED:
        values.update(_typed(name, getattr(entry, name)))
    if entry.step is not None and not 0 <= entry.step <= LARGEST:
        raise ArgumentFault("step", entry.step, f"0 to {LARGEST}")
    _json("others", entry.others)
    moment = entry.time
    return {
        **values,
        "time": None if moment is None else moment.isoformat(),
        "read_at": None if moment is None or moment.tzinfo is None else moment,
        "step": entry.step,
        "others": dict(entry.others),
    }


def _typed(name: str, typed: Typed | None) -> dict[str, Any]:
    if typed is None:
        return {f"{name}_text": None, f"{name}_unit": None, name: None}
    if typed.dimension != name:
        raise ArgumentFault(name, typed.dimension, f"a quantity of {name}")
    text(name, typed.text)
    text(name, typed.unit)
    return {f"{name}_text": typed.text, f"{name}_unit": typed.unit, name: typed.value}


def first_lines(lines: Sequence[NewLine]) -> tuple[Ready, ...]:
    """The lines that a card is opened with: at least one, by whose key it is known when it is sent again."""
    if not lines:
        raise ArgumentFault("lines", "none", "at least one, so that a card sent twice is opened once")
    return once(ready(lines))


def once(lines: Sequence[Ready]) -> tuple[Ready, ...]:
    """Without those whose key came before."""
    by_key: dict[str, Ready] = {}
    for one in lines:
        by_key.setdefault(one.line.key, one)
    return tuple(by_key.values())
