"""What ``care`` prints and writes."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.reported import Targets, refuse_reported, write_reported
from ohmsworth.report.answer import as_json
from ohmsworth.work.care.care_study import report_care

#: Files of the folder that no output may replace.
FILES = ("care.toml", "readings.csv", "outcomes.csv", "history.csv", "cables.toml")


def care(folder: Path, as_data: bool, targets: Targets) -> None:
    """Print what to do, after writing what was asked for."""
    refuse_reported(targets, [folder / name for name in FILES])
    told = report_care(wiring.load_care(folder), datetime.now(UTC).astimezone().date())
    write_reported(told.report, told.summary, as_json(told.answer), as_data, targets)
