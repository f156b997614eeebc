"""What ``fitness`` prints and writes."""

from __future__ import annotations

from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, refuse_targets, terminal_width, write_documents
from ohmsworth.report.answer import as_json
from ohmsworth.work.report_fitness import report_fitness


def fitness(folder: Path, as_data: bool, html: Path | None, pdf: Path | None) -> None:
    """Print the fitness of the bench, after writing the reports that were asked for."""
    refuse_targets(folder, html, pdf)
    told = report_fitness(wiring.load_bench(folder))
    written = write_documents(told.report, html, pdf)
    if as_data:
        print_json(as_json(told.answer))
        return
    print_text(wiring.as_text(told.summary, terminal_width()))
    for path in written:
        print_text(f"Written: {path}")
