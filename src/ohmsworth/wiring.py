"""The one place that picks adapters for the ports of the use cases."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.readings.study import Study, UseRequest
from ohmsworth.report.document import Document
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.ports import LoadedBench, LoadedLot, LoadedNetwork, LoadedStudy

if TYPE_CHECKING:
    from ohmsworth.consequence.twoport import OnePort, TwoPort
    from ohmsworth.materials import Construction
    from ohmsworth.work.drawing import Drawing


# Adapters are imported where they are used: the command line must start before the heavy libraries load.


def load_study(folder: Path) -> LoadedStudy:
    """Read a study folder."""
    from ohmsworth.adapters.files import load_study as load

    return load(folder)


def load_question(folder: Path) -> Study:
    """Read the question of a study folder, without its readings."""
    from ohmsworth.adapters.files import load_question as load

    return load(folder)


def load_bench(folder: Path) -> LoadedBench:
    """Read what a folder holds of the bench."""
    from ohmsworth.adapters.files import load_bench as load

    return load(folder)


def load_lot(folder: Path) -> LoadedLot:
    """Read a question about a lot, with the readings of its sample where there are any."""
    from ohmsworth.adapters.files import load_lot as load

    return load(folder)


def load_uses(path: Path) -> tuple[UseRequest, ...]:
    """Read the circuits of a file."""
    from ohmsworth.adapters.files import load_uses as load

    return load(path)


def typed_uses(kinds: Sequence[str], values: Sequence[str], folder: Path) -> tuple[UseRequest, ...]:
    """Circuits by kind, with values as they are typed."""
    from ohmsworth.adapters.files import typed_uses as read

    return read(kinds, values, folder)


def filled_use(kind: str, values: Mapping[str, str], own_cables: Sequence[Construction] = ()) -> UseRequest:
    """A circuit out of a form."""
    from ohmsworth.adapters.files import filled_use as fill

    return fill(kind, values, own_cables)


def write_new_study(folder: Path) -> tuple[Path, Path]:
    """Write a commented study to start from."""
    from ohmsworth.adapters.files import write_new_study as write

    return write(folder)


def write_file(path: Path, data: bytes) -> None:
    """Write a file whole or not at all."""
    from ohmsworth.adapters.files import write_file as write

    write(path, data)


def write_files(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write all of `files` whole, or none."""
    from ohmsworth.adapters.files import write_files as write

    write(files)


def load_network(path: Path) -> LoadedNetwork:
    """Read a Touchstone file of one or two ports."""
    from ohmsworth.adapters.files import read_touchstone

    return read_touchstone(path)


def as_touchstone(
    network: OnePort | TwoPort, reference: float | tuple[float, float] = 50.0, remarks: tuple[str, ...] = ()
) -> bytes:
    """The one-port or two-port as a Touchstone file."""
    from ohmsworth.adapters.files import write_touchstone

    return write_touchstone(network, reference, remarks)


def as_sheet(path: Path, rows: Sequence[SheetRow], study: Study) -> bytes:
    """The bench sheet as it is to be written to `path`."""
    from ohmsworth.adapters.files import sheet_bytes

    return sheet_bytes(path, rows, study)


def write_demo_study(folder: Path) -> None:
    """Write the invented scenario's study folder."""
    from ohmsworth.adapters.simulated import write_hall

    write_hall(folder)


def write_demo_shop(bench: Path, plan: Path, lot: Path) -> None:
    """Write the folders of the shop that measured the scenario: its bench, its next job, and a lot."""
    from ohmsworth.adapters.simulated import write_next_hall, write_shop_bench, write_shop_lot

    write_shop_bench(bench)
    write_next_hall(plan)
    write_shop_lot(lot)


def as_text(document: Document, width: int) -> str:
    """The document for a terminal."""
    from ohmsworth.adapters.render import to_text

    return to_text(document, width)


def as_html(document: Document) -> str:
    """The document as one self-contained page."""
    from ohmsworth.adapters.render import to_html

    return to_html(document)


def as_pdf(document: Document, timestamp: datetime) -> bytes:
    """The document as a tagged PDF."""
    from ohmsworth.adapters.render import to_pdf

    return to_pdf(document, timestamp)


def as_pictures(document: Document) -> tuple[tuple[str, bytes], ...]:
    """Every figure of the document as files: name and content of its drawing, its picture and its numbers."""
    from ohmsworth.adapters.render import picture_files

    return picture_files(document)


def as_fragment(
    document: Document,
    link_of: Callable[[str], str],
    level: int = 2,
    anchors: tuple[str, ...] = (),
    later: Callable[[str], str] | None = None,
) -> str:
    """The document for the inside of a page."""
    from ohmsworth.adapters.render import to_fragment

    return to_fragment(document, link_of, level, anchors, later)


def as_inline(document: Document, name: str) -> str | None:
    """One drawing of the document for the inside of a page; None where there is none called `name`."""
    from ohmsworth.adapters.render import to_inline

    return to_inline(document, name)


def report_style() -> str:
    """The style sheet of fragments."""
    from ohmsworth.adapters.render import report_style as style

    return style()


def typeface_folder() -> Path:
    """Where the files of the typeface stand."""
    from ohmsworth.adapters.render import typeface_folder as folder

    return folder()


def as_picture(document: Document, name: str) -> bytes | None:
    """The file `name`, such as "ladder.svg", of the document's pictures; None where there is none."""
    from ohmsworth.adapters.render import named_file

    return named_file(document, name)


def drawing(own_process: bool = True) -> Drawing:
    """The writers for pages; what takes long is done in a process of its own from now on, unless that is not wanted."""
    from ohmsworth.adapters.render import apart, load_engine, start_worker, to_pdf
    from ohmsworth.work.drawing import Drawing

    if own_process:
        start_worker(load_engine)

    def pdf(document: Document, timestamp: datetime) -> bytes:
        return apart(to_pdf, document, timestamp)

    return Drawing(as_fragment, as_inline, as_picture, report_style, as_html, pdf, as_touchstone, filled_use)
