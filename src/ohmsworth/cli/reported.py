"""An answer with its report: what is refused before, what is written, what is printed."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, refuse_taken, terminal_width, write_documents
from ohmsworth.cli.refusals import folder_faults, target_faults
from ohmsworth.errors import InputRefused
from ohmsworth.report.document import Document


@dataclass(frozen=True, slots=True)
class Targets:
    """Files and a folder to write."""

    html: Path | None = None
    pdf: Path | None = None
    pictures: Path | None = None


def refuse_reported(targets: Targets, read: Iterable[Path], sheet: Path | None = None) -> None:
    """Refuse targets that cannot be, or that are among the files that are `read`; a `sheet` may become one of these."""
    reports = (("--html", targets.html), ("--pdf", targets.pdf), ("--sheet", sheet))
    faults = [*target_faults(reports), *folder_faults(targets.pictures)]
    if faults:
        raise InputRefused(tuple(faults))
    refuse_taken((targets.html, targets.pdf), {os.path.realpath(path) for path in read})


def write_reported(
    report: Document, summary: Document, data: dict[str, Any], as_data: bool, targets: Targets
) -> None:
    """Write the report as asked, and print the data or the summary."""
    files: tuple[tuple[Path, bytes], ...] = ()
    if targets.pictures is not None:
        files = tuple((targets.pictures / name, content) for name, content in wiring.as_pictures(report))
    written = write_documents(report, targets.html, targets.pdf, files)
    if as_data:
        print_json(data)
        return
    print_text(wiring.as_text(summary, terminal_width()))
    for path in written:
        print_text(f"Written: {path}")
