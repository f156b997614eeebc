"""Files that are set aside for a while: what is about to be sent, and what was sent and is looked at."""

from __future__ import annotations

import tempfile
import weakref
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from secrets import token_urlsafe
from shutil import rmtree
from threading import Lock
from typing import cast

from fastapi import Request
from fastapi.responses import FileResponse, Response
from starlette.background import BackgroundTask

#: Sendings that are kept until a reason was given for what was edited in them.
MOST = 8


@dataclass(frozen=True, slots=True)
class Sending:
    """Folders of studies that were sent, by name, below `root`."""

    root: Path
    studies: Mapping[str, Path]


class Aside:
    """Folders for this user alone, all of which are gone when the bench ends; safe between threads."""

    def __init__(self) -> None:
        self._root: Path | None = None
        self._held: OrderedDict[str, Sending] = OrderedDict()
        self._lock = Lock()

    def folder(self) -> Path:
        """A new empty folder."""
        with self._lock:
            if self._root is None:
                self._root = Path(tempfile.mkdtemp(prefix="ohmsworth-"))
                weakref.finalize(self, rmtree, self._root, True)
            return Path(tempfile.mkdtemp(dir=self._root))

    def hold(self, sending: Sending) -> str:
        """Keep `sending` under a word that nobody guesses; the oldest goes where there are many."""
        word = token_urlsafe(16)
        with self._lock:
            self._held[word] = sending
            gone = [self._held.popitem(last=False)[1] for _ in range(len(self._held) - MOST)]
        for one in gone:
            rmtree(one.root, ignore_errors=True)
        return word

    def held(self, word: str) -> Sending | None:
        """What is kept under `word`; None where it is gone."""
        with self._lock:
            return self._held.get(word)

    def close(self) -> None:
        """Remove everything."""
        with self._lock:
            root, self._root = self._root, None
            self._held.clear()
        if root is not None:
            rmtree(root, ignore_errors=True)


def aside_of(request: Request) -> Aside:
    """Where files are set aside."""
    return cast(Aside, request.app.state.aside)


def packed(
    request: Request, write: Callable[[Path], object], name: str, media_type: str = "application/zip"
) -> Response:
    """What `write` writes as a file that the browser keeps, sent from the disk and then removed."""
    folder = aside_of(request).folder()
    try:
        write(folder / name)
    except BaseException:
        rmtree(folder, ignore_errors=True)
        raise
    done = BackgroundTask(rmtree, folder, True)
    return FileResponse(folder / name, media_type=media_type, filename=name, background=done)
