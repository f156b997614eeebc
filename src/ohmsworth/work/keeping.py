"""What takes the records out and in for a page: the port of the pages to the files."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TypeAlias

from ohmsworth.errors import OutputFault

# For their names alone: the first page of the day does not wait for what they bring along.
if TYPE_CHECKING:
    from ohmsworth.work.backups import CopiesIn
    from ohmsworth.work.builds.folder import BuiltFolder
    from ohmsworth.work.export_shop import ShopFormat
    from ohmsworth.work.import_study import WithHistory
    from ohmsworth.work.portable import CardLog, StudyFiles, StudyFolder

#: The cards, the settings, and what reads a file by its path.
WholeShop: TypeAlias = "tuple[dict[int, CardLog], dict[str, str], Callable[[str], bytes]]"


@dataclass(frozen=True, slots=True)
class LaidOut:
    """What was found in files that were sent: folders of studies and of cables by name; and whether a whole export is there."""

    studies: Mapping[str, Path]
    cables: Mapping[str, Path]
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Keeping:
    """What the pages about the records call.

    Parameters
    ----------
    place
        Where the records are, in words; "" on a bench that was not told.
    copies
        The folder of copies that a setting names.
    lay_out
        Lays files (by name or path) into an empty folder, zip files unpacked, and says which studies and cables they are; refuses
        whatever leads elsewhere or was made to fill a disk.
    read_study
        Reads one of those folders; past studies that it names have to be in the folder given second.
    read_built
        Reads the folder of a cable.
    record_files, with_history
        A study's log as files; a study.toml with past studies called otherwise.
    shop_format
        How a whole shop is written.
    write_zip
        Writes files by their paths as a zip file.
    open_shop
        Opens a whole export.
    restore
        Fills these records, while they are empty, from a copy.
    """

    place: str
    copies: CopiesIn
    lay_out: Callable[[Path, Sequence[tuple[str, bytes]]], LaidOut]
    read_study: Callable[[Path, Path], StudyFolder]
    read_built: Callable[[Path], BuiltFolder]
    record_files: StudyFiles
    with_history: WithHistory
    shop_format: Callable[[], ShopFormat]
    write_zip: Callable[[Path, Iterable[tuple[str, bytes]]], None]
    open_shop: Callable[[Path], AbstractContextManager[WholeShop]]
    restore: Callable[[Path], None]


def _unkept(*_: object, **__: object) -> NoReturn:
    raise OutputFault(
        "This bench was started without what takes records out and in. Start it with 'ohmsworth bench'."
    )


#: For a bench that takes nothing out or in.
NO_KEEPING = Keeping(
    "", _unkept, _unkept, _unkept, _unkept, _unkept, _unkept, _unkept, _unkept, _unkept, _unkept
)  # fmt: skip
