"""The cables of a season one by one, for a spreadsheet: points as decimal marks, what is not known empty."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence

from ohmsworth.work.records import CardFigures

_COUNTS = ("rows", "wires", "over", "under", "open")
HEADER = (
    "cable",
    "name",
    "now",
    "day",
    "first complete test",
    "wrong then",
    *_COUNTS,
    "connectors",
    "conductors",
)


def season_csv(found: Sequence[CardFigures]) -> str:
    """One row a cable; connectors and conductors as ``name: median ratio to the expected``, several by semicolons."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADER)
    for one in found:
        figures = one.figures
        writer.writerow(
            (
                one.card,
                one.title,
                one.state,
                figures.get("day", ""),
                figures.get("first") or "",
                "; ".join(figures.get("faults", ())),
                *(figures.get(name, "") for name in _COUNTS),
                *(_ratios(figures.get(name, {})) for name in ("connectors", "conductors")),
            )
        )
    return out.getvalue()


def _ratios(found: Mapping[str, tuple[int, float]]) -> str:
    return "; ".join(f"{name}: {ratio!r}" for name, (_, ratio) in found.items())
