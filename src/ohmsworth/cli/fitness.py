"""What ``fitness`` prints and writes."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, terminal_width
from ohmsworth.cli.refusals import check_targets
from ohmsworth.errors import OutputFault
from ohmsworth.report.answer import as_json
from ohmsworth.work.report_fitness import report_fitness

FILES = ("study.toml", "readings.csv", "check.csv")


def fitness(folder: Path, as_data: bool, html: Path | None, pdf: Path | None) -> None:
    """Print the fitness of the bench, after writing the reports that were asked for."""
    _refuse_targets(folder, html, pdf)
    told = report_fitness(wiring.load_bench(folder))
    made: list[tuple[Path, bytes]] = []
    if html is not None:
        made.append((html, wiring.as_html(told.report).encode()))
    if pdf is not None:
        made.append((pdf, wiring.as_pdf(told.report, datetime.now(UTC))))
    for path, data in made:
        wiring.write_file(path, data)
    if as_data:
        print_json(as_json(told.answer))
        return
    print_text(wiring.as_text(told.summary, terminal_width()))
    for path, _ in made:
        print_text(f"Written: {path}")


def _refuse_targets(folder: Path, html: Path | None, pdf: Path | None) -> None:
    """A report must not take the place of a file of the bench, or of the other report."""
    check_targets(html, pdf)
    taken = {os.path.realpath(folder / name) for name in FILES}
    for path in (html, pdf):
        if path is None:
            continue
        place = os.path.realpath(path)
        if place in taken:
            raise OutputFault(
                f"{path} is a file of the bench or the other report; choose another name for it."
            )
        taken.add(place)
