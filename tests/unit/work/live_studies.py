"""Studies as they stand after so many readings, for tests of the live answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from tests.tables import labels, reading_table

from ohmsworth.readings import Limit, Study
from ohmsworth.readings.table import ReadingTable
from ohmsworth.work.live_answer import live_answer
from ohmsworth.work.live_progress import Planned
from ohmsworth.work.ports import LoadedStudy

#: Specimen, condition, mating, milliohm.
Row = tuple[str, str, str, float]
STUDY = Study("Does it matter?", reference="new", margin=0.5e-3)
LIMITED = Study("Is it within?", limit=Limit(3e-3, "a datasheet"))
SHEET = Planned(3, 2, 1, ("new", "old"))


def turn_by_turn(
    specimens: int = 3, matings: int = 2, ratio: float = 2.0, scatter: float = 0.05, seed: int = 1
) -> list[Row]:
    """One specimen of each condition after the other, all its matings at once."""
    rng = np.random.default_rng(seed)
    rows: list[Row] = []
    for s in range(specimens):
        for condition, level in (("new", 2.0), ("old", 2.0 * ratio)):
            own = level * np.exp(rng.normal(0, scatter))
            for m in range(matings):
                value = float(own * np.exp(rng.normal(0, scatter / 2)))
                rows.append((f"{condition} {s + 1}", condition, str(m + 1), value))
    return rows


def table_of(rows: Sequence[Row], pairs: bool = False) -> ReadingTable:
    """Resistances as an ohmmeter gives them, or forward and reversed voltage and current."""
    signs = "+-" if pairs else "?"
    each = [(row, sign) for row in rows for sign in signs]
    columns = {
        "specimen": [row[0] for row, _ in each],
        "condition": [row[1] for row, _ in each],
        "mating": [row[2] for row, _ in each],
    }
    polarity = [sign for _, sign in each]
    if not pairs:
        return reading_table(polarity, resistance=[1e-3 * row[3] for row, _ in each], **columns)
    current = [0.1 if sign == "+" else -0.1 for sign in polarity]
    voltage = [1e-3 * row[3] * i + 1e-6 for (row, _), i in zip(each, current, strict=True)]
    return reading_table(polarity, voltage=voltage, current=current, **columns)


def loaded(rows: Sequence[Row], study: Study = STUDY, pairs: bool = False) -> LoadedStudy:
    return LoadedStudy(study, table_of(rows, pairs), ())


def empty(study: Study = STUDY) -> LoadedStudy:
    """Before the first reading."""
    one = table_of([("a", "new", "1", 2.0)])
    none = one.take(np.array([], int))
    return LoadedStudy(study, replace(none, specimen=labels([]), condition=labels([]), mating=labels([])), ())


def answers(rows: Sequence[Row], study: Study = STUDY, planned: Planned | None = SHEET, **kind: str):  # type: ignore[no-untyped-def]
    """The live answer after each row."""
    return [live_answer(loaded(rows[: n + 1], study), planned, **kind) for n in range(len(rows))]
