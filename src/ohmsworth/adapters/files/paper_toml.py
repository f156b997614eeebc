"""The table ``[certificate]`` of cable.toml and study.toml: what the shop states for the paper it hands over."""

from __future__ import annotations

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.errors import shorten
from ohmsworth.readings.paper_request import PaperRequest

#: Longest text of each key, in characters: what a paper has room for.
_ROOM = {
    "number": 40,
    "tested_by": 80,
    "shop": 80,
    "address": 200,
    "customer": 120,
    "supersedes": 40,
    "reason": 400,
}
_NEEDED = {
    "number": 'number = "2026-014", one that no other certificate has',
    "tested_by": 'tested_by = "who tested it"',
    "shop": 'shop = "the name of the shop"',
}


def read_paper(table: Asked | None) -> PaperRequest | None:
    """What is stated; None without such a table, and where it is at fault."""
    if table is None:
        return None
    before = len(table.faults)
    said = {key: line_of_text(table, key, room) for key, room in _ROOM.items()}
    tested = table.day("date")
    for key, example in (*_NEEDED.items(), ("date", "date = 2026-03-01, the day of the test")):
        if key not in table.table:
            table.fault(key, "no such key", example, "Add it.")
    if bool(said["supersedes"]) != bool(said["reason"]) and len(table.faults) == before:
        missing = "reason" if said["supersedes"] else "supersedes"
        mend = "A certificate that takes the place of another names it and says why."
        table.fault(missing, "no such key", "both supersedes and reason, or neither", mend)
    if said["number"] and said["number"] == said["supersedes"]:
        mend = "A corrected certificate has a number of its own: give it a new one."
        table.fault("supersedes", f"its own number {shorten(said['number'])}", "the number of another", mend)
    table.done()
    if len(table.faults) > before or tested is None:
        return None
    return PaperRequest(tested=tested, **said)


def line_of_text(table: Asked, key: str, room: int) -> str:
    """A text on one line that the paper has room for; "" where nothing is stated."""
    text = table.text(key) or ""
    if len(text) > room:
        table.fault(key, f"a text of {len(text)} characters", f"at most {room}", "Shorten the text.")
    elif not text.isprintable():
        table.fault(key, shorten(text), "text on one line", "Take out line breaks and control characters.")
    elif key in ("number", "supersedes") and text and not any(letter.isalnum() for letter in text):
        table.fault(key, shorten(text), "a number such as 2026-014", "Give it a number.")
    return text
