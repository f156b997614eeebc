"""A folder of copies of the records."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from ohmsworth.adapters.records.place import make_folder, see_parent
from ohmsworth.work.backups import Copy, moment_of
from ohmsworth.work.records import RecordsFault


class FolderOfCopies:
    """`ohmsworth.work.backups.CopyFolder` on disk.

    Parameters
    ----------
    path
        Of the folder, which is made with the first copy; the folder that it is in has to be there, for a drive that is not
        plugged in must not be taken for a new place.
    """

    def __init__(self, path: Path) -> None:
        self._path = path

    @property
    def place(self) -> str:
        """See `CopyFolder.place`."""
        return str(self._path)

    def copies(self) -> tuple[Copy, ...]:
        """See `CopyFolder.copies`."""
        try:
            if not self._path.exists():
                see_parent(self._path)
                return ()
            return tuple(
                Copy(entry.name, at, entry.stat().st_size)
                for entry in sorted(self._path.iterdir())
                if (at := moment_of(entry.name)) is not None and entry.is_file()
            )
        except RecordsFault:
            raise
        except OSError as error:
            raise self._unread(error) from error

    def make(self, name: str, write: Callable[[Path], None]) -> Copy:
        """See `CopyFolder.make`."""
        place = self.path(name)
        try:
            make_folder(self._path)
            write(place)
            at = moment_of(name)
            if at is None:
                raise RecordsFault(f"{name} is no name of a copy.")
            return Copy(name, at, place.stat().st_size)
        except RecordsFault:
            raise
        except OSError as error:
            raise self._unread(error) from error

    def path(self, name: str) -> Path:
        """See `CopyFolder.path`."""
        if moment_of(name) is None:
            raise RecordsFault("There is no copy of that name.")
        return self._path / name

    def remove(self, name: str) -> None:
        """See `CopyFolder.remove`."""
        try:
            self.path(name).unlink(missing_ok=True)
        except OSError as error:
            raise self._unread(error) from error

    def _unread(self, error: OSError) -> RecordsFault:
        return RecordsFault(
            f"The folder of copies {self._path} cannot be used: {error.strerror or error}. The records themselves are untouched. "
            f"Choose another folder under Settings, or plug in the drive that it is on."
        )
