"""What ``takes`` prints and writes."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, refuse_taken, terminal_width, write_documents
from ohmsworth.cli.refusals import folder_faults, target_faults
from ohmsworth.errors import Fault, InputRefused, QuantityFault
from ohmsworth.report.answer import as_json
from ohmsworth.report.takes_answer import TakesAnswer
from ohmsworth.units import parse_quantity
from ohmsworth.work.answer_takes import report_takes
from ohmsworth.work.tone_files import CARD_PAGE, CARD_PDF, DRIVE, PLAN, WISHES, recordings_among


@dataclass(frozen=True, slots=True)
class Targets:
    """Files and a folder to write."""

    html: Path | None = None
    pdf: Path | None = None
    pictures: Path | None = None


def takes(folder: Path, at: str | None, as_data: bool, targets: Targets) -> TakesAnswer:
    """Print the impedance, after writing what was asked for, and return it."""
    hertz = _asked(at, targets)
    _refuse_inputs(folder, targets)
    told = report_takes(wiring.load_takes(folder), hertz)
    files: tuple[tuple[Path, bytes], ...] = ()
    if targets.pictures is not None:
        files = tuple((targets.pictures / name, data) for name, data in wiring.as_pictures(told.report))
    written = write_documents(told.report, targets.html, targets.pdf, files)
    if as_data:
        print_json(as_json(told.answer))
        return told.answer
    print_text(wiring.as_text(told.summary, terminal_width()))
    for path in written:
        print_text(f"Written: {path}")
    return told.answer


def _asked(at: str | None, targets: Targets) -> float | None:
    """The frequency of the budget, or every fault of what was typed."""
    faults = [
        *target_faults((("--html", targets.html), ("--pdf", targets.pdf))),
        *folder_faults(targets.pictures),
    ]
    hertz = None
    if at is not None:
        try:
            hertz = parse_quantity(at, "frequency")
        except QuantityFault as fault:
            faults.append(Fault("--at", fault.found, fault.expected, fault.mend))
        else:
            if hertz <= 0:
                faults.append(Fault("--at", at, "more than zero hertz", "Name the frequency of a tone."))
    if faults:
        raise InputRefused(tuple(faults))
    return hertz


def _refuse_inputs(folder: Path, targets: Targets) -> None:
    """Nothing takes the place of what is read, or of what was played."""
    names = [WISHES, PLAN, DRIVE, CARD_PAGE, CARD_PDF]
    if folder.is_dir():
        names += [name for files in recordings_among(os.listdir(folder)).values() for name in files]
    taken = {os.path.realpath(folder / name) for name in names}
    refuse_taken((targets.html, targets.pdf), taken)
