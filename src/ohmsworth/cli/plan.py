"""What ``plan`` prints and writes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, refuse_targets, terminal_width, write_documents
from ohmsworth.readings.study import Study
from ohmsworth.report.answer import as_json
from ohmsworth.report.document import Document
from ohmsworth.report.plan_answer import PlanAnswer
from ohmsworth.report.plan_pages import plan_report, plan_summary
from ohmsworth.report.sheet import SheetRow, with_sheet
from ohmsworth.work.bench_sheet import draw_sheet
from ohmsworth.work.plan_study import plan_study


@dataclass(frozen=True, slots=True)
class Planned:
    """A question, its plan, the sheet drawn from it (empty where there is no plan), and both as a document."""

    study: Study
    answer: PlanAnswer
    rows: tuple[SheetRow, ...]
    report: Document


def find_plan(folder: Path, pasts: tuple[Path, ...], seed: int, sheet: bool = False) -> Planned:
    """Plan the question in `folder`; where a `sheet` is asked for, none is a refusal."""
    study = wiring.load_question(folder)
    answer = plan_study(study, [(past.name or str(past), wiring.load_study(past)) for past in pasts], seed)
    rows = draw_sheet(study, answer) if sheet or answer.best is not None else ()
    return Planned(study, answer, rows, with_sheet(plan_report(answer), answer, rows))


def plan(
    folder: Path,
    pasts: tuple[Path, ...],
    as_data: bool,
    sheet: Path | None,
    html: Path | None,
    pdf: Path | None,
    seed: int,
) -> None:
    """Print the plan, after writing what was asked for."""
    refuse_targets(folder, html, pdf, sheet)
    found = find_plan(folder, pasts, seed, sheet is not None)
    drawn = () if sheet is None else ((sheet, wiring.as_sheet(sheet, found.rows, found.study)),)
    written = write_documents(found.report, html, pdf, drawn)
    if as_data:
        print_json(as_json(found.answer))
        return
    print_text(wiring.as_text(plan_summary(found.answer), terminal_width()))
    for path in written:
        print_text(f"Written: {path}" + (f" (drawn with seed {seed})" if path == sheet else ""))
