"""The records in memory with what restores cards from elsewhere: what the store is held to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from tests.adapters.records.plain import PlainCard, PlainRecords

from ohmsworth.work.records import CardKind, Line, MakeFace, NoSuchCard, RevisionRefused


class RecordsInMemory(PlainRecords):
    """`ohmsworth.work.records.Records`, whole."""

    def restore_card(
        self,
        kind: CardKind,
        opened: datetime,
        lines: Sequence[Line],
        contents: Mapping[int, bytes],
        face: MakeFace,
        number: int | None = None,
    ) -> int:
        if [line.number for line in lines] != list(range(1, len(lines) + 1)) or not lines:
            raise RevisionRefused("not numbered from 1")
        number = number or max(self.held, default=0) + 1
        if number in self.held or any(line.key in self.keys for line in lines):
            raise RevisionRefused("the number or a key is taken")
        self._see(lines, contents, 1)
        self.held[number] = PlainCard(kind, opened)
        self._take(number, lines, contents)
        self.held[number].face = face(self.held[number].log)
        return number

    def restore_lines(
        self, card: int, lines: Sequence[Line], contents: Mapping[int, bytes], face: MakeFace
    ) -> tuple[Line, ...]:
        held = self._card(card)
        if any(self.keys.get(line.key, (card, 0))[0] != card for line in lines):
            raise RevisionRefused("a key is taken")
        new = [line for line in lines if line.key not in self.keys]
        self._see(new, contents, len(held.log) + 1)
        self._take(card, new, contents)
        if new:
            held.face = face(held.log)
        return tuple(held.log[self.keys[line.key][1] - 1] for line in lines)

    def card_of(self, key: str) -> int | None:
        return self.keys[key][0] if key in self.keys else None

    def _see(self, lines: Sequence[Line], contents: Mapping[int, bytes], first: int) -> None:
        for number, line in enumerate(lines, first):
            if line.about is not None and not 0 < line.about < number:
                raise RevisionRefused("about is no earlier line")
            if line.has_content and line.number not in contents:
                raise RevisionRefused("a file is missing")
            if line.specimen is not None and self._card(line.specimen).kind != "specimen":
                raise NoSuchCard("not a specimen")

    def _take(self, card: int, lines: Sequence[Line], contents: Mapping[int, bytes]) -> None:
        log = self.held[card].log
        for line in lines:
            log.append(replace(line, number=len(log) + 1))
            self.keys[line.key] = (card, len(log))
            if line.has_content:
                self.files[card, len(log)] = contents[line.number]
