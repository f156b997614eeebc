"""The published data beside the checks."""

from __future__ import annotations

import csv
from pathlib import Path

FOLDER = Path(__file__).parent / "data"


def columns(name: str) -> dict[str, list[str]]:
    """Columns of a file with a header, as text."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {key: [row[key] for row in rows] for key in rows[0]}


def numbers(name: str, column: str) -> list[float]:
    return [float(text) for text in columns(name)[column]]
