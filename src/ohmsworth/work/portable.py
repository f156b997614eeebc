"""Cards as they travel between records: whole logs, with what they refer to told by key in place of number."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from ohmsworth.readings.entry import Entry
from ohmsworth.work.records import CardKind, Line, Records
from ohmsworth.work.study_log import FOR_JOB, SPECIMEN

#: Fields of lines that hold the number of another card: by the kind of the line.
REFERRING: Mapping[str, str] = {SPECIMEN: "card", FOR_JOB: "job"}


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
    """A row of readings.csv: its line, the reading of the records that it says it is, and what stands there."""

    line: int
    reading: int | None
    entry: Entry


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
    """What was edited in a folder after it was exported: rows, the question, the marks, files beside."""

    rows: tuple[Edit, ...] = ()
    question: bool = False
    marks: Mapping[int, tuple[str, str]] = field(default_factory=dict)
    beside: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.rows or self.question or self.marks or self.beside)


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
        Names of files that are no part of a study.
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


def references(line: Line) -> list[int]:
    """Numbers of the cards that a line refers to."""
    found = [line.specimen, line.fields.get(REFERRING.get(line.kind, ""))]
    return [number for number in found if isinstance(number, int) and not isinstance(number, bool)]


def renumbered(line: Line, numbers: Mapping[int, int]) -> Line:
    """A line that refers to the cards by other numbers."""
    fields, name = dict(line.fields), REFERRING.get(line.kind, "")
    if isinstance(fields.get(name), int):
        fields[name] = numbers.get(fields[name], fields[name])
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


def linked_numbers(lines: Sequence[Line]) -> tuple[int, ...]:
    """Numbers of all cards that a log refers to, each once, in their order."""
    return tuple(dict.fromkeys(number for line in lines for number in references(line)))


#: Writes a study as the files of an exported folder; a name may lead into a folder inside it.
StudyFiles = Callable[[StudyLog], dict[str, bytes]]
