"""A table in plain text: columns aligned by how wide their text is shown, cells wrapped where they must."""

from __future__ import annotations

from ohmsworth.adapters.render.measure import columns, pad, wrap_columns
from ohmsworth.report.document import Table

GAP = 2
NARROWEST = 8
LONGEST_WORD = 20


def table_lines(table: Table, width: int) -> list[str]:
    """Caption, header, rule, rows and note of `table`."""
    wide = max([len(table.header), *(len(row) for row in table.rows)])
    lines = wrap_columns(table.caption, width) if table.caption else []
    if wide:
        rows = [row + ("",) * (wide - len(row)) for row in (table.header, *table.rows)]
        widths = column_widths(rows, width)
        lines += _row(rows[0], widths, table.numeric)
        lines.append((" " * GAP).join("-" * w for w in widths))
        for row in rows[1:]:
            lines += _row(row, widths, table.numeric)
    if not table.rows:
        lines.append("nothing to list")
    return [*lines, *wrap_columns(table.note, width)] if table.note else lines


def column_widths(rows: list[tuple[str, ...]], width: int) -> list[int]:
    """A width for each column: what it needs, the widest narrowed first until the row fits `width`.

    No column is narrowed below its longest word, unless that is longer than any number is.
    """
    table = list(zip(*rows, strict=True))
    widths = [max(1, *(columns(cell) for cell in column)) for column in table]
    floors = [min(_longest_word(column), LONGEST_WORD) for column in table]
    excess = sum(widths) + GAP * (len(widths) - 1) - width
    while excess > 0:
        widest = max(range(len(widths)), key=lambda i: widths[i] if widths[i] > floors[i] else 0)
        if widths[widest] <= max(NARROWEST, floors[widest]):
            break
        widths[widest] -= 1
        excess -= 1
    return widths


def _longest_word(column: tuple[str, ...]) -> int:
    return max((columns(word) for cell in column for word in cell.split(" ")), default=1)


def _row(cells: tuple[str, ...], widths: list[int], numeric: tuple[int, ...]) -> list[str]:
    wrapped = [wrap_columns(cell, w) for cell, w in zip(cells, widths, strict=True)]
    tall = max(len(lines) for lines in wrapped)
    return [
        (" " * GAP).join(
            pad(lines[k] if k < len(lines) else "", w, right=i in numeric)
            for i, (lines, w) in enumerate(zip(wrapped, widths, strict=True))
        )
        for k in range(tall)
    ]
