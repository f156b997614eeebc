"""The records in dicts: what the store is held to, and a store for tests that need no file."""

import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime
from pathlib import Path

from ohmsworth.errors import OhmsworthError
from ohmsworth.work.records import (
    Card,
    CardFigures,
    CardKind,
    Face,
    Found,
    Line,
    MakeFace,
    NewLine,
    NoSuchCard,
    RevisionRefused,
    SettingLine,
)
from ohmsworth.work.study_log import TAKE, TAKEN, fold


def now() -> datetime:
    return datetime.now(UTC)


def folded(text: str) -> str:
    return unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", text).casefold())


@dataclass
class PlainCard:
    kind: CardKind
    opened: datetime
    face: Face = field(default_factory=lambda: Face(""))
    log: list[Line] = field(default_factory=list)

    @property
    def touched(self) -> datetime:
        return self.log[-1].at


class PlainRecords:
    """`ohmsworth.work.records.Records` in memory, one thread, lost at the end."""

    def __init__(self, clock: Callable[[], datetime] = now) -> None:
        self.clock = clock
        self.held: dict[int, PlainCard] = {}
        self.keys: dict[str, tuple[int, int]] = {}
        self.files: dict[tuple[int, int], bytes] = {}
        self.written: list[SettingLine] = []

    def open_card(self, kind: CardKind, by: str, lines: Sequence[NewLine], face: MakeFace) -> int:
        known = {self.keys[one.key][0] for one in lines if one.key in self.keys}
        if known:
            number = min(known)
            everything = all(one.key in self.keys for one in lines)
            if len(known) > 1 or not everything or self.held[number].kind != kind:
                raise RevisionRefused("keys are taken")
            return number
        number = max(self.held, default=0) + 1
        card = PlainCard(kind, self.clock())
        self.held[number] = card  # a line may name the card that it opens
        try:
            log = self._longer(number, card, by, lines)
        except OhmsworthError:
            del self.held[number]
            raise
        card.face = face(log)
        self._keep(number, log, lines)
        return number

    def add(
        self, card: int, by: str, lines: Sequence[NewLine], face: MakeFace | None = None
    ) -> tuple[Line, ...]:
        held = self._card(card)
        if any(self.keys.get(one.key, (card, 0))[0] != card for one in lines):
            raise RevisionRefused("a key is taken")
        log = self._longer(card, held, by, lines)
        if face is not None and len(log) > len(held.log):
            held.face = face(log)
        self._keep(card, log, lines)
        return tuple(log[self.keys[one.key][1] - 1] for one in lines)

    def renew_face(self, card: int, face: MakeFace) -> bool:
        held = self._card(card)
        held.face = face(held.log)
        return True

    def card_of(self, key: str) -> int | None:
        return self.keys[key][0] if key in self.keys else None

    def lines(self, card: int, after: int = 0) -> tuple[Line, ...]:
        return tuple(self._card(card).log[max(after, 0) :])

    def card(self, number: int) -> Card:
        held = self._card(number)
        return Card(number, held.kind, held.face, held.opened, held.touched, len(held.log))

    def cards(
        self,
        kind: CardKind | None = None,
        *,
        search: str = "",
        state: str | None = None,
        due_by: date | None = None,
        first: int = 0,
        most: int = 100,
    ) -> tuple[Card, ...]:
        found = [self.card(number) for number in self.held]
        words = folded(search).split()
        chosen = [
            card
            for card in found
            if kind in (None, card.kind)
            and state in (None, card.face.state)
            and all(word in folded(f"{card.face.title}\n{card.face.text}") for word in words)
            and (due_by is None or (card.face.due is not None and card.face.due <= due_by))
        ]
        if due_by is None:
            chosen.sort(key=lambda card: (card.touched, card.number), reverse=True)
        else:
            chosen.sort(key=lambda card: (card.face.due or date.max, card.number))
        return tuple(chosen[first : first + most])

    def count(self, kind: CardKind | None = None, *, search: str = "", state: str | None = None) -> int:
        return len(self.cards(kind, search=search, state=state, most=len(self.held)))

    def figures_of(self, kind: CardKind, *, search: str = "") -> tuple[CardFigures, ...]:
        found = sorted(self.cards(kind, search=search, most=len(self.held)), key=lambda card: card.number)
        return tuple(
            CardFigures(card.number, card.face.title, card.face.state, card.face.figures, card.lines)
            for card in found
        )

    def content(self, card: int, number: int) -> bytes:
        if (card, number) not in self.files:
            raise NoSuchCard("no such file")
        return self.files[card, number]

    def readings_of(self, specimen: int, first: int = 0, most: int = 1000) -> tuple[Found, ...]:
        """By the study's own reading of its log."""
        return self._readings(lambda line: line.specimen == specimen, first, most)

    def readings_under(self, condition: str, first: int = 0, most: int = 1000) -> tuple[Found, ...]:
        """The same."""

        def chosen(line: Line) -> bool:
            return line.entry is not None and line.entry.condition == condition

        return self._readings(chosen, first, most, ("used",))

    def _readings(
        self,
        chosen: Callable[[Line], bool],
        first: int,
        most: int,
        states: tuple[str, ...] = ("used", "set aside"),
    ) -> tuple[Found, ...]:
        found = []
        for number, card in self.held.items():
            last = {line.number: line for line in card.log if line.kind in (TAKE, TAKEN)}
            for line in card.log:
                if line.entry is not None and line.about in last:
                    last[line.about] = line
            state = fold(card.log)
            for one in (*state.counted, *(take.reading for take in state.counted_takes)):
                if one.state in states and chosen(last[one.number]):
                    line = replace(
                        card.log[one.number - 1], entry=one.entry, specimen=last[one.number].specimen
                    )
                    found.append(Found(number, card.face.title, line))
        found.sort(key=lambda one: (one.line.at, one.study, one.line.number))
        return tuple(found[first : first + most])

    def count_readings(self) -> int:
        return sum(
            line.kind in (TAKE, TAKEN) and line.entry is not None
            for card in self.held.values()
            for line in card.log
        )

    def settings(self) -> Mapping[str, str]:
        return {one.name: one.value for one in self.written}

    def write_setting(self, name: str, value: str, by: str) -> None:
        self.written.append(SettingLine(name, value, by, self.clock()))

    def setting_lines(self, most: int = 100) -> tuple[SettingLine, ...]:
        return tuple(reversed(self.written))[:most]

    def check(self) -> tuple[str, ...]:
        return ()

    def back_up(self, path: Path) -> None:
        raise NotImplementedError("records in memory are not copied")

    def close(self) -> None:
        pass

    def _card(self, number: int) -> PlainCard:
        if number not in self.held:
            raise NoSuchCard(f"no card {number}")
        return self.held[number]

    def _longer(self, number: int, card: PlainCard, by: str, lines: Sequence[NewLine]) -> list[Line]:
        log, at, seen = list(card.log), self.clock(), set(self.keys)
        for one in lines:
            if one.key in seen:
                continue
            seen.add(one.key)
            if one.about is not None and not 0 < one.about <= len(log):
                raise RevisionRefused("about is no line of this log")
            held = one.content is not None
            line = Line(
                len(log) + 1,
                one.key,
                one.kind,
                by,
                at,
                dict(one.fields),
                one.about,
                one.reason,
                one.entry,
                one.specimen,
                held,
            )
            log.append(line)
        for line in log[len(card.log) :]:
            if line.specimen is not None and self._card(line.specimen).kind != "specimen":
                raise NoSuchCard("not a specimen")
        return log

    def _keep(self, number: int, log: list[Line], lines: Sequence[NewLine]) -> None:
        contents = {one.key: one.content for one in reversed(lines) if one.content is not None}
        for line in log[len(self.held[number].log) :]:
            self.keys[line.key] = (number, line.number)
            if line.has_content:
                self.files[number, line.number] = contents[line.key]
        self.held[number].log = log
