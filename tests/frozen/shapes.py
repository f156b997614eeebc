"""The keys of an answer with the kinds of their values: what a format promises."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

#: Keys whose values are what people wrote, not keys of the format.
OPEN = {"settings"}


def shape(data: Any, place: str = "") -> Iterator[tuple[str, str]]:
    """Every key with the kind of its value; null says nothing about the kind."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield f"{place}.{key}", kind(value)
            if key not in OPEN:
                yield from shape(value, f"{place}.{key}")
    elif isinstance(data, list):
        for item in data:
            yield from shape(item, f"{place}[]")


def kind(value: Any) -> str:
    if isinstance(value, bool):
        return "true or false"
    kinds = ((int | float, "number"), (str, "text"), (list, "list"), (dict, "table"))
    return next((name for types, name in kinds if isinstance(value, types)), "null")


def lost(stored: Any, today: Any) -> set[tuple[str, str]]:
    """Keys of a stored answer that today's has no more, or of another kind; null passes for any."""
    old, new = set(shape(stored)), set(shape(today))
    keys, nulls = {key for key, _ in new}, {key for key, what in new if what == "null"}
    changed = {(key, what) for key, what in old - new if what != "null" and key not in nulls}
    return changed | {(key, what) for key, what in old if key not in keys}
