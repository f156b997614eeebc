"""What a cable's log says now: how it is described, what was measured at it, and what was withdrawn again.

Every kind of line that a cable's log may hold has its name here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from typing import Any, Literal

from ohmsworth.errors import QuantityFault
from ohmsworth.readings.entry import Typed
from ohmsworth.work.cable_ports import WrittenRow
from ohmsworth.work.paper_lines import PAPER
from ohmsworth.work.records import Line

DESCRIBED = "cable described"
MEASURED = "row measured"
WITHDRAWN = "row withdrawn"
PUT_BACK = "row put back"
NOTE = "note written"
#: Line of test.csv on which the first row stands, below the heading.
FIRST_LINE = 2


@dataclass(frozen=True, slots=True)
class MeasuredRow:
    """A row as it stands now: `number` is its line of the log, `nth` which row of the cable it is, for ever.

    `kept` says why it was kept although it looked like a slip; `reason` why it was withdrawn or put back.
    """

    number: int
    nth: int
    key: str
    written: WrittenRow
    by: str
    at: datetime
    kept: str = ""
    state: Literal["used", "withdrawn"] = "used"
    reason: str = ""


@dataclass(frozen=True)
class CableState:
    """What the log of a cable amounts to after its line `last`.

    `toml` is the text of cable.toml as last written, `described` the line that wrote it, `descriptions` all such lines;
    `papers` are the lines that hold a paper each.
    """

    toml: str = ""
    described: int = 0
    descriptions: tuple[Line, ...] = ()
    rows: tuple[MeasuredRow, ...] = ()
    notes: tuple[Line, ...] = ()
    papers: tuple[Line, ...] = ()
    last: int = 0

    @cached_property
    def counted(self) -> tuple[MeasuredRow, ...]:
        """Rows that stand in test.csv, in the order in which they were measured: all but those withdrawn."""
        return tuple(row for row in self.rows if row.state == "used")

    @cached_property
    def written(self) -> tuple[WrittenRow, ...]:
        """The same as written."""
        return tuple(row.written for row in self.counted)

    @cached_property
    def line_of(self) -> Mapping[int, int]:
        """The line of test.csv by the number of the row; those withdrawn stand on none."""
        return {row.number: FIRST_LINE + i for i, row in enumerate(self.counted)}


def fold(lines: Iterable[Line], before: CableState | None = None) -> CableState:
    """Read a log, or go on from what it said `before`."""
    state = before or CableState()
    rows = {row.number: row for row in state.rows}
    notes, papers, descriptions = list(state.notes), list(state.papers), list(state.descriptions)
    toml, described, last = state.toml, state.described, state.last
    for line in lines:
        last = line.number
        if line.kind == DESCRIBED:
            toml, described = str(line.fields.get("toml", "")), line.number
            descriptions.append(line)
        elif line.kind == MEASURED:
            rows[last] = MeasuredRow(
                last, len(rows) + 1, line.key, _written(line.fields), line.by, line.at, line.reason
            )
        elif line.kind in (WITHDRAWN, PUT_BACK) and line.about in rows:
            now: Literal["used", "withdrawn"] = "withdrawn" if line.kind == WITHDRAWN else "used"
            rows[line.about] = replace(rows[line.about], state=now, reason=line.reason)
        elif line.kind == NOTE:
            notes.append(line)
        elif line.kind == PAPER:
            papers.append(line)
    return CableState(
        toml, described, tuple(descriptions), tuple(rows.values()), tuple(notes), tuple(papers), last
    )


def row_fields(row: WrittenRow) -> dict[str, str]:
    """The fields of a line that keeps a row; no path is a resistance "open" without a unit."""
    typed = row.resistance
    said = ("open", "") if typed is None else (typed.text, typed.unit)
    return {"from": row.one, "to": row.other, "resistance": said[0], "unit": said[1]}


def _written(fields: Mapping[str, Any]) -> WrittenRow:
    one, other, text, unit = (str(fields.get(name, "")) for name in ("from", "to", "resistance", "unit"))
    if not unit:
        return WrittenRow(one, other, None if text == "open" else Typed(text, "Ω", "resistance"))
    typed = Typed(text, unit, "resistance")
    try:
        typed.value  # noqa: B018 - raises where somebody's export holds something else
    except QuantityFault:
        typed = Typed(f"{text} {unit}", "Ω", "resistance")  # the reader of the folder says what is wrong
    return WrittenRow(one, other, typed)
