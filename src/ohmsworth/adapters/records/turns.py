"""One writer at a time, among the threads of this program and among programs.

SQLite lets one connection write at a time by itself, but what a writer wrote may be folded back into the file by another
while a third begins its log anew. SQLite up to 3.51.2 (without the corrections 3.50.7 and 3.44.6) can then lose lines:
https://sqlite.org/wal.html#walresetbug. Where a turn lasts until after that folding, the two never meet. The turn is
a lock of the system on a file beside the records, so it ends with the program that holds it.
"""

from __future__ import annotations

import os
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

#: Seconds between two looks at whether another program has let go.
_PAUSE = 0.002

if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> None:
        os.lseek(handle, 0, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)

    def _give_back(handle: int) -> None:
        os.lseek(handle, 0, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def _give_back(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_UN)


class TurnNotCome(TimeoutError):
    """Another writer did not let go in time."""


class Turns:
    """Turns at the records in `path`; the file with the lock is made with the first one and stays."""

    def __init__(self, path: Path) -> None:
        self._path = lock_file(path)
        self._threads = threading.Lock()
        self._handle: int | None = None

    @contextmanager
    def turn(self, patience: float) -> Iterator[None]:
        """Hold the turn.

        Raises
        ------
        TurnNotCome
            When others hold it for `patience` seconds.
        OSError
            When the file with the lock cannot be made, or the system has no locks there.
        """
        until = time.monotonic() + patience
        if not self._threads.acquire(timeout=patience):
            raise TurnNotCome("another thread writes")
        try:
            handle = self._wait(until)
            try:
                yield
            finally:
                _give_back(handle)
        finally:
            self._threads.release()

    def close(self) -> None:
        """Let go of the file with the lock, once nobody holds the turn."""
        with self._threads:
            if self._handle is not None:
                os.close(self._handle)
                self._handle = None

    def _wait(self, until: float) -> int:
        if self._handle is None:
            self._handle = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o600)
        while True:
            try:
                _take(self._handle)
            except (BlockingIOError, PermissionError) as error:
                if time.monotonic() > until:
                    raise TurnNotCome("another program writes") from error
                time.sleep(_PAUSE)
            else:
                return self._handle


def lock_file(path: Path) -> Path:
    """The file with the lock, beside the records."""
    return path.with_name(f"{path.name}.lock")
