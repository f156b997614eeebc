"""How the readings of a report came about: who read them, when, with which meters, and every one of them at the end."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from ohmsworth.report.document import Block, Document, Paragraph, Section, Table
from ohmsworth.report.tables import table
from ohmsworth.report.words import count, listed

#: The section before which it is told how a study was measured.
METHOD = "Method and sources"
#: A longer list of readings stays in its file: more pages than anybody turns.
MOST_READINGS = 400
#: A longer list of specimens stays on its page.
_MOST_SPECIMENS = 40
#: Hours and minutes, and the seconds after them.
_SECONDS = re.compile(r"([0-9]{1,2}:[0-9]{2}):[0-9]{2}(?:[.,][0-9]+)?")
#: More names than this are told by their number.
_MOST_NAMES = 8


@dataclass(frozen=True, slots=True)
class MeterUsed:
    """A meter or the check standard: what it does, its name, what is stated of it, and its last calibration, as texts."""

    does: str
    name: str
    stated: str
    calibrated: str = ""


@dataclass(frozen=True, slots=True)
class Decision:
    """What somebody decided about one reading (its number or line), why, who and when; texts."""

    reading: str
    of: str
    what: str
    why: str
    who: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True)
class Remark:
    """A note on the study or on one of its readings; texts."""

    text: str
    about: str = ""
    who: str = ""
    when: str = ""


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """A reading for the table at the end: its number and what stands in each column, by heading; texts."""

    number: str
    cells: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Particulars:
    """What a report says beside the answer; "" or empty where nothing is known.

    Parameters
    ----------
    job, customer
        For which job and for whom it was measured.
    days
        Days on which readings were taken, in order.
    people
        Who took them.
    specimens
        Names in the study, each with what its card says.
    meters, decisions, remarks
        In the order in which they are told.
    number, readings
        How many readings there are, and each of them where they are not too many to list.
    counted
        What the number of a reading is: "reading" of the records, or "line" of its file.
    place
        Where all readings are when they are too many to list.
    """

    job: str = ""
    customer: str = ""
    days: tuple[str, ...] = ()
    people: tuple[str, ...] = ()
    specimens: tuple[tuple[str, str], ...] = ()
    meters: tuple[MeterUsed, ...] = ()
    decisions: tuple[Decision, ...] = ()
    remarks: tuple[Remark, ...] = ()
    number: int = 0
    readings: tuple[ReadingRow, ...] = ()
    counted: str = "line"
    place: str = "readings.csv in the study's folder"


def dated(document: Document, day: date) -> Document:
    """The report with its date below the title: what it says holds as of then."""
    return replace(document, subtitle=f"Report of {day:%Y-%m-%d}. {document.subtitle}".strip())


def with_particulars(document: Document, found: Particulars) -> Document:
    """The report with a line below its title, a section on how it was measured, and every reading at the end."""
    sections = []
    for section in document.sections:
        measured = particulars_blocks(found) if section.title == METHOD else ()
        sections += [Section("How it was measured", measured)] if measured else []
        sections.append(section)
    readings = readings_blocks(found)
    sections += [Section("All readings", readings)] if readings else []
    return replace(document, subtitle=_lead(found) or document.subtitle, sections=tuple(sections))


def _lead(found: Particulars) -> str:
    """When, by whom and for what it was read, in a line for the first page."""
    told = [f"read {_days(found)}"] if found.days else []
    told += [f"by {listed(list(found.people), _MOST_NAMES)}"] if found.people else []
    text = " ".join(told)
    if found.job:
        text = "; ".join(part for part in (text, f"job {found.job}") if part)
    if found.customer:
        text = ", ".join(part for part in (text, f"for {found.customer}") if part)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def _days(found: Particulars) -> str:
    return found.days[0] if len(found.days) == 1 else f"{found.days[0]} to {found.days[-1]}"


def particulars_blocks(found: Particulars) -> tuple[Block, ...]:
    """Who, when, with what, for whom; decisions about readings and notes. Nothing where nothing is known."""
    facts = [
        ("readings taken on", listed(list(found.days), _MOST_NAMES)),
        ("by", listed(list(found.people), _MOST_NAMES)),
        ("job", found.job),
        ("customer", found.customer),
    ]
    rows = tuple((what, told) for what, told in facts if told)
    blocks: list[Block] = [table("Particulars", ("what", "as recorded"), rows)] if rows else []
    if found.meters:
        used = tuple(
            (m.does, m.name or "–", m.stated or "not stated", m.calibrated or "not known")
            for m in found.meters
        )
        header = ("instrument", "name", "accuracy or value stated", "last calibrated")
        blocks.append(table("Instruments", header, used))
    if found.specimens:
        blocks.append(_specimens(found))
    if found.decisions:
        decided = tuple(
            (d.reading, d.of, d.what, d.why or "no reason given", _when_who(d.when, d.who))
            for d in found.decisions
        )
        columns = (found.counted, "of", "what was done", "why", "when, by whom")
        blocks.append(table("Decisions about single readings", columns, decided))
    if found.remarks:
        noted = tuple((r.text, r.about or "the study", _when_who(r.when, r.who)) for r in found.remarks)
        blocks.append(table("Notes", ("note", "about", "when, by whom"), noted))
    return tuple(blocks)


def _specimens(found: Particulars) -> Table:
    shown = found.specimens[:_MOST_SPECIMENS]
    left = len(found.specimens) - len(shown)
    note = f"{count(left, 'more specimen')} in the study." if left else ""
    return table("What was measured", ("specimen", "what it is"), shown, note=note)


def _when_who(when: str, who: str) -> str:
    return ", ".join(part for part in (when, who) if part) or "–"


def readings_blocks(found: Particulars) -> tuple[Block, ...]:
    """Every reading in a small table; of more than fit, how many they are and where."""
    if found.number > len(found.readings):
        told = f"{count(found.number, 'reading')}: too many to list here. All of them are in {found.place}."
        return (Paragraph(told),)
    if not found.readings:
        return ()
    headings = list(dict.fromkeys(name for row in found.readings for name in row.cells))
    shown = [name for name in headings if any(row.cells.get(name) for row in found.readings)]
    day = found.days[0] if len(found.days) == 1 else ""
    rows = tuple(
        (row.number, *(_cell(row.cells.get(name, ""), name, day) for name in shown)) for row in found.readings
    )
    told = f" All on {day}." if day and "when" in shown else ""
    numeric = tuple(i for i, name in enumerate(shown, 1) if name.partition(" [")[0] in _NUMBERS)
    made = table(
        "Readings",
        (found.counted, *shown),
        rows,
        numeric,
        f"As they were taken down, or as last corrected.{told}",
    )
    return (replace(made, small=True),)


def _cell(text: str, name: str, day: str) -> str:
    """A cell that keeps a moment to the minute on one line, without the day where it is that of all."""
    if name == "when":
        text = _SECONDS.sub(r"\1", text)
        text = (text.removeprefix(day).strip() if day else text).replace(" ", "\u00a0")
    return text or "–"


#: Columns of the table of readings that hold numbers.
_NUMBERS = ("voltage", "current", "resistance", "temperature", "mating")
