"""What ``plan`` prints and writes."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, terminal_width
from ohmsworth.cli.refusals import check_targets
from ohmsworth.errors import OutputFault
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
    _refuse_targets(folder, sheet, html, pdf)
    study = wiring.load_question(folder)
    answer = plan_study(study, [(past.name or str(past), wiring.load_study(past)) for past in pasts], seed)
    document = plan_report(answer)
    made: list[tuple[Path, bytes]] = []
    rows = draw_sheet(study, answer) if sheet is not None or answer.best is not None else ()
    if sheet is not None:
        made.append((sheet, wiring.as_sheet(sheet, rows, study.bench)))
    document = with_sheet(document, answer, rows)
    if html is not None:
        made.append((html, wiring.as_html(document).encode()))
    if pdf is not None:
        made.append((pdf, wiring.as_pdf(document, datetime.now(UTC))))
    for path, data in made:
        wiring.write_file(path, data)
    if as_data:
        print_json(as_json(answer))
        return
    print_text(wiring.as_text(plan_summary(answer), terminal_width()))
    for path, _ in made:
        print_text(f"Written: {path}" + (f" (drawn with seed {seed})" if path == sheet else ""))


def _refuse_targets(folder: Path, sheet: Path | None, html: Path | None, pdf: Path | None) -> None:
    """Nothing takes the place of the study's files (but an empty sheet may be its readings), or of one another."""
    check_targets(html, pdf)
    question, readings = (os.path.realpath(folder / name) for name in ("study.toml", "readings.csv"))
    taken = {question}
    for path in (sheet, html, pdf):
        if path is None:
            continue
        place = os.path.realpath(path)
        if place in taken or (place == readings and path is not sheet):
            raise OutputFault(f"{path} is a file of the study, or written twice; choose another name for it.")
        taken.add(place)
