"""The bench sheet: what its rows hold, and the page on which they are written down by hand."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ohmsworth.report.document import Block, Bullets, Document, Paragraph, Section, Table
from ohmsworth.report.plan_answer import PlanAnswer


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One reading to take; `polarity` is "+" or "-"."""

    step: int
    day: int
    operator: str
    specimen: str
    condition: str
    mating: int
    polarity: str
    note: str


def with_sheet(document: Document, answer: PlanAnswer, rows: tuple[SheetRow, ...]) -> Document:
    """The plan with its bench sheet: a page or more for each day and operator, to be written on."""
    if not rows:
        return document
    blocks = list(dict.fromkeys((row.day, row.operator) for row in rows))
    pages = [
        _page(answer, [r for r in rows if (r.day, r.operator) == key], len(blocks) > 1) for key in blocks
    ]
    return replace(document, sections=(*document.sections, *pages))


def _page(answer: PlanAnswer, rows: list[SheetRow], several: bool) -> Section:
    first = rows[0]
    whose = f", {first.operator}" if first.operator else ""
    title = f"Bench sheet: day {first.day}{whose}" if several else "Bench sheet"
    header = ("step", "specimen", "condition", "mating", "±", "voltage [mV]", "current [mA]", "note")
    cells = tuple(
        (
            str(row.step),
            row.specimen,
            row.condition,
            str(row.mating),
            row.polarity.replace("-", "−"),
            "",
            "",
            row.note,
        )
        for row in rows
    )
    where = "Copy the figures into the CSV of the same steps, and save it as readings.csv."
    blocks: list[Block] = [
        Bullets(answer.cautions, tone="caution"),
        Paragraph(_how(answer)),
        Table("Readings, in this order", header, cells, (0, 3), where, writing=(5, 6)),
    ]
    return Section(title, tuple(blocks), own_page=True)


def _how(answer: PlanAnswer) -> str:
    treated = ""
    if answer.assignment == "before and after":
        then = " and ".join(f"'{name}'" for name in answer.conditions[1:])
        treated = f" Treat the specimens before their rows as {then} begin."
    return (
        f"Date and names: {'.' * 50} Keep to the order (drawn with seed {answer.seed}): it keeps a bench that drifts "
        "from looking like a difference. A new mating number means: separate and mate again. + is the current forward, "
        "− the current reversed. Stay at 20 mV and 100 mA or below for a signal contact. "
        f"Wait until the reading stands still.{treated}"
    )
