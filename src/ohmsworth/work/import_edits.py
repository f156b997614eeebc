"""Rows that were edited after an export: refused by name, or taken as corrections with a reason."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.import_keys import key_of, row_text
from ohmsworth.work.portable import CardLog, Edits, StudyFolder, StudyLog
from ohmsworth.work.records import Line, NewLine, Records
from ohmsworth.work.study_log import FILE, QUESTION, TAKEN, WITHDRAWN
from ohmsworth.work.taken_reading import CORRECTED

_MEND = "Import it with a reason to take this as a correction, or put the file back as it was exported."


def refuse_edits(records: Records, log: StudyLog, folder: StudyFolder, corrections: str | None) -> None:
    """Refuse a folder whose files say something else than its log, unless that was taken in before.

    Raises
    ------
    InputRefused
        With every row.
    """
    edits = folder.edits
    if not edits:
        return
    if corrections is not None:
        if corrections.strip():
            return
        raise InputRefused((Fault("the reason", "nothing", "why the rows were edited", "Write the reason."),))
    number = records.card_of(log.study.key)
    if number is not None:
        here = {line.key for line in records.lines(number)}
        taken = edit_lines(log.study, folder, records.lines(number), "")
        if all(line.key in here for line in taken):
            return
    raise InputRefused(tuple(_faults(edits)))


def _faults(edits: Edits) -> list[Fault]:
    faults = [
        Fault(f"readings.csv, line {one.line}", one.found, f"{one.expected}, as in record.json", _MEND)
        for one in edits.rows
    ]
    if edits.question:
        faults.append(Fault("study.toml", "a text that was edited", "the text in record.json", _MEND))
    faults += [Fault(name, "other bytes", "those in record.json", _MEND) for name in edits.beside]
    return faults


def edit_lines(study: CardLog, folder: StudyFolder, kept: Sequence[Line], reason: str) -> list[NewLine]:
    """The lines that take the edits as corrections; `kept` is the log here, whose numbers they refer to."""
    edits = folder.edits or Edits()
    here = {line.key: line.number for line in kept}
    at = {line.number: here[line.key] for line in study.lines if line.key in here}
    lines: list[NewLine] = []
    for edit in edits.rows:
        about = at.get(edit.reading) if edit.reading is not None else None
        text = "" if edit.entry is None else row_text(edit.entry)
        kind = TAKEN if edit.reading is None else WITHDRAWN if edit.entry is None else CORRECTED
        # A row that is new has no number: its line tells it from another that says the same.
        key = key_of(study.key, kind, edit.reading or -edit.line, text)
        why = "" if kind == TAKEN else reason
        lines.append(NewLine(key, kind, about=about, reason=why, entry=edit.entry))
    for number, (kind, why) in edits.marks.items():
        about = at.get(number)
        lines.append(NewLine(key_of(study.key, kind, number, why), kind, about=about, reason=why or reason))
    if edits.question:
        text = folder.question
        lines.append(NewLine(key_of(study.key, "question", text), QUESTION, {"toml": text}, reason=reason))
    for name in edits.beside:
        data = folder.beside[name]
        fields = {"name": name, "media_type": "text/plain", "beside": True}
        lines.append(
            NewLine(key_of(study.key, "file", name, data.hex()), FILE, fields, reason=reason, content=data)
        )
    return lines
