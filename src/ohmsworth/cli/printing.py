"""What each command prints; imported only once a command runs, so that ``--help`` stays quick."""

from __future__ import annotations

import json
import os
import shlex
import shutil
import sys
from collections.abc import Iterable
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path
from typing import Any

from ohmsworth import wiring
from ohmsworth.cli.refusals import check_targets
from ohmsworth.errors import Fault, OutputFault
from ohmsworth.report.answer import Answer, as_json
from ohmsworth.report.document import Document
from ohmsworth.report.papers.letter import Sender
from ohmsworth.report.papers.letter import letter as write_letter
from ohmsworth.report.particulars import dated, with_particulars
from ohmsworth.work.particulars import folder_particulars
from ohmsworth.work.report_study import Told, report_study

REFUSAL_FORMAT = "ohmsworth refusal 1"

#: Files of a study folder that no output may replace.
STUDY_FILES = (
    "study.toml",
    "readings.csv",
    "takes.csv",
    "tones.toml",
    "plan.json",
    "check.csv",
    "cables.toml",
)


def answer(
    folder: Path, as_data: bool, html: Path | None, pdf: Path | None, letter: Path | None = None
) -> Answer:
    """Print the answer, after writing the reports and the letter that were asked for, and return it."""
    refuse_targets(folder, html, pdf, letter=letter)
    told = report_study(wiring.load_study(folder))
    written = _write(folder, told, html, pdf, letter) if html or pdf or letter else []
    if as_data:
        print_json(as_json(told.answer))
        return told.answer
    print_text(wiring.as_text(told.summary, terminal_width()))
    for path in written:
        print_text(f"Written: {path}")
    return told.answer


def _write(folder: Path, told: Told, html: Path | None, pdf: Path | None, letter: Path | None) -> list[Path]:
    """The papers of today, with how it was measured and every reading, as far as the folder's files say."""
    found = folder_particulars(wiring.read_study_folder(folder), wiring.form_of)
    today = datetime.now(UTC).astimezone().date()
    texts = () if letter is None else ((letter, write_letter(told.answer, found, Sender(), today).encode()),)
    return write_documents(dated(with_particulars(told.report, found), today), html, pdf, texts)


def refuse_targets(
    folder: Path,
    html: Path | None,
    pdf: Path | None,
    sheet: Path | None = None,
    letter: Path | None = None,
) -> None:
    """Nothing takes the place of the study's files, or of another file that is asked for.

    A bench sheet may become the readings: it is refused elsewhere once there are any.
    """
    check_targets(html, pdf, letter)
    taken = {os.path.realpath(folder / name) for name in STUDY_FILES}
    if sheet is not None and os.path.realpath(sheet) == os.path.realpath(folder / "readings.csv"):
        taken.remove(os.path.realpath(sheet))
    refuse_taken((sheet, html, pdf, letter), taken)


def refuse_taken(targets: Iterable[Path | None], taken: set[str]) -> None:
    """Refuse a target that is one of the places `taken`, or the same as another."""
    for path in targets:
        if path is None:
            continue
        place = os.path.realpath(path)
        if place in taken:
            raise OutputFault(
                f"{path} is a file that is read, or asked for twice; choose another name for it."
            )
        taken.add(place)


def write_documents(
    report: Document, html: Path | None, pdf: Path | None, first: tuple[tuple[Path, bytes], ...] = ()
) -> list[Path]:
    """Write `first`, and the report as HTML and PDF where asked; all of them, or none."""
    made = list(first)
    if html is not None:
        made.append((html, wiring.as_html(report).encode()))
    if pdf is not None:
        made.append((pdf, wiring.as_pdf(report, datetime.now(UTC))))
    wiring.write_files(made)
    return [path for path, _ in made]


def new(folder: Path) -> None:
    """Write a study to start from and say what comes next."""
    study, readings = wiring.write_new_study(folder)
    print_text(
        f"Written: {study}\nWritten: {readings}\nEdit both, then: ohmsworth answer {shlex.quote(str(folder))}"
    )


def schema(of: str) -> None:
    """Print the published schema of a command's JSON."""
    print_text(files("ohmsworth.report").joinpath(f"{of}.schema.json").read_text("utf-8").rstrip())


def refusal(faults: tuple[Fault, ...]) -> None:
    """Print a refusal as JSON."""
    listed = [{"where": f.where, "found": f.found, "expected": f.expected, "mend": f.mend} for f in faults]
    print_json({"format": REFUSAL_FORMAT, "faults": listed})


def print_json(data: dict[str, Any]) -> None:
    """Print data for other programs."""
    text = json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False)
    if _shown(text) != text:  # nothing may be lost in data: what the output cannot show is escaped
        text = json.dumps(data, indent=1, allow_nan=False)
    print_text(text)


def print_text(text: str) -> None:
    """Print words; what the output cannot show becomes a question mark."""
    if sys.stdout is not None:
        sys.stdout.write(_shown(text) + "\n")


def _shown(text: str) -> str:
    """`text` with question marks for what the output cannot show."""
    encoding = (sys.stdout and sys.stdout.encoding) or "utf-8"
    return text.encode(encoding, "replace").decode(encoding)


def terminal_width() -> int:
    """Columns to fill."""
    return max(60, min(shutil.get_terminal_size((100, 24)).columns, 140))
