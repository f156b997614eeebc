"""What ``plan`` prints and writes."""

from __future__ import annotations

from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, refuse_targets, terminal_width, write_documents
from ohmsworth.report.answer import as_json
from ohmsworth.report.plan_pages import plan_report, plan_summary
from ohmsworth.report.sheet import with_sheet
from ohmsworth.work.bench_sheet import draw_sheet
from ohmsworth.work.plan_study import plan_study


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
    study = wiring.load_question(folder)
    answer = plan_study(study, [(past.name or str(past), wiring.load_study(past)) for past in pasts], seed)
    document = plan_report(answer)
    rows = draw_sheet(study, answer) if sheet is not None or answer.best is not None else ()
    drawn = () if sheet is None else ((sheet, wiring.as_sheet(sheet, rows, study)),)
    written = write_documents(with_sheet(document, answer, rows), html, pdf, drawn)
    if as_data:
        print_json(as_json(answer))
        return
    print_text(wiring.as_text(plan_summary(answer), terminal_width()))
    for path in written:
        print_text(f"Written: {path}" + (f" (drawn with seed {seed})" if path == sheet else ""))
