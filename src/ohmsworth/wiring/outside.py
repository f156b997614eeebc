"""Adapters of records that leave as files and come back."""

from __future__ import annotations

from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.wiring.papers import paper_name
from ohmsworth.wiring.records import restore_records

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from ohmsworth.work.backups import CopyFolder
    from ohmsworth.work.builds.folder import BuiltFolder
    from ohmsworth.work.export_shop import ShopFormat
    from ohmsworth.work.keeping import Keeping, LaidOut
    from ohmsworth.work.portable import CardLog, StudyFolder, StudyLog


def read_study_folder(folder: Path) -> StudyFolder:
    """Read a study's folder as what the records take in."""
    from ohmsworth.adapters.files import read_study_folder as read
    from ohmsworth.wiring.recordings import open_recording

    return read(folder, open_recording)


def read_built(folder: Path) -> BuiltFolder:
    """Read a cable's folder as what the records take in."""
    from ohmsworth.adapters.files import read_built as read

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
        files.written_test,
        paper_name,
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


def lay_out(folder: Path, sent: Sequence[tuple[str, bytes]]) -> LaidOut:
    """Lay files that were sent into an empty folder, and say which studies and cables they are."""
    from ohmsworth.adapters.files import lay_out as lay

    return lay(folder, sent)


def read_laid_out(folder: Path, others: Path) -> StudyFolder:
    """Read one of the studies that were laid out; past studies that it names are in `others`."""
    from ohmsworth.adapters.files import read_laid_out as read
    from ohmsworth.wiring.recordings import open_recording

    return read(folder, others, open_recording)


def keeping(records: str, place: str, beside: Path) -> Keeping:
    """What takes records out and in for the pages: `place` is where they are, copies go `beside` unless settled otherwise."""
    from ohmsworth.work.keeping import Keeping

    def copies(folder: str) -> CopyFolder:
        from ohmsworth.adapters.records import FolderOfCopies

        return FolderOfCopies(Path(folder) if folder else beside)

    return Keeping(
        place,
        copies,
        lay_out,
        read_laid_out,
        read_built,
        record_files,
        with_history,
        shop_format,
        write_zip,
        open_shop,
        lambda backup: restore_records(backup, records),
    )
