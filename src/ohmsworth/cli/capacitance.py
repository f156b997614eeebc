"""What ``capacitance`` prints and writes."""

from __future__ import annotations

import os
from contextlib import nullcontext
from datetime import UTC, datetime
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, refuse_taken, terminal_width
from ohmsworth.cli.refusals import check_targets
from ohmsworth.report.answer import as_json
from ohmsworth.work.capacitance.loaded import WISHES
from ohmsworth.work.capacitance.told import ToldCapacitance, tell_capacitance
from ohmsworth.work.tone_files import CARD_PAGE, CARD_PDF, DRIVE, PLAN, is_sound

#: Files of the folder that no output may replace.
FILES = (WISHES, PLAN, DRIVE, CARD_PAGE, CARD_PDF)


def capacitance(folder: Path, as_data: bool, html: Path | None, pdf: Path | None) -> None:
    """Print what to record or what was found, after writing what is played and what was asked for."""
    _refuse_targets(folder, html, pdf)
    loaded = wiring.load_capacitance(folder)
    told = tell_capacitance(loaded)
    files = _to_play(folder, told, loaded.begin) if told.new else []
    if html is not None:
        files.append((html, wiring.as_html(told.report).encode()))
    if pdf is not None:
        files.append((pdf, wiring.as_pdf(told.report, datetime.now(UTC))))
    drive = folder / DRIVE
    with wiring.staged_drive(drive, told.plan, told.answer.channels) if told.new else nullcontext():
        wiring.write_files(files)
    if as_data:
        print_json(as_json(told.answer))
        return
    print_text(wiring.as_text(told.summary, terminal_width()))
    for one in told.answer.breaks:
        print_text(f"For the cable's cable.toml:\n\n{one.table}\n")
    for path in (*(path for path, _ in files), *([drive] if told.new else [])):
        print_text(f"Written: {path}")


def _to_play(folder: Path, told: ToldCapacitance, begin: bytes | None) -> list[tuple[Path, bytes]]:
    """The files that a measurement begins with, the sound itself apart."""
    files = [] if begin is None else [(folder / WISHES, begin)]
    return [
        *files,
        (folder / PLAN, wiring.as_plan_file(told.plan)),
        (folder / CARD_PAGE, wiring.as_html(told.report).encode()),
        (folder / CARD_PDF, wiring.as_pdf(told.report, datetime.now(UTC))),
    ]


def _refuse_targets(folder: Path, html: Path | None, pdf: Path | None) -> None:
    """Nothing takes the place of what is read, or of what is played."""
    check_targets(html, pdf, None)
    names = [*FILES]
    if folder.is_dir():
        names += [name for name in os.listdir(folder) if is_sound(name)]
    refuse_taken((html, pdf), {os.path.realpath(folder / name) for name in names})
