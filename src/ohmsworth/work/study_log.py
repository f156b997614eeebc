"""What a study's log says now: its question, its sheet, its readings as last corrected, and what was done to each.

Every kind of line that a study's log may hold has its name here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import cached_property
from typing import Literal

from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.paper_lines import PAPER
from ohmsworth.work.records import Line
from ohmsworth.work.take_log import RecordedTake, StandardTakes, recorded_take, standard_takes
from ohmsworth.work.taken_reading import CORRECTED, TakenReading
from ohmsworth.work.tone_files import Series

QUESTION = "question written"
SHEET = "sheet laid"
TAKEN = "reading taken"
TAKE = "takes kept"
STANDARD = "takes of a standard kept"
QUESTIONED = "entry questioned"
WITHDRAWN = "reading withdrawn"
PUT_BACK = "reading put back"
KEPT = "reading kept"
SET_ASIDE = "reading set aside"
SKIPPED = "step skipped"
TAKEN_UP = "step taken up again"
NOTE = "note written"
FILE = "file added"
SPECIMEN = "specimen named"
FOR_JOB = "job named"
RETEST = "re-test wanted"
CLOSED = "study closed"
OPENED = "study opened again"
#: Field of a reading that was taken: the meter by quantity, where the program itself asked it.
READ_BY = "read by"
#: Field of a reading that waited in a page and is written in another's name: who typed it.
TYPED_BY = "typed by"


@dataclass(frozen=True, slots=True)
class KeptFile:
    """A file of the study; one that is named in study.toml, such as a measured lead, lies `beside` it."""

    number: int
    name: str
    media_type: str
    beside: bool
    about: int | None
    by: str
    at: datetime


@dataclass(frozen=True, eq=False)
class StudyState:
    """What the log of a study amounts to after its line `last`; what is asked of a state again and again is kept beside it.

    `question` is the text of study.toml and `question_line` the line that wrote it; `sheet_line` is the line that laid the
    sheet; `skipped` gives the reason by step of the sheet; `specimens` the card by the specimen's name in this study;
    `retest` is the day by which it is to be done again; `takes` are those of its contacts over frequency, `standards` those of
    short, load and open; `papers` are the lines that hold a paper of its lot each.
    """

    question: str = ""
    question_line: int = 0
    sheet: tuple[SheetRow, ...] = ()
    sheet_line: int = 0
    readings: tuple[TakenReading, ...] = ()
    skipped: Mapping[int, str] = field(default_factory=dict)
    notes: tuple[Line, ...] = ()
    files: tuple[KeptFile, ...] = ()
    specimens: Mapping[str, int] = field(default_factory=dict)
    job: int | None = None
    closed: bool = False
    last: int = 0
    retest: date | None = None
    takes: tuple[RecordedTake, ...] = ()
    standards: tuple[StandardTakes, ...] = ()
    papers: tuple[Line, ...] = ()

    @property
    def counted_takes(self) -> tuple[RecordedTake, ...]:
        """Takes that stand in takes.csv, in the order in which they were kept: all but those withdrawn."""
        return tuple(one for one in self.takes if one.reading.state != "withdrawn")

    @property
    def standard_of(self) -> dict[Series, StandardTakes]:
        """The takes of short, load and open that are taken off contacts from now on."""
        return {one.series: one for one in self.standards if one.state == "used"}

    @cached_property
    def counted(self) -> tuple[TakenReading, ...]:
        """Readings that stand in readings.csv, in the order in which they were taken: all but those withdrawn."""
        return tuple(one for one in self.readings if one.state != "withdrawn")

    @property
    def nths(self) -> dict[int, int]:
        """Which reading it is, counted from 1, by the number of its line."""
        return {one.number: one.nth for one in self.readings}

    @property
    def twice(self) -> dict[int, tuple[TakenReading, ...]]:
        """Steps of the sheet that more than one reading answers, as when two people read one at the same time; with those."""
        found: dict[int, list[TakenReading]] = {}
        for one in self.counted:
            if one.entry.step is not None and one.number > self.sheet_line:
                found.setdefault(one.entry.step, []).append(one)
        return {step: tuple(ones) for step, ones in found.items() if len(ones) > 1}

    @property
    def doubted(self) -> tuple[TakenReading, ...]:
        """Readings that are doubtful, and that nobody could be asked about when they came."""
        return tuple(one for one in self.readings if one.to_answer)

    @property
    def answered(self) -> frozenset[int]:
        """Steps of the sheet that a reading or a take answers; those of an older sheet answer none of the new one.

        A take is of a whole mating, by its names: tones flow both ways, so that it answers the step of the reversed current too.
        The check standard's rows are read with direct current.
        """
        read = {one.entry.step for one in self.counted if one.number > self.sheet_line}
        recorded = self.recorded
        asked = {row.step for row in self.sheet if not row.note and mating_of(row) in recorded}
        return frozenset(step for step in read if step is not None) | asked

    @property
    def recorded(self) -> frozenset[tuple[str, str, str]]:
        """Specimen, condition and mating of every take that was kept since the sheet was laid and counts."""
        taken = [take.reading for take in self.counted_takes if take.reading.number > self.sheet_line]
        return frozenset((one.entry.specimen, one.entry.condition, one.entry.mating) for one in taken)


def mating_of(row: SheetRow) -> tuple[str, str, str]:
    """Specimen, condition and mating of a row of the sheet, as an entry has them."""
    return row.specimen, row.condition, str(row.mating) if row.mating else ""


def fold(lines: Iterable[Line], before: StudyState | None = None) -> StudyState:
    """Read a log, or go on from what it said `before`."""
    state = _Reading(before or StudyState())
    for line in lines:
        state.take(line)
    return state.done()


class _Reading:
    """A state under construction: lists and dicts in place of tuples, so that a long log is read in one pass."""

    def __init__(self, before: StudyState) -> None:
        self.state = before
        self.readings = {one.number: one for one in before.readings}
        self.skipped = dict(before.skipped)
        self.notes, self.files, self.papers = list(before.notes), list(before.files), list(before.papers)
        self.specimens = dict(before.specimens)
        self.takes = {one.reading.number: one for one in before.takes}
        self.standards = {one.number: one for one in before.standards}

    def take(self, line: Line) -> None:
        self.state = replace(self.state, last=line.number)
        if line.kind == TAKEN and line.entry is not None:
            self.readings[line.number] = _reading(line, len(self.readings) + 1)
        elif line.kind == TAKE and line.entry is not None:
            self.takes[line.number] = recorded_take(line, _reading(line, len(self.takes) + 1))
        elif line.kind == STANDARD:
            self.standards[line.number] = standard_takes(line)
        elif line.about in self.readings:
            self.readings[line.about] = _changed(line, self.readings[line.about])
        elif line.about in self.takes:
            take = self.takes[line.about]
            self.takes[line.about] = replace(take, reading=_changed(line, take.reading))
        elif line.about in self.standards and line.kind in (WITHDRAWN, PUT_BACK):
            standard = self.standards[line.about]
            state: Literal["used", "withdrawn"] = "withdrawn" if line.kind == WITHDRAWN else "used"
            self.standards[line.about] = replace(standard, state=state, reason=line.reason)
        self._rest(line)

    def _rest(self, line: Line) -> None:
        fields = line.fields
        if line.kind == QUESTION:
            self.state = replace(self.state, question=fields["toml"], question_line=line.number)
        elif line.kind == SHEET:
            self.state = replace(self.state, sheet=sheet_rows(fields["rows"]), sheet_line=line.number)
            self.skipped.clear()
        elif line.kind == SKIPPED:
            self.skipped[fields["step"]] = line.reason
        elif line.kind == TAKEN_UP:
            self.skipped.pop(fields["step"], None)
        elif line.kind == NOTE:
            self.notes.append(line)
        elif line.kind == PAPER:
            self.papers.append(line)
        elif line.kind == FILE:
            self.files.append(_file(line))
        elif line.kind == SPECIMEN:
            self.specimens[fields["name"]] = fields["card"]
        elif line.kind == FOR_JOB:
            self.state = replace(self.state, job=fields["job"])
        elif line.kind == RETEST:
            self.state = replace(self.state, retest=_day(fields.get("by")))
        elif line.kind in (CLOSED, OPENED):
            self.state = replace(self.state, closed=line.kind == CLOSED)

    def done(self) -> StudyState:
        return replace(
            self.state,
            readings=tuple(self.readings.values()),
            skipped=self.skipped,
            notes=tuple(self.notes),
            files=tuple(self.files),
            specimens=self.specimens,
            takes=tuple(self.takes.values()),
            standards=tuple(self.standards.values()),
            papers=tuple(self.papers),
        )


def _reading(line: Line, nth: int) -> TakenReading:
    """The reading that a line takes, the `nth` of its study."""
    assert line.entry is not None
    doubts = tuple(line.fields.get("doubts", ())) if line.fields.get("waited") else ()
    return TakenReading(
        line.number,
        line.key,
        line.entry,
        line.entry,
        line.by,
        line.at,
        kept=line.reason or None,
        doubts=doubts,
        read_by=dict(line.fields.get(READ_BY, {})),
        typed_by=str(line.fields.get(TYPED_BY, "")),
        nth=nth,
    )


def _changed(line: Line, reading: TakenReading) -> TakenReading:
    """A reading after a line about it."""
    changed = replace(reading, changes=(*reading.changes, line))
    if line.kind == CORRECTED and line.entry is not None:
        return replace(changed, entry=line.entry, reason=line.reason)
    if line.kind == WITHDRAWN:
        return replace(changed, state="withdrawn", reason=line.reason)
    if line.kind == SET_ASIDE:
        return replace(changed, state="set aside", reason=line.reason, kept=None)
    if line.kind == PUT_BACK:
        return replace(changed, state="used", reason=line.reason)
    return replace(changed, state="used", kept=line.reason) if line.kind == KEPT else changed


def _day(text: object) -> date | None:
    """A day as it is kept; None where there is none any more."""
    try:
        return date.fromisoformat(text) if isinstance(text, str) else None
    except ValueError:
        return None


def _file(line: Line) -> KeptFile:
    fields = line.fields
    return KeptFile(
        line.number,
        fields["name"],
        fields["media_type"],
        bool(fields.get("beside")),
        line.about,
        line.by,
        line.at,
    )


def sheet_fields(rows: Sequence[SheetRow]) -> dict[str, list[list[str | int]]]:
    """The fields of a line that lays a sheet."""
    return {
        "rows": [
            [r.step, r.day, r.operator, r.specimen, r.condition, r.mating, r.polarity, r.note] for r in rows
        ]
    }


def sheet_rows(rows: Sequence[Sequence[str | int]]) -> tuple[SheetRow, ...]:
    """The rows of a sheet from the fields of its line."""
    return tuple(
        SheetRow(int(r[0]), int(r[1]), str(r[2]), str(r[3]), str(r[4]), int(r[5]), str(r[6]), str(r[7]))
        for r in rows
    )
