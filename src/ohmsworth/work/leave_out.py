"""The records with what chosen cards of people and customers say left out, for an export without them.

The card stays with its number, its lines and their keys; every text in it becomes "left out", every file a line of text. A
person's name beside lines and readings, where it is written as on the card, becomes "person 12" by the card's number, so that
readings of one hand still belong together. What others wrote about somebody in words of their own is left as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, cast

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.records import Card, CardKind, Face, Line, Records

LEFT_OUT = "left out"
#: Kinds of cards that are about people.
ABOUT_PEOPLE: tuple[CardKind, ...] = ("person", "customer")


def leaving_out(records: Records, cards: Iterable[int]) -> Records:
    """`records` to be read for an export, without what `cards` say.

    Raises
    ------
    NoSuchCard
        When there is no such card.
    InputRefused
        When one of them is about no person and no customer.
    """
    chosen = frozenset(cards)
    names: dict[str, str] = {}
    for number in sorted(chosen):
        kind = records.card(number).kind
        if kind not in ABOUT_PEOPLE:
            mend = "Choose cards of persons and customers alone: what was measured stays."
            raise InputRefused(
                (Fault(f"card {number}", f"a {kind}", "a person or a customer to leave out", mend),)
            )
        if kind == "person":
            said = {str(line.fields.get("name", "")).strip() for line in records.lines(number)}
            names |= {name: f"person {number}" for name in said if name}
    return cast(Records, _Without(records, chosen, names)) if chosen else records


@dataclass(frozen=True, slots=True)
class _Without:
    """What an export reads of records."""

    records: Records
    chosen: frozenset[int]
    names: Mapping[str, str]

    def settings(self) -> Mapping[str, str]:
        return self.records.settings()

    def count(self, *args: Any, **chosen: Any) -> int:
        return self.records.count(*args, **chosen)

    def card(self, number: int) -> Card:
        return self._card(self.records.card(number))

    def cards(self, *args: Any, **chosen: Any) -> tuple[Card, ...]:
        return tuple(self._card(card) for card in self.records.cards(*args, **chosen))

    def lines(self, card: int, after: int = 0) -> tuple[Line, ...]:
        found = [self._renamed(line) for line in self.records.lines(card, after)]
        if card in self.chosen:
            return tuple(_blank(line) for line in found)
        if (
            self.names and self.records.card(card).kind == "person"
        ):  # the door book is one, and names accounts
            return tuple(replace(line, fields=self._named(line.fields)) for line in found)
        return tuple(found)

    def content(self, card: int, number: int) -> bytes:
        if card in self.chosen:
            return f"{LEFT_OUT}\n".encode()
        return self.records.content(card, number)

    def _card(self, card: Card) -> Card:
        return replace(card, face=Face(LEFT_OUT, card.face.state)) if card.number in self.chosen else card

    def _renamed(self, line: Line) -> Line:
        entry = line.entry
        if entry is not None and entry.operator.strip() in self.names:
            entry = replace(entry, operator=self.names[entry.operator.strip()])
        return replace(line, by=self.names.get(line.by.strip(), line.by), entry=entry)

    def _named(self, fields: Mapping[str, Any]) -> dict[str, Any]:
        return {
            key: self.names.get(value.strip(), value) if isinstance(value, str) else value
            for key, value in fields.items()
        }


def _blank(line: Line) -> Line:
    return replace(line, fields=_blanked(line.fields), reason=LEFT_OUT if line.reason else "")


def _blanked(said: Any) -> Any:
    """The same shape with every text that says something replaced; numbers, which name other cards, stay."""
    if isinstance(said, str):
        return LEFT_OUT if said else ""
    if isinstance(said, Mapping):
        return {key: _blanked(value) for key, value in said.items()}
    if isinstance(said, Sequence):
        return [_blanked(value) for value in said]
    return said
