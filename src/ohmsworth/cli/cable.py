"""What ``cable`` prints and writes."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, refuse_taken, terminal_width, write_documents
from ohmsworth.cli.refusals import folder_faults, target_faults
from ohmsworth.errors import InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.work.cable_study import report_cable

#: Files of the folder that no output may replace.
FILES = ("cable.toml", "test.csv")


@dataclass(frozen=True, slots=True)
class Targets:
    """Files and a folder to write."""

    html: Path | None = None
    pdf: Path | None = None
    pictures: Path | None = None


def cable(folder: Path, as_data: bool, targets: Targets) -> None:
    """Print the sheet or the verdict, after writing what was asked for."""
    reports = (("--html", targets.html), ("--pdf", targets.pdf))
    faults = [*target_faults(reports), *folder_faults(targets.pictures)]
    if faults:
        raise InputRefused(tuple(faults))
    refuse_taken((targets.html, targets.pdf), {os.path.realpath(folder / name) for name in FILES})
    told = report_cable(wiring.load_cable(folder))
    files: tuple[tuple[Path, bytes], ...] = ()
    if targets.pictures is not None:
        files = tuple((targets.pictures / name, data) for name, data in wiring.as_pictures(told.report))
    written = write_documents(told.report, targets.html, targets.pdf, files)
    if as_data:
        print_json(as_json(told.answer))
        return
    print_text(wiring.as_text(told.summary, terminal_width()))
    for path in written:
        print_text(f"Written: {path}")
