"""A reading that was taken, as the log of its study says now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from ohmsworth.readings.entry import Entry
from ohmsworth.work.records import Line

#: The line that says what a reading is corrected to.
CORRECTED = "reading corrected"

ReadingState = Literal["used", "set aside", "withdrawn"]


@dataclass(frozen=True, slots=True)
class TakenReading:
    """A reading as it stands now.

    Parameters
    ----------
    number, key
        Of the line that it was taken in.
    entry
        As last corrected.
    first
        As it was taken.
    state
        Whether it counts.
    reason
        Why it was last corrected, set aside or withdrawn.
    kept
        Why it is kept in spite of a warning; None where nobody had to say.
    by, at
        Who took it, and when it was kept.
    changes
        The lines about it, in their order.
    doubts
        Codes of the doubts of a reading that was sent later, when nobody could be asked about them.
    read_by
        The meter by quantity, where the program itself asked it; empty for what was typed.
    typed_by
        Who typed it, where it waited and was sent in another's name.
    nth
        Which reading of the study it is, counted from 1 in the order in which they were taken; it stays so, whatever is
        corrected or withdrawn. This is the number that a person sees; `number` is the line's.
    """

    number: int
    key: str
    entry: Entry
    first: Entry
    by: str
    at: datetime
    state: ReadingState = "used"
    reason: str = ""
    kept: str | None = None
    changes: tuple[Line, ...] = ()
    doubts: tuple[str, ...] = ()
    read_by: Mapping[str, str] = field(default_factory=dict)
    typed_by: str = ""
    nth: int = 0

    @property
    def corrected(self) -> bool:
        """Whether it says something else than when it was taken."""
        return any(line.kind == CORRECTED for line in self.changes)

    @property
    def to_answer(self) -> bool:
        """Whether it is doubtful and nobody has said yet what it is."""
        return bool(self.doubts) and self.state == "used" and self.kept is None and not self.corrected
