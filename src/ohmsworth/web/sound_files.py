"""Recordings that a form sends: copied to the disk piece by piece, and gone when they are answered."""

from __future__ import annotations

from collections.abc import AsyncIterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from shutil import rmtree
from typing import Annotated

from fastapi import Depends, Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile

from ohmsworth.errors import shorten
from ohmsworth.web.aside import aside_of
from ohmsworth.web.forms import Sent, refuse_long
from ohmsworth.work.tone_files import KINDS, Kind
from ohmsworth.work.uploads import Upload

#: Bytes that are copied at a time.
PIECE = 1 << 20
LONGEST_NAME = 120


@dataclass(frozen=True, slots=True)
class SentSounds:
    """The texts of a form, and its recordings by how the contact was connected."""

    form: Sent
    uploads: Mapping[Kind, tuple[Upload, ...]]


async def read_sounds(request: Request) -> AsyncIterator[SentSounds]:
    """Read a form with recordings in it; they are there until the request is answered."""
    folder = await run_in_threadpool(aside_of(request).folder)
    try:
        yield await _read(request, folder)
    finally:
        await run_in_threadpool(rmtree, folder, True)


async def _read(request: Request, folder: Path) -> SentSounds:
    every: dict[str, list[str]] = {}
    uploads: dict[Kind, list[Upload]] = {}
    # Larger files are on the disk already while the form is read.
    async with request.form(max_files=4 * len(KINDS), max_fields=100) as form:
        for name, value in form.multi_items():
            if isinstance(value, UploadFile):
                kind = next((one for one in KINDS if one == name), None)
                if value.filename and kind is not None:
                    path = folder / f"sent-{len(list(folder.iterdir())):02}.sound"
                    await _copied(value, path)
                    uploads.setdefault(kind, []).append(Upload(_plain(value.filename), path))
            else:
                refuse_long(name, value)
                every.setdefault(name, []).append(value)
    texts = {name: tuple(values) for name, values in every.items()}
    return SentSounds(
        Sent({name: values[0] for name, values in texts.items()}, texts),
        {kind: tuple(files) for kind, files in uploads.items()},
    )


async def _copied(file: UploadFile, path: Path) -> None:
    with await run_in_threadpool(path.open, "wb") as out:
        while piece := await file.read(PIECE):
            await run_in_threadpool(out.write, piece)


def _plain(name: str) -> str:
    """The file's own name, without the folders that some browsers send."""
    return shorten(name.replace("\\", "/").rsplit("/", 1)[-1], LONGEST_NAME)[1:-1]


#: A page handler's argument that holds a form with recordings.
PostedSounds = Annotated[SentSounds, Depends(read_sounds)]
