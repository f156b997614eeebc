"""What ``cable`` prints and writes."""

from __future__ import annotations

from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.reported import Targets, refuse_reported, write_reported
from ohmsworth.report.answer import as_json
from ohmsworth.work.cable_study import report_cable

#: Files of the folder that no output may replace.
FILES = ("cable.toml", "test.csv")


def cable(folder: Path, as_data: bool, targets: Targets) -> None:
    """Print the sheet or the verdict, after writing what was asked for."""
    refuse_reported(targets, [folder / name for name in FILES])
    told = report_cable(wiring.load_cable(folder))
    write_reported(told.report, told.summary, as_json(told.answer), as_data, targets)
