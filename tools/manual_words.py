"""How the manual writes values and tables."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ohmsworth.units import show_typed

ROOT = Path(__file__).parents[1]


def written(value: float | str, dimension: str) -> str:
    """A setting's SI value as one writes it in study.toml."""
    if isinstance(value, str):
        return f'"{value}"'
    if dimension in ("number", "plain ratio"):
        return f"{value:g}"
    return f'"{show_typed(value, dimension)}"'


def table(header: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    """A table in Markdown."""
    escaped = [tuple(cell.replace("|", "\\|") for cell in row) for row in (header, *rows)]
    lines = ["| " + " | ".join(row) + " |" for row in escaped]
    return "\n".join([lines[0], "|" + "---|" * len(header), *lines[1:]])
