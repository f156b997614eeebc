"""The one place that picks adapters for the ports of the use cases."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.readings.study import Study, UseRequest
from ohmsworth.report.document import Document
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.current_source import LEASE_SECONDS, CurrentSource
from ohmsworth.work.instruments import Meter, MeterProfile, Profiles, SourceProfile
from ohmsworth.work.ports import FileContent, LoadedBench, LoadedLot, LoadedNetwork, LoadedStudy, PastFolder
from ohmsworth.work.source_limits import SourceLimits

# Adapters are imported where they are used: the command line must start before the heavy libraries load.
if TYPE_CHECKING:
    from ohmsworth.adapters.simulated import PracticeBench
    from ohmsworth.consequence.twoport import OnePort, TwoPort
    from ohmsworth.errors import Fault
    from ohmsworth.materials import Construction
    from ohmsworth.work.accounts import Store
    from ohmsworth.work.backups import CopyFolder
    from ohmsworth.work.drawing import Drawing
    from ohmsworth.work.export_shop import ShopFormat
    from ohmsworth.work.keeping import Keeping
    from ohmsworth.work.passwords import Hasher
    from ohmsworth.work.portable import CardLog, StudyFolder, StudyLog
    from ohmsworth.work.records import Records
    from ohmsworth.work.shop import Shop
    from ohmsworth.work.study_form import StudyForm
    from ohmsworth.work.study_log import StudyState


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


def folder_of(state: StudyState, content: FileContent | None = None) -> dict[str, bytes]:
    """The files of the folder as which a study of the records is answered and exported."""
    from ohmsworth.adapters.files import folder_of as make

    return make(state, content)


def read_folder(files: Mapping[str, bytes], past: PastFolder | None = None) -> LoadedStudy:
    """Read a study folder from its files; `past` gives those of the past studies that it names."""
    from ohmsworth.adapters.files import read_folder as read

    return read(files, past)


def read_question_text(toml: str, files: Mapping[str, bytes] | None = None) -> Study:
    """Read a study.toml from its text, with the files that stand beside it."""
    from ohmsworth.adapters.files import read_question_text as read

    return read(toml, files)


def write_question(form: StudyForm) -> str:
    """The text of a study.toml for a filled-in form."""
    from ohmsworth.adapters.files import write_question as write

    return write(form)


def form_of(toml: str) -> StudyForm:
    """What a study.toml says of the fields of the form."""
    from ohmsworth.adapters.files import form_of as read

    return read(toml)


def revise_question(toml: str, form: StudyForm) -> str:
    """A study.toml with what the form says otherwise changed, and the rest of the text as it was."""
    from ohmsworth.adapters.files import revise

    return revise(toml, form)


def field_of(fault: Fault) -> str | None:
    """The field of the form that a fault of study.toml is about."""
    from ohmsworth.adapters.files import field_of as find

    return find(fault)


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


def fill_demo_records(address: str, earlier: Path, studies: Sequence[Path]) -> int:
    """Fill records with the shop of the invented scenario; the number of cards. Studies are taken in from their folders."""
    from ohmsworth.adapters.files import read_study_folder as read
    from ohmsworth.adapters.simulated.records import invented_shop, write_earlier
    from ohmsworth.work.fill_shop import fill_shop

    write_earlier(earlier)
    with open_records(address) as records:
        folders = [read(folder) for folder in (earlier, *studies)]
        return fill_shop(shop(records), invented_shop(), folders, with_history)


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


def load_profiles(path: Path | None = None) -> Profiles:
    """How instruments are spoken to: the profiles that come with the program, and those of the shop's own file."""
    from ohmsworth.adapters.files import load_profiles as load

    return load(path)


def serial_ports() -> tuple[tuple[str, str], ...]:
    """Serial ports of this computer, name and description; nothing is opened."""
    from ohmsworth.adapters.instruments import serial_ports as find

    return find()


def open_meter(profile: MeterProfile, address: str, range_number: int | None = None) -> Meter:
    """Open the meter at an address as a person typed it."""
    from ohmsworth.adapters.instruments import open_meter as opened

    return opened(profile, address, range_number=range_number)


def open_source(
    profile: SourceProfile, address: str, limits: SourceLimits | None, lease_seconds: float = LEASE_SECONDS
) -> CurrentSource:
    """Open a current source, off, within stated limits; it is watched from now on."""
    from ohmsworth.adapters.instruments import open_source as opened

    return opened(profile, address, limits, lease_seconds=lease_seconds)


def guard_current() -> None:
    """Have every source that is opened later switched off when this program is ended from outside.

    Called once in the main thread, before a server installs handlers of signals of its own.
    """
    from ohmsworth.adapters.instruments import GUARD

    GUARD.catch_signals()


def switch_off_all(why: str) -> bool:
    """Switch every source off, as when a server stops; False when one could not be confirmed."""
    from ohmsworth.adapters.instruments import GUARD

    return GUARD.switch_all_off(why)


def practice_bench(seed: int) -> PracticeBench:
    """Start instruments for practice on this computer; they end when the bench is closed."""
    import time

    from ohmsworth.adapters.simulated import PracticeBench, ScpiBench

    return PracticeBench(ScpiBench(seed, time.monotonic))


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


def drawing() -> Drawing:
    """The writers for pages; what takes long is done in a process of its own once `draw_apart` was called."""
    from ohmsworth.work.drawing import Drawing

    def pdf(document: Document, timestamp: datetime) -> bytes:
        from ohmsworth.adapters.render import apart, to_pdf

        return apart(to_pdf, document, timestamp)

    return Drawing(as_fragment, as_inline, as_picture, report_style, as_html, pdf, as_touchstone, filled_use)


def draw_apart() -> None:
    """Have everything that takes long to draw done in another process from now on."""
    from ohmsworth.adapters.render import load_engine, start_worker

    start_worker(load_engine)


def shop(records: Records) -> Shop:
    """The ports of the use cases that keep records."""
    from datetime import UTC
    from uuid import uuid4

    from ohmsworth.adapters import files
    from ohmsworth.work.shop import Shop

    return Shop(
        records,
        clock=lambda: datetime.now(UTC),
        new_key=lambda: uuid4().hex,
        folder_of=files.folder_of,
        read_folder=files.read_folder,
        read_question=files.read_question_text,
        write_question=files.write_question,
        form_of=files.form_of,
        revise_question=files.revise,
        field_of=files.field_of,
        read_bench=files.read_bench_folder,
    )


def read_study_folder(folder: Path) -> StudyFolder:
    """Read a study's folder as what the records take in."""
    from ohmsworth.adapters.files import read_study_folder as read

    return read(folder)


def record_files(log: StudyLog) -> dict[str, bytes]:
    """A study's whole log as the files that stand beside its study.toml."""
    from ohmsworth.adapters.files import record_files as make

    return make(log)


def with_history(toml: str, names: Mapping[str, str]) -> str:
    """A study.toml with the past studies that it names called otherwise."""
    from ohmsworth.adapters.files import with_history as write

    return write(toml, names)


def shop_format() -> ShopFormat:
    """How a whole shop is written as files."""
    from ohmsworth.adapters import files
    from ohmsworth.work.export_shop import ShopFormat

    return ShopFormat(
        files.folder_of,
        files.record_files,
        files.shop_bytes,
        files.settings_bytes,
        files.safe_name,
        files.content_name,
    )


def write_tree(folder: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Write files by their paths into a new or empty folder, all or none."""
    from ohmsworth.adapters.files import write_tree as write

    write(folder, files)


def write_zip(path: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Write files by their paths as a zip file."""
    from ohmsworth.adapters.files import write_zip as write

    write(path, files)


@contextmanager
def open_shop(
    path: Path,
) -> Iterator[tuple[dict[int, CardLog], dict[str, str], Callable[[str], bytes]]]:
    """The cards, the settings and the files of a whole shop's export, a folder or a zip file."""
    from ohmsworth.adapters.files import open_shop as opened

    with opened(path) as found:
        yield found


def keeping(records: str, place: str, beside: Path) -> Keeping:
    """What takes records out and in for the pages: `place` is where they are, copies go `beside` unless settled otherwise."""
    from ohmsworth.adapters import files
    from ohmsworth.work.keeping import Keeping

    def copies(folder: str) -> CopyFolder:
        from ohmsworth.adapters.records import FolderOfCopies

        return FolderOfCopies(Path(folder) if folder else beside)

    return Keeping(
        place,
        copies,
        files.lay_out,
        files.read_laid_out,
        files.record_files,
        files.with_history,
        shop_format,
        files.write_zip,
        files.open_shop,
        lambda backup: restore_records(backup, records),
    )
