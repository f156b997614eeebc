"""The one place that picks adapters for the ports of the use cases."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import AbstractContextManager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.readings.study import Study, UseRequest
from ohmsworth.report.document import Document
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.ports import LoadedBench, LoadedLot, LoadedNetwork, LoadedStudy

if TYPE_CHECKING:
    from ohmsworth.consequence.twoport import OnePort, TwoPort
    from ohmsworth.work.accounts import Store
    from ohmsworth.work.passwords import Hasher
    from ohmsworth.work.records import Records


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


def open_records(address: str) -> AbstractContextManager[Records]:
    """The shop's records at a path or an address of PostgreSQL; made, or brought up to date, where needed."""
    from ohmsworth.adapters.records import open_records as open_them

    return open_them(address)


def open_store(address: str) -> AbstractContextManager[Store]:
    """The records together with the accounts that may use them."""
    from ohmsworth.adapters.records import open_store as open_it

    return open_it(address)


def restore_records(backup: Path, address: str) -> None:
    """Copy every row of a backup into records that are still empty."""
    from ohmsworth.adapters.records import restore_records as restore

    restore(backup, address)


def default_records() -> str:
    """Where this user's records are when nobody says: OHMSWORTH_RECORDS, else the folder that the system has for such data."""
    import os

    from platformdirs import user_data_dir

    return os.environ.get("OHMSWORTH_RECORDS") or str(
        Path(user_data_dir("ohmsworth", False)) / "shop.records"
    )


def password_hasher() -> Hasher:
    """What makes and checks the hashes of passwords."""
    from ohmsworth.adapters.passwords import Argon2Hasher

    return Argon2Hasher()


def typeface_folder() -> Path:
    """Where the files of the pages' typeface are."""
    from ohmsworth.adapters.render.palette import FONT_FOLDER

    return FONT_FOLDER


def warm_up() -> None:
    """Load what answers and reports need, so that nobody waits for it with the first answer."""
    import ohmsworth.adapters.files
    import ohmsworth.adapters.render
    import ohmsworth.work.answer_study
    import ohmsworth.work.report_study  # noqa: F401


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
