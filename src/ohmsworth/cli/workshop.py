"""What ``workshop`` prints and writes."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cables.supply import MOST_COPIES
from ohmsworth.cli.cable import FILES, Targets
from ohmsworth.cli.printing import print_json, print_text, refuse_taken, terminal_width, write_documents
from ohmsworth.cli.refusals import folder_faults, target_faults
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.work.workshop.order import report_workshop

#: Seconds that the solver may be given, each wire.
SHORTEST, LONGEST = 0.1, 3600.0


@dataclass(frozen=True, slots=True)
class Order:
    """What is asked for: cables, reels and prices, copies of each, and seconds for the solver."""

    folders: tuple[Path, ...]
    reels: Path | None
    prices: Path | None
    quantity: int | None
    seconds: float


def workshop(order: Order, as_data: bool, targets: Targets) -> None:
    """Print what the order needs, after writing what was asked for."""
    reports = (("--html", targets.html), ("--pdf", targets.pdf))
    faults = [*_faults(order), *target_faults(reports), *folder_faults(targets.pictures)]
    if faults:
        raise InputRefused(tuple(faults))
    read = [folder / name for folder in order.folders for name in FILES]
    read += [path for path in (order.reels, order.prices) if path is not None]
    refuse_taken((targets.html, targets.pdf), {os.path.realpath(path) for path in read})
    loaded = wiring.load_workshop(order.folders, order.reels, order.prices)
    told = report_workshop(loaded, order.quantity, order.seconds)
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


def _faults(order: Order) -> list[Fault]:
    """What is wrong with the options by themselves."""
    faults = []
    if not order.folders:
        mend = "Name the folder of each cable."
        faults.append(Fault("the command", "no folder", "one folder or more", mend))
    if order.quantity is not None and not 1 <= order.quantity <= MOST_COPIES:
        expected, mend = f"1 to {MOST_COPIES}", "Write how many copies of each cable are wanted."
        faults.append(Fault("--quantity", str(order.quantity), expected, mend))
    if not SHORTEST <= order.seconds <= LONGEST:
        expected = f"{SHORTEST:g} to {LONGEST:g} seconds"
        faults.append(
            Fault("--seconds", f"{order.seconds:g}", expected, "Twenty are enough for most orders.")
        )
    return faults
