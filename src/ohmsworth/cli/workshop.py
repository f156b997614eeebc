"""What ``workshop`` prints and writes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cables.supply import MOST_COPIES
from ohmsworth.cli.cable import FILES
from ohmsworth.cli.reported import Targets, refuse_reported, write_reported
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
    faults = _faults(order)
    if faults:
        raise InputRefused(tuple(faults))
    read = [folder / name for folder in order.folders for name in FILES]
    refuse_reported(targets, [*read, *(path for path in (order.reels, order.prices) if path is not None)])
    loaded = wiring.load_workshop(order.folders, order.reels, order.prices)
    told = report_workshop(loaded, order.quantity, order.seconds)
    write_reported(told.report, told.summary, as_json(told.answer), as_data, targets)


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
