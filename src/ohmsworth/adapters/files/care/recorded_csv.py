"""What the shop recorded: outcomes.csv of contacts like it, and history.csv of the contact itself."""

from __future__ import annotations

import math
from pathlib import Path

from ohmsworth.adapters.files.care.named_columns import NamedColumns, read_columns
from ohmsworth.advice.remedies import USUAL_NAMES
from ohmsworth.errors import Fault, nearest_name, shorten
from ohmsworth.readings.names import clean_name
from ohmsworth.work.care_ports import UNTREATED, HistoryRow, OutcomeRow

OUTCOMES, HISTORY = "outcomes.csv", "history.csv"
_NAMES = (*USUAL_NAMES, UNTREATED)


def read_outcomes(path: Path) -> tuple[tuple[OutcomeRow, ...], tuple[str, ...], list[Fault]]:
    """Rows, headings that are not used, and all faults."""
    columns = {"remedy": False, "specimen": False, "job": False, "before": True, "after": True}
    table = read_columns(path, columns, optional=("job",))
    if not table.lines or not {"before", "after"} <= set(table.cells):
        return (), table.unused, table.faults
    remedies, specimens = _remedies(table), [clean_name(t) for t in table.texts("specimen")]
    jobs = [clean_name(text) for text in table.texts("job", needed=False)]
    ohm = table.resistances(("before", "after"), no_path=True)
    rows = []
    seen: dict[tuple[str, str, str], int] = {}
    for k, line in enumerate(table.lines):
        key = (remedies[k], specimens[k], jobs[k])
        if all(key[:2]) and key in seen:
            told = f"{shorten(specimens[k])} with {remedies[k]} a second time (first in line {seen[key]})"
            mend = "Delete one, or tell the jobs apart in a column 'job'."
            table.fault(k, "specimen", told, "each contact once for a remedy and job", mend)
        seen.setdefault(key, line)
        before, after = float(ohm["before"][k]), float(ohm["after"][k])
        if all(key[:2]) and not (math.isnan(before) or math.isnan(after)):
            rows.append(OutcomeRow(line, *key, before, after))
    return tuple(rows), table.unused, table.faults


def _remedies(table: NamedColumns) -> list[str]:
    """The remedies, "" where one is at fault."""
    found = []
    for k, text in enumerate(table.texts("remedy")):
        name = text.lower()
        if text and name not in _NAMES:
            near = nearest_name(name, _NAMES)
            mend = (
                f"Did you mean '{near}'?"
                if near
                else "Write one of these; what else was done goes into a note."
            )
            table.fault(k, "remedy", shorten(text), f"one of {', '.join(_NAMES)}", mend)
        found.append(name if name in _NAMES else "")
    return found


def read_history(path: Path) -> tuple[tuple[HistoryRow, ...], tuple[str, ...], list[Fault]]:
    """Readings of the contact in the order of their days, headings that are not used, and all faults."""
    table = read_columns(path, {"date": False, "resistance": True, "treated": False}, optional=("treated",))
    if not table.lines or "resistance" not in table.cells:
        return (), table.unused, table.faults
    days, treated = table.days("date"), table.texts("treated", needed=False)
    ohm = table.resistances(("resistance",), no_path=False)["resistance"]
    rows = [
        HistoryRow(line, day, float(value), what)
        for line, day, value, what in zip(table.lines, days, ohm, treated, strict=True)
        if day is not None and not math.isnan(value)
    ]
    return tuple(sorted(rows, key=lambda row: row.day)), table.unused, table.faults
