"""What ``known`` prints and writes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import STUDY_FILES
from ohmsworth.cli.reported import Targets, refuse_reported, write_reported
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.names import clean_name
from ohmsworth.report.answer import as_json
from ohmsworth.work.care.known_studies import report_known


def known(folders: Sequence[Path], of: str, against: str, as_data: bool, targets: Targets) -> None:
    """Print what the studies know together, after writing what was asked for."""
    if not folders:
        mend = "Name the folders of the studies one after the other."
        raise InputRefused((Fault("FOLDERS", "none", "one folder or more, each of a study", mend),))
    refuse_reported(targets, [folder / name for folder in folders for name in STUDY_FILES])
    told = report_known(wiring.load_studies(folders), clean_name(of), clean_name(against))
    write_reported(told.report, told.summary, as_json(told.answer), as_data, targets)
