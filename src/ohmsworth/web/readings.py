"""The readings of a study, what was done to each, and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.readings.entry import Entry
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state, who
from ohmsworth.web.bench_form import OTHER, UNITS, mark_of, units_beside
from ohmsworth.web.bench_show import columns_asked
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import show
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.columns import Columns
from ohmsworth.work.drafts import FIGURES, LABELS, Draft, read_draft
from ohmsworth.work.own_times import without_zone, zone_assumed
from ohmsworth.work.reading_changes import CHANGES, OFFERED, change_reading, correct_reading, reading_of
from ohmsworth.work.records import Line
from ohmsworth.work.study_log import FILE, NOTE, KeptFile, StudyState
from ohmsworth.work.taken_reading import CORRECTED, TakenReading

pages = APIRouter(prefix="/studies/{study}")
#: Readings on one page; more are turned to.
EACH = 200


@dataclass(frozen=True, kw_only=True)
class Readings(StudyPage):
    """Every reading as it stands, the last first; `takes` counts those over frequency, which have a page of their own.

    `earlier` are files of the study in whose place others of the same name have come.
    """

    template: ClassVar[str] = "readings.html.j2"

    readings: tuple[TakenReading, ...]
    cards: Mapping[str, int]
    count: int
    withdrawn: int
    takes: int
    first: int
    each: int
    files: tuple[KeptFile, ...]
    earlier: tuple[KeptFile, ...]
    notes: tuple[Line, ...]
    nths: Mapping[int, int]
    zone: str


@dataclass(frozen=True, kw_only=True)
class OneReading(StudyPage):
    """One reading, its history, and what may be done to it."""

    template: ClassVar[str] = "reading.html.j2"

    reading: TakenReading
    history: tuple[Change, ...]
    offered: tuple[str, ...]
    units: dict[str, tuple[str, ...]]
    key: str
    files: tuple[KeptFile, ...]
    notes: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Change:
    """A line about a reading, with what it said before and after where it was corrected."""

    line: Line
    before: Entry | None
    after: Entry | None


@pages.get("/readings")
def readings(request: Request, study: int, first: int = 0) -> Response:
    """The table."""
    state = study_state(request, study)
    latest = state.readings[::-1]
    first = min(max(first, 0), max(len(latest) - 1, 0))
    return show(
        request,
        Readings(
            title=f"Readings of study {study}",
            study=study_frame(study, state, "Readings"),
            readings=latest[first : first + EACH],
            cards=state.specimens,
            count=len(latest),
            withdrawn=len(latest) - len(state.counted),
            takes=len(state.takes),
            first=first,
            each=EACH,
            files=tuple(file for file in state.files if _stands(file, state)),
            earlier=tuple(file for file in state.files if not _stands(file, state)),
            notes=state.notes,
            nths=state.nths,
            zone=_zone(request, state),
        ),
    )


def _stands(file: KeptFile, state: StudyState) -> bool:
    """Whether no later file of the study, such as a new plan of its tones, has come in its place."""
    return not file.beside or all(
        other.number <= file.number or other.name != file.name for other in state.files if other.beside
    )


def _zone(request: Request, state: StudyState) -> str:
    """Which zone is assumed, where times state none."""
    zoneless = without_zone([one.entry for one in state.counted])
    return zone_assumed(shop_of(request).clock().astimezone()) if zoneless else ""


@pages.get("/readings/{number}")
def one_reading(request: Request, study: int, number: int) -> Response:
    """One reading and its history."""
    state = study_state(request, study)
    reading = reading_of(state, number)
    return show(
        request,
        OneReading(
            title=f"Reading {reading.nth} of study {study}",
            study=study_frame(study, state, "Readings"),
            reading=reading,
            history=history_of(reading),
            offered=OFFERED[reading.state],
            units=_units(reading.entry),
            key=shop_of(request).new_key(),
            files=tuple(file for file in state.files if file.about == number),
            notes=tuple(note for note in state.notes if note.about == number),
        ),
    )


def _units(entry: Entry) -> dict[str, tuple[str, ...]]:
    """The units of each field, among them the one in which the quantity was read."""
    typed = {name: getattr(entry, name) for name in FIGURES}
    return {name: units_beside(name, one.unit) if one else UNITS[name] for name, one in typed.items()}


def history_of(reading: TakenReading) -> tuple[Change, ...]:
    """The lines about a reading that changed it or its standing, in their order."""
    said = reading.first
    found = []
    for line in reading.changes:
        if line.kind in (NOTE, FILE):
            continue  # these stand below, with what they say
        if line.kind == CORRECTED and line.entry is not None:
            found.append(Change(line, said, line.entry))
            said = line.entry
        else:
            found.append(Change(line, None, None))
    return tuple(found)


@pages.post("/readings/{number}")
def change(request: Request, study: int, number: int, sent: Posted) -> Response:
    """Correct a reading, withdraw it, put it back, keep it or set it aside."""
    shop, state = shop_of(request), study_state(request, study)
    wanted, reason, key = sent.text("change"), sent.text("reason"), sent.text("key") or shop.new_key()
    if wanted in CHANGES:
        change_reading(shop, study, state, number, wanted, reason, who(request), key)
    else:
        columns = columns_asked(request, study, state)
        entry = _corrected(request, columns, reading_of(state, number).entry, sent)
        correct_reading(shop, desk_of(request), study, state, number, entry, reason, who(request), key)
    return go_to(f"/studies/{study}/readings/{number}")


def _corrected(request: Request, columns: Columns, entry: Entry, sent: Sent) -> Entry:
    """The entry with what the form says in its place; a further column that the form does not show is as it was."""
    said = {name: sent.text(name) for name in LABELS}
    others = {name: sent.first.get(f"{OTHER}{name}", text) for name, text in entry.others.items()}
    labels = {**said, **others}
    draft = Draft(
        labels if others == entry.others else columns.completed(labels),
        sent.text("polarity"),
        {name: (sent.text(name), sent.text(f"{name}_unit")) for name in FIGURES},
        note=sent.text("note"),
        operator=entry.operator,
        step=entry.step,
        needed=tuple(name for name in ("specimen", "condition") if getattr(entry, name)),
    )
    read = read_draft(draft, mark_of(request), shop_of(request).clock()).entry
    return replace(read, time=entry.time)
