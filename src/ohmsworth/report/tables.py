"""Tables whose numbers stay on one line."""

from __future__ import annotations

from ohmsworth.report.answer import SourceAnswer
from ohmsworth.report.document import Table

#: Numbers up to this length are not broken over lines.
_UNBROKEN = 18


def table(
    caption: str,
    header: tuple[str, ...],
    rows: tuple[tuple[str, ...], ...],
    numeric: tuple[int, ...] = (),
    note: str = "",
) -> Table:
    """A table whose short numbers keep their unit on the same line."""

    def cell(i: int, text: str) -> str:
        return text.replace(" ", "\u00a0") if i in numeric and len(text) <= _UNBROKEN else text

    return Table(
        caption, header, tuple(tuple(cell(i, t) for i, t in enumerate(row)) for row in rows), numeric, note
    )


def sources_table(sources: tuple[SourceAnswer, ...]) -> Table:
    """What an answer leans on."""
    rows = tuple((one.citation, one.standing) for one in sources)
    note = "Standing: published text, from memory, or common practice."
    return table("Sources", ("source", "standing"), rows, note=note)
