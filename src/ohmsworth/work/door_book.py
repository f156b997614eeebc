"""The door book: who came in, who was refused, and what was changed about who may.

It is a card of the records like any other, so that no line of it is ever changed. Its state keeps it out of the list of people.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ohmsworth.work.records import Face, Line, NewLine, Records

#: The key of its first line: there is one book in the records.
KEY = "door book"
STATE = "door book"


class DoorBook:
    """Writes and reads the book.

    Parameters
    ----------
    records
        Where it is kept.
    new_key
        Gives a key that no line has had.
    """

    def __init__(self, records: Records, new_key: Callable[[], str]) -> None:
        self._records = records
        self._new_key = new_key
        self._card: int | None = None

    def write(self, what: str, by: str, **fields: str) -> None:
        """Write what happened; `by` is who did it, `fields` whom it was done to and from where."""
        self._records.add(self._number(), by, [NewLine(self._new_key(), what, fields)])

    def last(self, most: int = 200) -> tuple[Line, ...]:
        """Its last lines, the newest first."""
        number = self._number()
        lines = self._records.lines(number, max(self._records.card(number).lines - most, 0))
        return tuple(reversed(lines))

    def _number(self) -> int:
        if self._card is None:
            begun = NewLine(KEY, "door book begun")
            self._card = self._records.open_card("person", "the bench", [begun], _face)
        return self._card


def _face(_: Sequence[Line]) -> Face:
    return Face("Who came in, and who may", STATE)
