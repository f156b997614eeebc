"""Cards as they travel between records: whole logs, with what they refer to told by key in place of number."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from ohmsworth.readings.entry import Entry
from ohmsworth.work.cards.kinds import KINDS
from ohmsworth.work.cards.log import WRITTEN
from ohmsworth.work.records import CardKind, Line, NoSuchCard, Records
from ohmsworth.work.study_log import FOR_JOB, SPECIMEN
from ohmsworth.work.take_log import Files
from ohmsworth.work.tone_files import Series

#: Fields of lines that hold the number of another card: by the kind of the line.
REFERRING: Mapping[str, frozenset[str]] = {
    SPECIMEN: frozenset(("card",)),
    FOR_JOB: frozenset(("job",)),
    WRITTEN: frozenset(ask.key for kind in KINDS.values() for ask in kind.asks if ask.of),
}
#: Cards that do not travel with a study: who it was for is nobody's business who is given the readings.
STAY = frozenset(("customer",))


@dataclass(frozen=True, slots=True)
class CardLog:
    """A card with its whole log; `contents` are its files by the number of their line."""

    kind: CardKind
    opened: datetime
    lines: tuple[Line, ...]
    contents: Mapping[int, bytes] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """That of its first line, by which the card is known wherever it goes."""
        return self.lines[0].key


@dataclass(frozen=True, slots=True)
class StudyLog:
    """A study's card with the cards that its lines refer to, by the numbers that they have there.

    `past` are the keys of the past studies that its question names, by their number.
    """

    study: CardLog
    linked: Mapping[int, CardLog] = field(default_factory=dict)
    past: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FolderRow:
    """A row of readings.csv or takes.csv: its line, the reading of the records that it says it is, and what stands there."""

    line: int
    reading: int | None
    entry: Entry


@dataclass(frozen=True, slots=True, eq=False)
class FolderTake:
    """The recordings of a row of takes.csv, and what they told on which basis; the row's entry has its resistance."""

    row: FolderRow
    files: Files
    digest: str
    basis: str
    told: Mapping[str, Any]


@dataclass(frozen=True, slots=True, eq=False)
class FolderStandard:
    """The recordings of a short, a load or of nothing in a folder, what they told, and when (ISO 8601) where that is known."""

    series: Series
    files: Files
    digest: str
    told: Mapping[str, Any]
    at: str = ""


@dataclass(frozen=True, slots=True)
class Edit:
    """A row that was edited: the reading that it was, what it says now, and both in words.

    `entry` is None where the row is gone, `reading` where it is new.
    """

    line: int
    reading: int | None
    entry: Entry | None
    found: str
    expected: str


@dataclass(frozen=True, slots=True)
class Edits:
    """What was edited in a folder after it was exported: rows, the question, the marks, files beside, rows of takes.csv.

    Rows of takes are told alone: what recordings told cannot be typed over.
    """

    rows: tuple[Edit, ...] = ()
    question: bool = False
    marks: Mapping[int, tuple[str, str]] = field(default_factory=dict)
    beside: tuple[str, ...] = ()
    takes: tuple[Edit, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.rows or self.question or self.marks or self.beside or self.takes)


@dataclass(frozen=True, slots=True)
class StudyFolder:
    """A study's folder as found on disk.

    Parameters
    ----------
    question
        The text of study.toml.
    rows
        Of readings.csv; none where there is no such file.
    kept, set_aside
        The marks of study.toml, by line.
    beside
        The files that study.toml and its readers look for beside it.
    log
        What record.json holds; None where there is none.
    edits
        Where the files say something else than record.json.
    history, past
        Names of the past studies in study.toml; and by those names the key of the first line of each, or the folder
        itself where it was made by hand.
    passed_over
        Names of files that are no part of a study, recordings among them: the records keep what they told.
    take_rows
        Of takes.csv; none where there is no such file.
    takes, standards
        What the recordings told, of a folder without a log.
    """

    question: str
    rows: tuple[FolderRow, ...] = ()
    kept: tuple[int, ...] = ()
    set_aside: Mapping[int, str] = field(default_factory=dict)
    beside: Mapping[str, bytes] = field(default_factory=dict)
    log: StudyLog | None = None
    edits: Edits | None = None
    history: tuple[str, ...] = ()
    past: Mapping[str, StudyFolder | str] = field(default_factory=dict)
    passed_over: tuple[str, ...] = ()
    take_rows: tuple[FolderRow, ...] = ()
    takes: tuple[FolderTake, ...] = ()
    standards: tuple[FolderStandard, ...] = ()


def references(line: Line) -> list[int]:
    """Numbers of the cards that a line refers to."""
    found = [line.specimen, *(line.fields.get(name) for name in sorted(REFERRING.get(line.kind, ())))]
    return [number for number in found if isinstance(number, int) and not isinstance(number, bool)]


def referring(kind: str, fields: Mapping[str, Any], other: Callable[[Any], Any]) -> dict[str, Any]:
    """The fields of a line of this kind, with `other` in place of what refers to a card."""
    names = REFERRING.get(kind, frozenset())
    return {
        name: other(value) if name in names and value not in (None, "") else value
        for name, value in fields.items()
    }


def renumbered(line: Line, numbers: Mapping[int, int]) -> Line:
    """A line that refers to the cards by other numbers."""
    fields = referring(line.kind, line.fields, lambda number: numbers.get(number, number))
    specimen = line.specimen if line.specimen is None else numbers.get(line.specimen, line.specimen)
    return replace(line, fields=fields, specimen=specimen)


def card_log(records: Records, number: int) -> CardLog:
    """A card of the records, whole.

    Raises
    ------
    NoSuchCard
        When there is none.
    """
    card, lines = records.card(number), records.lines(number)
    contents = {line.number: records.content(number, line.number) for line in lines if line.has_content}
    return CardLog(card.kind, card.opened, lines, contents)


def linked_cards(records: Records, lines: Sequence[Line]) -> dict[int, CardLog]:
    """The cards that a log refers to, and those that they refer to, by number; but not those that stay."""
    found: dict[int, CardLog] = {}
    waiting = [number for line in lines for number in references(line)]
    while waiting:
        number = waiting.pop(0)
        try:
            if number in found or records.card(number).kind in STAY:
                continue
        except NoSuchCard:
            continue
        found[number] = card_log(records, number)
        waiting += [other for line in found[number].lines for other in references(line)]
    return found


#: Writes a study as the files of an exported folder; a name may lead into a folder inside it.
StudyFiles = Callable[[StudyLog], dict[str, bytes]]
