"""What ``known --by`` prints and writes: how contacts age, over the shop's records."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.reported import Targets, refuse_reported, write_reported
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.work.care.ageing import report_ageing
from ohmsworth.work.care.asked_ageing import NAMES, chosen_of


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked: by what, of which, where; and what cannot be asked beside it."""

    by: str
    only: Sequence[str]
    place: str | None
    folders: Sequence[Path]
    of: str
    against: str


def ageing(asked: Asked, as_data: bool, targets: Targets) -> None:
    """Print how contacts age, after writing what was asked for."""
    only, faults = chosen_of(asked.only, "--only")
    faults += _beside(asked)
    if faults:
        raise InputRefused(tuple(faults))
    address = asked.place or wiring.default_records()
    refuse_reported(targets, [Path(address)])
    with wiring.open_records(address) as records:
        told = report_ageing(records, NAMES[asked.by], only)
    write_reported(told.report, told.summary, as_json(told.answer), as_data, targets)


def _beside(asked: Asked) -> list[Fault]:
    """What does not go together."""
    faults = []
    if not asked.by:
        some = f"one of {', '.join(NAMES)}"
        faults.append(
            Fault(
                "--by",
                "nothing",
                some,
                "Say by what contacts are told apart, or leave --only and --records out.",
            )
        )
    if asked.folders or asked.of or asked.against:
        found = "folders" if asked.folders else "--of or --against"
        mend = "Take folders into the records with 'ohmsworth records import', or leave --by out."
        faults.append(Fault("--by", f"{found} beside it", "the records alone", mend))
    return faults
