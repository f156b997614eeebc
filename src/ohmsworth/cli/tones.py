"""What ``tones`` prints and writes."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, terminal_width
from ohmsworth.report.answer import as_json
from ohmsworth.report.tones_pages import tones_report, tones_summary
from ohmsworth.work.tone_files import CARD_PAGE, CARD_PDF, DRIVE, PLAN, WISHES
from ohmsworth.work.tones import plan_tones


def tones(folder: Path, as_data: bool) -> None:
    """Print the plan, after writing the drive, the plan and the card."""
    loaded = wiring.load_tones(folder)
    plan, answer = plan_tones(loaded)
    card = tones_report(answer)
    files = [] if loaded.begin is None else [(folder / WISHES, loaded.begin)]
    files += [
        (folder / PLAN, wiring.as_plan_file(plan)),
        (folder / CARD_PAGE, wiring.as_html(card).encode()),
        (folder / CARD_PDF, wiring.as_pdf(card, datetime.now(UTC))),
    ]
    with wiring.staged_drive(folder / DRIVE, plan, answer.channels):
        wiring.write_files(files)
    if as_data:
        print_json(as_json(answer))
        return
    print_text(wiring.as_text(tones_summary(answer), terminal_width()))
    for path in (*(path for path, _ in files), folder / DRIVE):
        print_text(f"Written: {path}")
