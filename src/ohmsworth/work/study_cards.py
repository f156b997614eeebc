"""Studies in the records: opening one, changing its question, closing it, and its face in a list."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from typing import Any

from ohmsworth.errors import OhmsworthError
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.marks import card_mark
from ohmsworth.work.paper_lines import paper_words
from ohmsworth.work.records import Face, Line, NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_log import (
    CLOSED,
    FOR_JOB,
    NOTE,
    OPENED,
    QUESTION,
    SHEET,
    StudyState,
    fold,
    sheet_fields,
)

NO_QUESTION = "A study without a question"


def study_face(lines: Sequence[Line]) -> Face:
    """What a list shows of a study: its question, and for a search its conditions, specimens and notes."""
    state = fold(lines)
    asked = _asked(state.question)
    taken = (*state.readings, *(take.reading for take in state.takes))
    words = [
        *_texts(asked),
        *dict.fromkeys(name for r in taken for name in (r.entry.specimen, r.entry.condition)),
        *(str(note.fields.get("text", "")) for note in state.notes),
        *paper_words(state),
        *(card_mark(card) for card in (*state.specimens.values(), state.job) if card is not None),
    ]
    question = asked.get("question")
    title = question if isinstance(question, str) and question.strip() else NO_QUESTION
    due_for = "re-test" if state.retest is not None else ""
    # TOML can spell a NUL, which no database takes as text.
    title, text = (said.replace("\0", "\ufffd") for said in (title, "\n".join(words)))
    shown = "closed" if state.closed else "open"
    return Face(title, shown, text, state.retest, due_for, _figures(lines, state))


def _figures(lines: Sequence[Line], state: StudyState) -> dict[str, Any]:
    """The visits to specimens; a study that knows none does not wait for what reduces readings.

    Readings that cannot be reduced give none: the study must be written on all the same, and its own pages say what is wrong.
    """
    none = {"to": state.last, "visits": []}
    if not state.specimens and all(line.specimen is None for line in lines):
        return none
    from ohmsworth.work.visits.figures import visit_figures

    try:
        return visit_figures(lines, state)
    except OhmsworthError:
        return none


def _asked(toml: str) -> dict[str, Any]:
    """The question's table; an unreadable one is shown on its own page, and must not hide the study from the list."""
    try:
        return tomllib.loads(toml)
    except tomllib.TOMLDecodeError:
        return {}


def _texts(value: object) -> list[str]:
    if isinstance(value, str):
        return [value]
    if isinstance(value, dict):
        return [text for inner in value.values() for text in _texts(inner)]
    if isinstance(value, list):
        return [text for inner in value for text in _texts(inner)]
    return []


def open_study(
    shop: Shop, toml: str, sheet: Sequence[SheetRow], by: str, key: str, job: int | None = None
) -> int:
    """Put a new study into the records and return its card; the same `key` twice opens it once."""
    lines = [NewLine(key, QUESTION, {"toml": toml})]
    if sheet:
        lines.append(NewLine(f"{key}.sheet", SHEET, sheet_fields(sheet)))
    if job is not None:
        lines.append(NewLine(f"{key}.job", FOR_JOB, {"job": job}))
    return shop.records.open_card("study", by, lines, study_face)


def change_question(shop: Shop, study: int, toml: str, reason: str, by: str, key: str) -> None:
    """Write a study's question anew; what it said before stays in the log."""
    shop.records.add(study, by, [NewLine(key, QUESTION, {"toml": toml}, reason=reason)], study_face)


def lay_sheet(shop: Shop, study: int, sheet: Sequence[SheetRow], reason: str, by: str, key: str) -> None:
    """Lay a new sheet; readings that were taken stay, and count for no step of the new one."""
    shop.records.add(study, by, [NewLine(key, SHEET, sheet_fields(sheet), reason=reason)], study_face)


def write_note(shop: Shop, study: int, text: str, about: int | None, by: str, key: str) -> None:
    """Write a note on a study, or on one of its readings."""
    shop.records.add(study, by, [NewLine(key, NOTE, {"text": text}, about=about)], study_face)


def close_study(shop: Shop, study: int, reason: str, by: str, key: str) -> None:
    """Put a study away: it takes no more readings until it is opened again."""
    shop.records.add(study, by, [NewLine(key, CLOSED, reason=reason)], study_face)


def open_again(shop: Shop, study: int, reason: str, by: str, key: str) -> None:
    """Take a study up again."""
    shop.records.add(study, by, [NewLine(key, OPENED, reason=reason)], study_face)


def name_job(shop: Shop, study: int, job: int | None, by: str, key: str) -> None:
    """Say for which job a study is made."""
    shop.records.add(study, by, [NewLine(key, FOR_JOB, {"job": job})], study_face)
