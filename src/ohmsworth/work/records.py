"""The shop's records: cards, each with a log to which lines are added and from which none is ever taken away.

A card is a study, a specimen, a meter, a check standard, a limit, a person, a customer, a job, a built cable or the lists of the
workshop. What a card says now is read from its log by the folding functions beside this file; the store keeps lines and knows
nothing of what they mean.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path
from typing import Any, Literal, Protocol

from ohmsworth.errors import OhmsworthError
from ohmsworth.readings.entry import Entry

CardKind = Literal[
    "study", "specimen", "meter", "check standard", "limit", "person", "customer", "job", "cable", "workshop"
]
CARD_KINDS: tuple[CardKind, ...] = (
    "study",
    "specimen",
    "meter",
    "check standard",
    "limit",
    "person",
    "customer",
    "job",
    "cable",
    "workshop",
)


#: By whom something is written where nobody said a name.
NOBODY = "somebody at this bench"


class RecordsFault(OhmsworthError, OSError):
    """The records cannot be read or written; the message says what to do, and nothing that was kept is lost."""


class NoSuchCard(OhmsworthError, LookupError):
    """There is no card of that number and kind."""


class RevisionRefused(OhmsworthError, ValueError):
    """A line refers to something that the log does not hold."""


@dataclass(frozen=True, slots=True)
class NewLine:
    """A line to be added.

    Parameters
    ----------
    key
        Chosen by whoever sends it, unique for ever: a line that is sent twice is kept once.
    kind
        What happened, such as "reading taken", "reading corrected", "step skipped", "card written".
    fields
        What is said about it, as JSON: text, whole numbers, true and false, None, lists, dicts. Numbers that were read
        stand as text.
    about
        Number of the earlier line of the same log that it is about.
    reason
        Why.
    entry
        The reading, where the line is one or corrects one: kept in columns too, so that it is found by specimen.
    specimen
        Number of the specimen's card, where the specimen of the reading has one.
    content
        A file's bytes: a photo, a measured lead.
    """

    key: str
    kind: str
    fields: Mapping[str, Any] = field(default_factory=dict)
    about: int | None = None
    reason: str = ""
    entry: Entry | None = None
    specimen: int | None = None
    content: bytes | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """A line as kept: `number` counts from 1 in its card's log, without a gap; `at` is when the store wrote it (UTC)."""

    number: int
    key: str
    kind: str
    by: str
    at: datetime
    fields: Mapping[str, Any]
    about: int | None
    reason: str
    entry: Entry | None
    specimen: int | None
    has_content: bool


@dataclass(frozen=True, slots=True)
class Face:
    """What a list shows of a card: derived from its log, and made anew with every line that changes it.

    `text` is what a search looks through beside `title`; `due` is the day on which something is to be done, and
    `due_for` says what: a calibration, a check, a re-test. `figures` are what many cards are counted and followed by, as plain
    JSON with finite numbers.
    """

    title: str
    state: str = "open"
    text: str = ""
    due: date | None = None
    due_for: str = ""
    figures: Mapping[str, Any] = field(default_factory=dict, hash=False)


@dataclass(frozen=True, slots=True)
class CardFigures:
    """The figures of one card, with what it is called, how it stands and the number of its last line."""

    card: int
    title: str
    state: str
    figures: Mapping[str, Any]
    lines: int = 0


@dataclass(frozen=True, slots=True)
class Card:
    """A card in a list; `lines` is the number of its last line, `touched` when that was written."""

    number: int
    kind: CardKind
    face: Face
    opened: datetime
    touched: datetime
    lines: int


@dataclass(frozen=True, slots=True)
class Found:
    """One reading of a specimen: the study's card and title, and the line in which it was taken.

    The entry and the specimen of the line are those of its last correction; readings that were withdrawn are left out.
    """

    study: int
    title: str
    line: Line


@dataclass(frozen=True, slots=True)
class SettingLine:
    """One writing of a setting; `at` in UTC."""

    name: str
    value: str
    by: str
    at: datetime


#: Makes a card's face from its whole log.
MakeFace = Callable[[Sequence[Line]], Face]


class Records(Protocol):
    """The store. Every method raises RecordsFault when it cannot do its work; every write is on disk when it returns."""

    def open_card(self, kind: CardKind, by: str, lines: Sequence[NewLine], face: MakeFace) -> int:
        """Make a card with its first lines and return its number; a key that is known returns the card that has it.

        Raises RevisionRefused when only some of the keys are known, or they are of several cards or of another kind;
        ArgumentFault when there is no line, for a card is known again by the keys of its lines.
        """

    def add(
        self, card: int, by: str, lines: Sequence[NewLine], face: MakeFace | None = None
    ) -> tuple[Line, ...]:
        """Add all of `lines` or none, and return them as kept; one whose key is known already is returned as it was kept.

        `face` is called inside the same transaction with the whole log, perhaps more than once, where a line was added; None
        leaves the card's face as it is.

        Raises NoSuchCard, also for a `specimen` that is no specimen's card; RevisionRefused when `about` is no line of this
        log, or a key belongs to another card; ArgumentFault when a line holds what could not be given back as it was.
        """

    def renew_face(self, card: int, face: MakeFace) -> bool:
        """Make the card's face anew from its log; whether that was kept, which it is not where the log grew meanwhile.

        `face` is called outside of any transaction, so that nobody who writes waits for it. Raises NoSuchCard.
        """

    def restore_card(
        self,
        kind: CardKind,
        opened: datetime,
        lines: Sequence[Line],
        contents: Mapping[int, bytes],
        face: MakeFace,
        number: int | None = None,
    ) -> int:
        """Make a card with a log that was kept elsewhere, exactly as it was: numbers, keys, authors and times.

        `contents` are the files by line. `number` is to be the card's own; None takes the next one. Returns it.

        Raises RevisionRefused when the number or a key is taken, when `lines` are not numbered from 1 without a gap, when
        `about` is no earlier line, or when a line's content is missing.
        """

    def restore_lines(
        self, card: int, lines: Sequence[Line], contents: Mapping[int, bytes], face: MakeFace
    ) -> tuple[Line, ...]:
        """Add all of `lines` or none, with the authors and times that they have; they are numbered on from the last one.

        `about` counts as in this log once they are in it; `contents` go by the numbers that they come with. A line whose
        key this log holds already is returned as it was kept.

        Raises NoSuchCard; RevisionRefused when `about` is no earlier line, or a key belongs to another card.
        """

    def card_of(self, key: str) -> int | None:
        """The number of the card whose log holds the line of this key; None where no line has it."""

    def lines(self, card: int, after: int = 0) -> tuple[Line, ...]:
        """The log from line `after` + 1 on; raises NoSuchCard."""

    def card(self, number: int) -> Card:
        """One card; raises NoSuchCard."""

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
        """Cards, last touched first (with `due_by`, first due first); `search` finds every word anywhere, in any case."""

    def count(self, kind: CardKind | None = None, *, search: str = "", state: str | None = None) -> int:
        """How many cards `cards` would list without its bounds."""

    def figures_of(self, kind: CardKind, *, search: str = "") -> tuple[CardFigures, ...]:
        """The figures of all cards of a kind that `search` finds, by their numbers; their texts are not read."""

    def content(self, card: int, number: int) -> bytes:
        """The file of one line; raises NoSuchCard."""

    def readings_of(self, specimen: int, first: int = 0, most: int = 1000) -> tuple[Found, ...]:
        """Readings and takes of a specimen's card over all studies, oldest first; `line.kind` tells the two apart."""

    def count_readings(self) -> int:
        """How many readings were taken and takes kept, withdrawn ones too; one that was corrected counts once."""

    def readings_under(self, condition: str, first: int = 0, most: int = 1000) -> tuple[Found, ...]:
        """Readings and takes that count under a condition, in exactly these letters, over all studies, oldest first.

        The check standard's readings stand under its name, in whatever study it was read. Those that were withdrawn or set
        aside are left out.
        """

    def settings(self) -> Mapping[str, str]:
        """The shop's settings, as last written."""

    def write_setting(self, name: str, value: str, by: str) -> None:
        """Write one setting; what it was stays in the records."""

    def setting_lines(self, most: int = 100) -> tuple[SettingLine, ...]:
        """Every writing of a setting, the newest first."""

    def check(self) -> tuple[str, ...]:
        """Everything that is wrong with the file or the database; empty when it is sound."""

    def back_up(self, path: Path) -> None:
        """Write a copy of everything, whole, while others go on writing."""

    def close(self) -> None:
        """Let go of the file or the connections."""


#: Opens the records at a path or an address, and brings an older layout up to date.
OpenRecords = Callable[[str], AbstractContextManager[Records]]
