"""An entry as JSON: digits as typed, and nothing for what it does not say."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any, cast

from ohmsworth.adapters.files.header import QUANTITIES
from ohmsworth.readings.entry import Entry, Sign, Typed

_TEXTS = ("specimen", "condition", "contact", "mating", "polarity", "operator", "note")


def entry_json(entry: Entry) -> dict[str, Any]:
    """The entry as JSON."""
    said: dict[str, Any] = {name: text for name in _TEXTS if (text := getattr(entry, name))}
    for name in QUANTITIES:
        typed = getattr(entry, name)
        if typed is not None:
            said[name] = {"text": typed.text, "unit": typed.unit}
    if entry.time is not None:
        said["time"] = entry.time.isoformat()
    if entry.step is not None:
        said["step"] = entry.step
    if entry.others:
        said["others"] = dict(entry.others)
    return said


def entry_from(said: Mapping[str, Any]) -> Entry:
    """The entry of `said`.

    Raises
    ------
    TypeError, ValueError, KeyError
        Where it is none.
    """
    unknown = set(said) - {*_TEXTS, *QUANTITIES, "time", "step", "others"}
    if unknown:
        raise ValueError(f"the unknown key {min(unknown)!r}")
    texts = {name: text_of(said[name]) for name in _TEXTS if name in said}
    if texts.get("polarity", "") not in ("+", "-", "0", ""):
        raise ValueError(f"the polarity {texts['polarity']!r}")
    figures = {name: _typed(name, said[name]) for name in QUANTITIES if name in said}
    step = said.get("step")
    if step is not None and (isinstance(step, bool) or not isinstance(step, int)):
        raise TypeError("a step that is no whole number")
    others = {text_of(heading): text_of(text) for heading, text in dict(said.get("others", {})).items()}
    time = datetime.fromisoformat(said["time"]) if "time" in said else None
    return Entry(
        texts.get("specimen", ""),
        texts.get("condition", ""),
        texts.get("contact", ""),
        texts.get("mating", ""),
        cast(Sign, texts.get("polarity", "")),
        **figures,
        time=time,
        operator=texts.get("operator", ""),
        note=texts.get("note", ""),
        step=step,
        others=others,
    )


def _typed(name: str, said: Mapping[str, Any]) -> Typed:
    if set(said) != {"text", "unit"}:
        raise ValueError(f"a {name} without text and unit")
    typed = Typed(text_of(said["text"]), text_of(said["unit"]), QUANTITIES[name])
    assert typed.value is not None  # a QuantityFault, where it is no quantity
    return typed


def text_of(value: object) -> str:
    """`value`, where it is a text."""
    if not isinstance(value, str):
        raise TypeError(f"{str(value)[:40]!r} in place of a text")
    return value
