"""What ``lot`` prints and writes."""

from __future__ import annotations

from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, refuse_targets, terminal_width, write_documents
from ohmsworth.report.answer import as_json
from ohmsworth.report.lot_pages import lot_report, lot_summary
from ohmsworth.work.lot_study import lot_study


def lot(folder: Path, as_data: bool, html: Path | None, pdf: Path | None) -> None:
    """Print the plan or the verdict, after writing the reports that were asked for."""
    refuse_targets(folder, html, pdf)
    answer = lot_study(wiring.load_lot(folder))
    written = write_documents(lot_report(answer), html, pdf)
    if as_data:
        print_json(as_json(answer))
        return
    print_text(wiring.as_text(lot_summary(answer), terminal_width()))
    for path in written:
        print_text(f"Written: {path}")
