"""What ``service-card`` prints and writes."""

from __future__ import annotations

from ohmsworth import wiring
from ohmsworth.cli.printing import print_text, terminal_width, write_documents
from ohmsworth.cli.refusals import refuse_missing_records, target_faults
from ohmsworth.cli.reported import Targets
from ohmsworth.errors import InputRefused
from ohmsworth.report.papers.service_pages import without_code
from ohmsworth.work.service.finding import service_paper


def service_card(serial: str, card: int | None, air: str, targets: Targets, address: str | None) -> None:
    """Print the card, after writing what was asked for."""
    faults = target_faults((("--html", targets.html), ("--pdf", targets.pdf)))
    if faults:
        raise InputRefused(tuple(faults))
    place = address or wiring.default_records()
    refuse_missing_records(place)
    with wiring.open_records(place) as records:
        document = service_paper(wiring.shop(records), serial, card, air)
    written = write_documents(document, targets.html, targets.pdf)
    print_text(wiring.as_text(without_code(document), terminal_width()))
    for path in written:
        print_text(f"Written: {path}")
