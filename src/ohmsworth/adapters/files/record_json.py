"""record.json: a study's whole log beside its study.toml, so that it can come back into records, line by line."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from ohmsworth.adapters.files.line_json import (
    Reading,
    canonical,
    card_json,
    check_format,
    content_name,
    read_json,
)
from ohmsworth.adapters.files.plain_names import paper_name
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.paper_lines import PAPER
from ohmsworth.work.portable import CardLog, StudyLog
from ohmsworth.work.records import Line

FILE = "record.json"
#: The folder in which the files of lines stand.
FILES = "files"
FORMAT, VERSION = "ohmsworth study record", 1


def record_files(log: StudyLog) -> dict[str, bytes]:
    """record.json, under `files/` the files of the log's lines, and beside them the papers that it holds.

    Cards that it refers to are told by the key of their first line, whatever number they have in the records.
    """
    cards = sorted(log.linked.values(), key=lambda card: card.key)
    files: dict[str, bytes] = {}

    def path_of(card: CardLog, folder: str) -> Callable[[Line], str]:
        def path(line: Line) -> str:
            place = f"{folder}/{content_name(line)}"
            files[place] = card.contents[line.number]
            return place

        return path

    def name(number: int) -> str | None:
        return log.linked[number].key if number in log.linked else None

    found = {
        "format": FORMAT,
        "version": VERSION,
        "study": card_json(log.study, name, path_of(log.study, FILES)),
        "linked": [
            card_json(card, name, path_of(card, f"{FILES}/card {i:02d}"))
            for i, card in enumerate(cards, start=1)
        ],
        "past": {str(number): key for number, key in log.past.items()},
    }
    return {FILE: canonical(found), **files, **paper_files(log.study)}


def paper_files(study: CardLog) -> dict[str, bytes]:
    """The papers that a study's log holds, by the names that `ohmsworth certify` gives them: to the byte as they were issued."""
    papers = [line for line in study.lines if line.kind == PAPER]
    return {paper_name(str(line.fields.get("number", ""))): study.contents[line.number] for line in papers}


def read_record(data: bytes, content: Callable[[str], bytes]) -> StudyLog:
    """The log in a record.json; `content` gives the bytes of a file by its path in the folder.

    Cards that it refers to are numbered 1, 2 ... in their order.

    Raises
    ------
    InputRefused
        With what is wrong with it.
    """
    found = read_json(data, FILE)
    check_format(found, FORMAT, VERSION, FILE)
    listed = found.get("linked", [])
    past = found.get("past", {})
    if not isinstance(listed, list) or not isinstance(past, dict):
        mend = "Take the file as it was exported; it is not meant to be edited."
        raise InputRefused((Fault(FILE, "no list 'linked' or no table 'past'", "what was exported", mend),))
    numbers = {_first_key(one): number for number, one in enumerate(listed, start=1)}
    reading = Reading(FILE, lambda key: numbers[key], content)
    linked = {i: reading.card(one, f"linked card {i}, ") for i, one in enumerate(listed, start=1)}
    study = reading.card(found.get("study"), "")
    if study.kind != "study":
        mend = "Take the file as it was exported."
        raise InputRefused((Fault(FILE, f"a card of the kind '{study.kind}'", "a study", mend),))
    return StudyLog(study, linked, _past(past))


def _first_key(said: Any) -> str:
    """The key of a card's first line; what is at fault there is told where the card is read."""
    try:
        return str(said["lines"][0]["key"])
    except (TypeError, KeyError, IndexError):
        return ""


def _past(said: Mapping[str, Any]) -> dict[int, str]:
    return {int(number): key for number, key in said.items() if number.isdecimal() and isinstance(key, str)}
