"""Copies of a records file, made while others go on writing."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

from ohmsworth.work.records import RecordsFault


def copy_file(source: Path, target: Path) -> None:
    """A whole copy of the file `source` under the name `target`, as one file that needs no other beside it.

    Raises
    ------
    RecordsFault
        When it cannot be written.
    """

    def fill(draft: Path) -> None:
        with (
            closing(sqlite3.connect(source.as_uri() + "?mode=rw", uri=True)) as read,
            closing(sqlite3.connect(draft)) as written,
        ):
            read.backup(written)

    write_whole(target, fill)


def write_whole(target: Path, fill: Callable[[Path], None]) -> None:
    """Have `fill` write a file under another name, see that it is sound, and only then give it its name.

    Raises
    ------
    RecordsFault
        When it cannot be written; what stood under the name before is still there then.
    """
    draft: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
        draft = Path(name)
        os.close(handle)
        fill(draft)
        _settle(draft)
        draft.replace(target)
    except (OSError, sqlite3.Error) as error:
        if isinstance(error, RecordsFault):
            raise
        raise RecordsFault(
            f"The copy {target} cannot be written: {getattr(error, 'strerror', None) or error}. The records themselves are "
            f"untouched. Choose another folder, or make room on the disk."
        ) from error
    finally:
        if draft is not None:
            # Where it has its name already, only what was beside it is left.
            for suffix in ("", "-wal", "-shm", "-journal", ".lock"):
                with suppress(OSError):
                    draft.with_name(draft.name + suffix).unlink(missing_ok=True)


def _settle(draft: Path) -> None:
    """One file without a log beside it, looked through and flushed."""
    with closing(sqlite3.connect(draft, isolation_level=None)) as copy:
        copy.execute("PRAGMA journal_mode=DELETE")
        found = copy.execute("PRAGMA integrity_check").fetchone()[0]
    if found != "ok":
        raise RecordsFault(f"The copy is not sound: {found}. The records may be damaged: look through them.")
    with draft.open("rb+") as file:
        os.fsync(file.fileno())
