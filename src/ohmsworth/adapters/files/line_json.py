"""Lines of a log as JSON, and back; texts in one order and one way of writing, so that the same log is the same bytes."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from ohmsworth.adapters.files.entry_json import entry_from, entry_json, text_of
from ohmsworth.adapters.files.plain_names import safe_name
from ohmsworth.errors import Fault, InputRefused, OhmsworthError, shorten
from ohmsworth.work.portable import CardLog, referring
from ohmsworth.work.records import CARD_KINDS, Line

#: What a reference to another card is written as, from its number; and the number from what stands there.
Name = Callable[[Any], Any]
Number = Callable[[Any], int]
_LINE = frozenset(
    ("number", "key", "kind", "by", "at", "fields", "about", "reason", "entry", "specimen", "content")
)
_LONGEST_KEY = 200


def canonical(value: object) -> bytes:
    """JSON of sorted keys, an indent, and a newline at the end."""
    text = json.dumps(value, ensure_ascii=False, sort_keys=True, indent=1, allow_nan=False)
    return f"{text}\n".encode()


def read_json(data: bytes, file: str) -> dict[str, Any]:
    """The object in `data`; raises InputRefused where it is none."""
    try:
        found = json.loads(data)
    except (ValueError, RecursionError) as error:
        found, reason = None, str(error)[:80]
    else:
        reason = "something else"
    if isinstance(found, dict):
        return found
    mend = "Take the file as it was exported; it is not meant to be edited."
    raise InputRefused((Fault(file, f"text that is no JSON object ({reason})", "a whole file", mend),))


def check_format(found: Mapping[str, Any], name: str, version: int, file: str) -> None:
    """Refuse another format, or one that a newer program wrote."""
    there, number = found.get("format"), found.get("version")
    if there == name and number == version:
        return
    newer = there == name and isinstance(number, int) and number > version
    mend = "Bring this program up to date." if newer else "Take the file as it was exported."
    told = f"format {shorten(str(there))}, version {shorten(str(number))}"
    raise InputRefused((Fault(file, told, f"format '{name}', version {version}", mend),))


def card_json(card: CardLog, name: Name, path: Callable[[Line], str]) -> dict[str, Any]:
    """A card as JSON; `name` writes references, `path` says where the file of a line stands."""
    lines = [_line_json(line, name, path) for line in card.lines]
    return {"kind": card.kind, "lines": lines, "opened": moment(card.opened)}


def _line_json(line: Line, name: Name, path: Callable[[Line], str]) -> dict[str, Any]:
    fields = referring(line.kind, line.fields, name)
    said: dict[str, Any] = {
        "number": line.number,
        "key": line.key,
        "kind": line.kind,
        "by": line.by,
        "at": moment(line.at),
    }
    more: dict[str, Any] = {
        "fields": fields,
        "about": line.about,
        "reason": line.reason,
        "entry": None if line.entry is None else entry_json(line.entry),
        "specimen": None if line.specimen is None else name(line.specimen),
        "content": path(line) if line.has_content else None,
    }
    return said | {key: value for key, value in more.items() if value not in (None, "", {})}


def moment(when: datetime) -> str:
    """A moment in UTC, always written in the same way."""
    return when.astimezone(UTC).isoformat()


def content_name(line: Line) -> str:
    """The name of the file that a line holds: its number, and its own name as far as every system takes it."""
    name = line.fields.get("name")
    return f"{line.number:04d} {safe_name(name if isinstance(name, str) else '', line.kind)}"


@dataclass(frozen=True, slots=True)
class Reading:
    """How cards are read: `file` names it in faults, `number` reads references, `content` gives the bytes at a path."""

    file: str
    number: Number
    content: Callable[[str], bytes]

    def card(self, said: object, where: str) -> CardLog:
        """The card in `said`; raises InputRefused with the first fault of each line."""
        faults: list[Fault] = []
        lines: list[Line] = []
        contents: dict[int, bytes] = {}
        try:
            if not isinstance(said, dict) or said["kind"] not in CARD_KINDS or not said["lines"]:
                raise ValueError("no card with lines")
            kind, opened, listed = said["kind"], _when(said["opened"]), list(said["lines"])
        except (TypeError, ValueError, KeyError) as error:
            raise InputRefused((self._fault(where, error),)) from error
        for place, one in enumerate(listed, start=1):
            try:
                line = self._line(one, place)
                if line.has_content:
                    contents[place] = self.content(text_of(one["content"]))
                lines.append(line)
            except InputRefused as refused:
                faults += refused.faults
            except (TypeError, ValueError, KeyError, AttributeError, OhmsworthError) as error:
                faults.append(self._fault(f"{where}line {place}", error))
        faults += self._twice(lines, where)
        if faults:
            raise InputRefused(tuple(faults))
        return CardLog(kind, opened, tuple(lines), contents)

    def _line(self, said: Mapping[str, Any], place: int) -> Line:
        if set(said) - _LINE:
            raise ValueError(f"the unknown key {min(set(said) - _LINE)!r}")
        if said["number"] != place:
            raise ValueError(f"the number {said['number']!r}")
        about, entry = said.get("about"), said.get("entry")
        if about is not None and (not isinstance(about, int) or not 0 < about < place):
            raise ValueError(f"about the line {about!r}, which is not before it")
        kind = text_of(said["kind"])
        fields = referring(kind, dict(said.get("fields", {})), self.number)
        key = text_of(said["key"])
        if not 0 < len(key) <= _LONGEST_KEY:
            raise ValueError(f"a key of {len(key)} characters")
        specimen = said.get("specimen")
        return Line(
            place,
            key,
            kind,
            text_of(said["by"]),
            _when(said["at"]),
            fields,
            about,
            text_of(said.get("reason", "")),
            None if entry is None else entry_from(entry),
            None if specimen is None else self.number(specimen),
            said.get("content") is not None,
        )

    def _twice(self, lines: Sequence[Line], where: str) -> list[Fault]:
        if len({line.key for line in lines}) == len(lines):
            return []
        return [self._fault(f"{where}lines", ValueError("the same key in two lines"))]

    def _fault(self, where: str, error: Exception) -> Fault:
        reason = f"no {error}" if isinstance(error, KeyError) else str(error)
        mend = "Take the file as it was exported; it is not meant to be edited."
        return Fault(f"{self.file}, {where}".rstrip(" ,"), shorten(reason, 160), "what was exported", mend)


def _when(said: object) -> datetime:
    found = datetime.fromisoformat(text_of(said))
    if found.tzinfo is None:
        raise ValueError("a moment without its zone")
    return found
