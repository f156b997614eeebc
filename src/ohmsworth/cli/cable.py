"""What ``cable`` prints and writes."""

from __future__ import annotations

from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_text
from ohmsworth.cli.reported import Targets, refuse_reported, write_reported
from ohmsworth.report.answer import as_json
from ohmsworth.work.builds.folder import CABLE, TEST
from ohmsworth.work.builds.sheet import sheet_rows
from ohmsworth.work.cable_study import cable_ahead, report_cable

#: Files of the folder that no output may replace.
FILES = (CABLE, TEST)


def cable(folder: Path, as_data: bool, targets: Targets, sheet: Path | None = None) -> None:
    """Print the sheet or the verdict, after writing what was asked for."""
    refuse_reported(targets, [folder / name for name in FILES], sheet)
    told = report_cable(wiring.load_cable(folder))
    if sheet is not None:
        wiring.write_new_files([(sheet, _to_fill_in(folder))])
    write_reported(told.report, told.summary, as_json(told.answer), as_data, targets)
    if sheet is not None and not as_data:
        as_test = "" if sheet.name == TEST else f", and save it as {TEST} in {folder}"
        print_text(f"Written: {sheet}. Fill it in{as_test}.")


def _to_fill_in(folder: Path) -> bytes:
    """The rows of the folder's test.csv, and below them what is left: it can take the place of that file."""
    toml, test = wiring.cable_texts(folder)
    ports = wiring.cable_ports()
    described = ports.described(toml)
    read = None if test is None else ports.tested(test.encode(), described)
    left = sheet_rows(described.request, read.rows if read else (), cable_ahead(described.request))
    return ports.sheet_csv(read.written if read else (), left)
