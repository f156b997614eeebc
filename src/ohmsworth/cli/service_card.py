"""What ``service-card`` prints and writes."""

from __future__ import annotations

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, terminal_width, write_documents
from ohmsworth.cli.refusals import target_faults
from ohmsworth.cli.reported import Targets
from ohmsworth.errors import InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.report.papers.service_pages import without_code
from ohmsworth.wiring.asked_records import service_card_of


def service_card(
    serial: str, card: int | None, air: str, targets: Targets, address: str | None, as_data: bool
) -> None:
    """Print the card, after writing what was asked for."""
    faults = target_faults((("--html", targets.html), ("--pdf", targets.pdf)))
    if faults:
        raise InputRefused(tuple(faults))
    told = service_card_of(serial, address or wiring.default_records(), card, air, "--records")
    written = write_documents(told.page, targets.html, targets.pdf)
    if as_data:
        print_json(as_json(told.answer))
        return
    print_text(wiring.as_text(without_code(told.page), terminal_width()))
    for path in written:
        print_text(f"Written: {path}")
