"""How the manual writes values and tables."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ohmsworth.units import EXAMPLES, UNITS, show_stated

ROOT = Path(__file__).parents[1]
_PLAIN = {
    "resistance": "Ω",
    "length": "m",
    "frequency": "Hz",
    "current": "A",
    "voltage": "V",
    "level difference": "dB",
    "time": "s",
}


def written(value: float | str, dimension: str) -> str:
    """A setting's SI value as one writes it in study.toml."""
    if isinstance(value, str):
        return f'"{value}"'
    if dimension in ("number", "plain ratio"):
        return f"{value:g}"
    if dimension == "temperature":
        return f'"{value - 273.15:g} °C"'
    if dimension in _PLAIN:
        return f'"{show_stated(value, _PLAIN[dimension])}"'
    unit = EXAMPLES[dimension].split(" ", 1)[1]
    return f'"{value / UNITS[unit].factor:.6g} {unit}"'


def table(header: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    """A table in Markdown."""
    escaped = [tuple(cell.replace("|", "\\|") for cell in row) for row in (header, *rows)]
    lines = ["| " + " | ".join(row) + " |" for row in escaped]
    return "\n".join([lines[0], "|" + "---|" * len(header), *lines[1:]])
