"""The history of a card: who changed what, when, why, from what to what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from ohmsworth.work.cards.asks import Ask
from ohmsworth.work.cards.log import (
    CALIBRATION_WITHDRAWN,
    NOTE,
    PUT_AWAY,
    TAKEN_UP,
    TREATMENT_WITHDRAWN,
    WRITTEN,
    CardState,
)
from ohmsworth.work.records import Line


@dataclass(frozen=True, slots=True)
class Difference:
    """One field, before and after; "" where it was empty."""

    label: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class Change:
    """One line of the log, in words."""

    number: int
    at: datetime
    by: str
    words: str
    reason: str
    differences: tuple[Difference, ...]


def changes(state: CardState) -> tuple[Change, ...]:
    """Every line of a card's log, the newest first."""
    found: list[Change] = []
    before: Mapping[str, Any] = {}
    for line in state.lines:
        words, asks = _words(state, line, first=not before)
        old = before if line.kind == WRITTEN else {}
        found.append(
            Change(line.number, line.at, line.by, words, line.reason, differences(asks, old, line.fields))
        )
        before = line.fields if line.kind == WRITTEN else before
    return tuple(reversed(found))


def differences(
    asks: tuple[Ask, ...], old: Mapping[str, Any], new: Mapping[str, Any]
) -> tuple[Difference, ...]:
    """The fields that differ."""
    pairs = [(ask.label, in_words(old.get(ask.key)), in_words(new.get(ask.key))) for ask in asks]
    return tuple(Difference(*pair) for pair in pairs if pair[1] != pair[2])


def in_words(value: Any) -> str:
    """A kept field as a history shows it."""
    if isinstance(value, bool) or value is None:
        return ""
    if isinstance(value, int):
        return f"card no. {value}"
    if isinstance(value, list):
        return "; ".join(range_words(row) for row in value if isinstance(row, Mapping))
    return value if isinstance(value, str) else ""


def range_words(row: Mapping[str, Any]) -> str:
    """One range of a meter as typed."""
    up_to, accuracy, resolution = (str(row.get(part) or "") for part in ("up_to", "accuracy", "resolution"))
    return f"up to {up_to}: {accuracy}" + (f", one count {resolution}" if resolution else "")


_NOTE_ASKS = (Ask("text", "note", "lines"),)


def _words(state: CardState, line: Line, *, first: bool) -> tuple[str, tuple[Ask, ...]]:
    if line.kind == WRITTEN:
        return ("written" if first else "changed"), state.kind.asks
    for step in state.kind.steps:
        if line.kind == step.kind:
            return step.kind, step.asks
    if line.kind == CALIBRATION_WITHDRAWN:
        on = next((one.on for one in state.calibrations if one.number == line.about), None)
        return f"calibration of {on or 'an unknown day'} withdrawn", ()
    if line.kind == TREATMENT_WITHDRAWN:
        on = next((one.on for one in state.treatments if one.number == line.about), None)
        return f"treatment of {on or 'an unknown day'} withdrawn", ()
    named = {PUT_AWAY: "put away", TAKEN_UP: "taken up again", NOTE: "note"}
    return named.get(line.kind, line.kind), _NOTE_ASKS if line.kind == NOTE else ()
