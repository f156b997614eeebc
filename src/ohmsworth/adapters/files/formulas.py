"""Cells that a spreadsheet would take for a formula, written so that it takes them for text, and read back as they were."""

from __future__ import annotations

import re

#: What a spreadsheet begins a formula with.
_BEGINS = ("=", "+", "-", "@")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")
_MARK = "'"


def as_text(cell: str) -> str:
    """`cell` with an apostrophe in front where a spreadsheet would work it out; numbers and lone signs stay.

    A cell in which such a beginning stands behind apostrophes already gets one more, so that `as_written` gives every cell back:
    ``as_written(as_text(cell)) == cell``.
    """
    bare = cell.lstrip(_MARK)
    if not bare.startswith(_BEGINS):
        return cell
    marked = bare != cell
    harmless = cell in ("+", "-") or _NUMBER.fullmatch(cell) is not None
    return cell if harmless and not marked else _MARK + cell


def as_written(cell: str) -> str:
    """`cell` without the apostrophe that `as_text` put in front of it."""
    return cell[1:] if cell.startswith(_MARK) and cell.lstrip(_MARK).startswith(_BEGINS) else cell
