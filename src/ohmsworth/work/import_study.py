"""A study's folder into the records: line by line where it brings its log, else row by row; and never anything twice."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.report.words import count
from ohmsworth.work.import_edits import edit_lines, refuse_edits
from ohmsworth.work.import_keys import folder_key, key_of, row_keys, take_keys
from ohmsworth.work.portable import CardLog, FolderStandard, StudyFolder, StudyLog, renumbered
from ohmsworth.work.records import CardKind, Line, MakeFace, NewLine, Records
from ohmsworth.work.study_log import FILE, KEPT, QUESTION, SET_ASIDE, STANDARD, TAKE, TAKEN
from ohmsworth.work.take_log import OF, OF_KEY, standard_fields, take_fields
from ohmsworth.work.tone_files import ENDINGS

#: A study.toml with past studies named otherwise.
WithHistory = Callable[[str, Mapping[str, str]], str]
#: What others refer to comes first.
_ORDER: tuple[CardKind, ...] = (
    "customer", "limit", "person", "meter", "check standard", "job", "specimen", "study", "cable", "workshop",
)  # fmt: skip
_HISTORY = "study.toml, key 'history'"
#: So many names of files that were left are told.
_SHOWN = 12


@dataclass(frozen=True, slots=True)
class Imported:
    """What came of it: the study's number, whether it was there before, how many lines are new, what was left where it is."""

    study: int
    known: bool
    added: int
    passed_over: tuple[str, ...] = ()


def left_words(passed_over: Sequence[str]) -> tuple[str, ...]:
    """What is said of the files that were left where they are.

    Examples
    --------
    >>> for words in left_words(("a.wav", "b.wav", "report.html")):
    ...     print(words)
    2 recordings stay where they are: the records keep what they told, and no sound.
    Left where it is, for it is no part of a study: report.html.
    """
    sounds = [name for name in passed_over if name.lower().endswith(ENDINGS)]
    others = [name for name in passed_over if name not in sounds]
    said = []
    if sounds:
        stay = "stay where they are" if len(sounds) > 1 else "stays where it is"
        told = "they" if len(sounds) > 1 else "it"
        said.append(
            f"{count(len(sounds), 'recording')} {stay}: the records keep what {told} told, and no sound."
        )
    if others:
        left = "where they are, for they are" if len(others) > 1 else "where it is, for it is"
        more = f" and {len(others) - _SHOWN} more" if len(others) > _SHOWN else ""
        said.append(f"Left {left} no part of a study: {', '.join(others[:_SHOWN])}{more}.")
    return tuple(said)


def import_study(
    records: Records,
    folder: StudyFolder,
    by: str,
    face: Callable[[CardKind], MakeFace],
    with_history: WithHistory,
    corrections: str | None = None,
) -> Imported:
    """Take a folder in.

    Parameters
    ----------
    records
        Where to.
    folder
        As read.
    by
        Who takes it in.
    face
        How a card of a kind is shown.
    with_history
        Writes other names of past studies into a study.toml.
    corrections
        Why rows were edited after the export; None refuses a folder in which any were.

    Raises
    ------
    InputRefused
        For an edited folder, for rows that are no longer those taken in before, or a past study that is not here.
    """
    history = _history(records, folder)
    if folder.log is not None:
        return _with_log(records, folder, folder.log, history, by, face, with_history, corrections)
    return _by_hand(records, folder, history, by, face, with_history)


def _history(records: Records, folder: StudyFolder) -> dict[str, str]:
    """How the past studies are named here, where that is another name."""
    names: dict[str, str] = {}
    for name, past in folder.past.items():
        number = records.card_of(past if isinstance(past, str) else folder_key(past))
        if number is None:
            mend = "Import that study first, then this one again."
            found = f"{shorten(name)}, which is not in these records"
            raise InputRefused((Fault(_HISTORY, found, "past studies that are there", mend),))
        if name != f"study {number}":
            names[name] = f"study {number}"
    return names


def _with_log(
    records: Records,
    folder: StudyFolder,
    log: StudyLog,
    history: Mapping[str, str],
    by: str,
    face: Callable[[CardKind], MakeFace],
    with_history: WithHistory,
    corrections: str | None,
) -> Imported:
    study, edits = log.study, folder.edits
    refuse_edits(records, log, folder, corrections)
    numbers: dict[int, int] = {}
    for other in sorted(log.linked, key=lambda n: _ORDER.index(log.linked[n].kind)):
        numbers[other] = _bring(records, _renumbered(log.linked[other], numbers), face)[0]
    known = records.card_of(study.key) is not None
    number, added = _bring(records, _taken_over(records, _renumbered(study, numbers)), face)
    kept = records.lines(number)
    more: list[NewLine] = []
    if edits and corrections is not None:
        more += edit_lines(study, folder, kept, corrections)
    asked = next((line for line in reversed(more) if line.kind == QUESTION), None)
    toml = asked.fields["toml"] if asked else _last_question(kept)
    if history and with_history(toml, history) != toml:
        text = with_history(toml, history)
        told = "past studies have other numbers here"
        more.append(NewLine(key_of(study.key, "history", text), QUESTION, {"toml": text}, reason=told))
    new = records.add(number, by, more, face("study")) if more else ()
    added += sum(line.number > len(kept) for line in new)
    return Imported(number, known, added, folder.passed_over)


def _renumbered(log: CardLog, numbers: Mapping[int, int]) -> CardLog:
    return replace(log, lines=tuple(renumbered(line, numbers) for line in log.lines))


def _taken_over(records: Records, log: CardLog) -> CardLog:
    """A log in which standards of other studies name these by their numbers here, and by none where they are not here."""
    return replace(log, lines=tuple(_of_here(records, line) for line in log.lines))


#: The study that a line's reason names.
_OTHER_STUDY = re.compile(r"(?<=taken over from )study no\. \d+(?=,)")


def _of_here(records: Records, line: Line) -> Line:
    if line.kind != STANDARD or line.fields.keys().isdisjoint((OF, OF_KEY)):
        return line
    there, key = line.fields.get(OF), line.fields.get(OF_KEY)
    here = records.card_of(key) if key else None
    if here == there:
        return line
    rest = {name: value for name, value in line.fields.items() if name != OF}
    words = "another study" if here is None else f"study no. {here}"
    fields = rest if here is None else {**rest, OF: here}
    return replace(line, fields=fields, reason=_OTHER_STUDY.sub(words, line.reason))


def _last_question(lines: Sequence[Line]) -> str:
    return next((str(line.fields["toml"]) for line in reversed(lines) if line.kind == QUESTION), "")


def _bring(records: Records, log: CardLog, face: Callable[[CardKind], MakeFace]) -> tuple[int, int]:
    """Restore a card, or what a card that is here already lacks; its number here, and how many lines are new."""
    number = records.card_of(log.key)
    if number is None:
        return records.restore_card(log.kind, log.opened, log.lines, log.contents, face(log.kind)), len(
            log.lines
        )
    here = {line.key: line.number for line in records.lines(number)}
    last = len(here)
    new: list[Line] = []
    for line in log.lines:
        if line.key in here:
            continue
        new.append(line)
        here[line.key] = last + len(new)
    if new:
        places = {line.number: here[line.key] for line in log.lines}
        lines = [replace(one, about=places.get(one.about) if one.about else None) for one in new]
        records.restore_lines(number, lines, log.contents, face(log.kind))
    return number, len(new)


def _by_hand(
    records: Records,
    folder: StudyFolder,
    history: Mapping[str, str],
    by: str,
    face: Callable[[CardKind], MakeFace],
    with_history: WithHistory,
) -> Imported:
    """Take in a folder without a log: the question, a line a row, what takes told, the marks, the files beside."""
    key = folder_key(folder)
    toml = with_history(folder.question, history) if history else folder.question
    number = records.card_of(key)
    kept = records.lines(number) if number is not None else ()
    here = {line.key: line.number for line in kept}
    keys = row_keys(key, [row.entry for row in folder.rows])
    takes = take_keys(key, folder.takes)
    _refuse_changed_rows(kept, [*keys, *takes], key)
    lines: list[NewLine] = []
    if not kept:
        lines.append(NewLine(key, QUESTION, {"toml": toml}))
    elif toml not in [line.fields.get("toml") for line in kept if line.kind == QUESTION]:
        lines.append(
            NewLine(key_of(key, "question", toml), QUESTION, {"toml": toml}, reason="imported again")
        )
    lines += [one for one in _standard_lines(key, folder.standards) if one.key not in here]
    places: dict[int, int] = {}
    for row, row_key in zip(folder.rows, keys, strict=True):
        if row_key not in here:
            lines.append(NewLine(row_key, TAKEN, {"imported": key}, entry=row.entry))
            here[row_key] = len(kept) + len(lines)
        places[row.line] = here[row_key]
    for take, take_key in zip(folder.takes, takes, strict=True):
        if take_key not in here:
            fields = take_fields(take.files, take.digest, take.basis, take.told)
            lines.append(NewLine(take_key, TAKE, {"imported": key, **fields}, entry=take.row.entry))
            here[take_key] = len(kept) + len(lines)
        if not folder.rows:  # else the marks of study.toml number the lines of readings.csv
            places[take.row.line] = here[take_key]
    marks = [(line, KEPT, "") for line in folder.kept]
    marks += [(line, SET_ASIDE, reason) for line, reason in sorted(folder.set_aside.items())]
    for line, kind, reason in marks:
        mark = key_of(key, kind, places[line], reason)
        lines += [] if mark in here else [NewLine(mark, kind, about=places[line], reason=reason)]
    lines += [one for one in file_lines(key, folder.beside) if one.key not in here]
    if number is None:
        number = records.open_card("study", by, lines, face("study"))
    elif lines:
        records.add(number, by, lines, face("study"))
    return Imported(number, bool(kept), len(lines), folder.passed_over)


def _standard_lines(key: str, standards: Sequence[FolderStandard]) -> list[NewLine]:
    return [
        NewLine(
            key_of(key, "standard", one.series, one.digest),
            STANDARD,
            {
                "imported": key,
                **standard_fields(one.series, one.files, one.digest, one.told),
                **({"at": one.at} if one.at else {}),
            },
        )
        for one in standards
    ]


def file_lines(key: str, beside: Mapping[str, bytes]) -> list[NewLine]:
    """Lines that add the files beside study.toml to the study known by `key`."""
    return [
        NewLine(
            key_of(key, "file", name, data.hex() if len(data) < 200 else _digest(data)),
            FILE,
            {"name": name, "media_type": "text/plain", "beside": True},
            content=data,
        )
        for name, data in beside.items()
    ]


def _digest(data: bytes) -> str:
    import hashlib

    return hashlib.sha256(data).hexdigest()


#: Where a row is missing, and what it would have said.
_WHERE: Mapping[str, Callable[[int, str], tuple[str, str]]] = {
    TAKEN: lambda nth, name: ("readings.csv", f"no row that says what reading {nth} said ({name})"),
    TAKE: lambda nth, name: ("takes.csv", f"no row with the recordings of take {nth} ({name})"),
}


def _refuse_changed_rows(kept: Sequence[Line], keys: Sequence[str], key: str) -> None:
    """Refuse a folder in which rows differ from those that it held when it was taken in before."""
    gone = [
        (kind, nth, line)
        for kind in (TAKEN, TAKE)
        for nth, line in enumerate((line for line in kept if line.kind == kind), 1)
        if line.fields.get("imported") == key and line.key not in set(keys)
    ]
    if not gone:
        return
    mend = "Correct the reading in the records: what was taken in stays, and says who corrected it and why."
    raise InputRefused(
        tuple(
            Fault(
                *_WHERE[kind](nth, line.entry.specimen if line.entry else ""),
                "every row that was taken in before; new ones may follow",
                mend,
            )
            for kind, nth, line in gone
        )
    )
