"""The fields of a card on a form: what was typed, what is wrong beside it, and back from the form to what was typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ohmsworth.errors import Fault
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Sent
from ohmsworth.work.cards.asks import Ask
from ohmsworth.work.cards.choices import labels
from ohmsworth.work.cards.ranges import LABELS, MOST_RANGES, PARTS
from ohmsworth.work.records import NoSuchCard, Records

#: Rows that wait for further ranges.
MORE_ROWS = 3


@dataclass(frozen=True, slots=True)
class Cell:
    """One field of a range."""

    name: str
    label: str
    value: str
    fault: str


@dataclass(frozen=True, slots=True)
class Field:
    """A field as it is drawn.

    Parameters
    ----------
    ask
        What it asks.
    id, name
        Of its input.
    value
        What stands in it.
    fault
        What is wrong with it, or "".
    options
        Of a choice or another card: values with their labels; of a line, suggestions.
    rows
        Of ranges: the cells of each.
    """

    ask: Ask
    id: str
    name: str
    value: str = ""
    fault: str = ""
    options: tuple[tuple[str, str], ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = field(default=())


def card_fields(
    records: Records,
    asks: Sequence[Ask],
    given: Mapping[str, Any],
    faults: Sequence[Fault],
    prefix: str = "f",
) -> tuple[Field, ...]:
    """The fields `asks` with what was `given`; faults stand beside the field whose label they name."""
    said = {fault.where: fault_words(fault) for fault in faults}
    return tuple(_field(records, ask, given.get(ask.key), said, prefix) for ask in asks)


def other_faults(asks: Sequence[Ask], faults: Sequence[Fault]) -> tuple[str, ...]:
    """What is wrong with none of the fields alone."""
    known = {ask.label for ask in asks if ask.form != "ranges"}
    ranged = any(ask.form == "ranges" for ask in asks)
    return tuple(
        f"{fault.where}: {fault_words(fault)}"
        for fault in faults
        if fault.where not in known and not (ranged and fault.where.startswith("range "))
    )


def _field(records: Records, ask: Ask, value: Any, said: Mapping[str, str], prefix: str) -> Field:
    name = f"{prefix}-{ask.key}"
    if ask.form == "ranges":
        rows = _range_rows(ask, value if isinstance(value, Sequence) else (), said)
        return Field(ask, name, ask.key, "", said.get(ask.label, ""), (), rows)
    text = "" if value is None else str(value)
    return Field(ask, name, ask.key, text, said.get(ask.label, ""), _options(records, ask, text))


def _options(records: Records, ask: Ask, value: str) -> tuple[tuple[str, str], ...]:
    if ask.of is None:
        return tuple((option, option) for option in ask.options)
    found = tuple((str(number), label) for number, label in labels(records, ask.of))
    if value and value not in dict(found):
        found += ((value, _title(records, value)),)
    return found


def _title(records: Records, number: str) -> str:
    """Of a card that is not offered any more but stands in the field."""
    try:
        card = records.card(int(number))
    except (NoSuchCard, ValueError):
        return f"card no. {number[:20]}"
    return f"{card.face.title} ({card.face.state})"


def _range_rows(ask: Ask, rows: Sequence[Any], said: Mapping[str, str]) -> tuple[tuple[Cell, ...], ...]:
    found = [row for row in rows if isinstance(row, Mapping)]
    shown = [*found, *({} for _ in range(MORE_ROWS))][: max(MOST_RANGES, len(found))]
    return tuple(
        tuple(
            Cell(
                f"{ask.key}.{number}.{part}",
                LABELS[part],
                str(row.get(part) or ""),
                said.get(f"range {number}, {LABELS[part]}", ""),
            )
            for part in PARTS
        )
        for number, row in enumerate(shown, 1)
    )


def typed_fields(sent: Sent, asks: Sequence[Ask]) -> dict[str, Any]:
    """What a form sent for the fields `asks`."""
    given: dict[str, Any] = {}
    for ask in asks:
        if ask.form == "ranges":
            rows = [
                {part: sent.text(f"{ask.key}.{number}.{part}") for part in PARTS}
                for number in range(1, MOST_RANGES + MORE_ROWS + 1)
            ]
            given[ask.key] = [row for row in rows if any(row.values())]
        else:
            given[ask.key] = sent.text(ask.key)
    return given
