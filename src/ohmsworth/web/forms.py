"""What a form sent, read once: text by field, and files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import UploadFile

from ohmsworth.errors import Fault, InputRefused, shorten

#: More text than this in one field is a slip of the clipboard.
LONGEST = 200_000
#: Files in the folders that are sent at once.
MOST_FILES = 2000


@dataclass(frozen=True, slots=True)
class SentFile:
    """A file that came with a form."""

    name: str
    media_type: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Sent:
    """The fields of a form: the first value of each, all values of each, the files."""

    first: Mapping[str, str]
    every: Mapping[str, tuple[str, ...]]
    files: Mapping[str, SentFile] = field(default_factory=dict)
    #: All files in the order in which they came.
    sent: tuple[SentFile, ...] = ()

    def text(self, name: str) -> str:
        """What stands in a field, without outer blanks; "" where it was not sent."""
        return self.first.get(name, "").strip()

    def number(self, name: str) -> int | None:
        """A whole number that a page has put into a hidden field; None for anything else."""
        text = self.text(name)
        return int(text) if text.isascii() and text.isdigit() and len(text) < 19 else None


async def read_form(request: Request) -> Sent:
    """Read the form of `request`."""
    return await _read(request, 20)


async def read_folders(request: Request) -> Sent:
    """Read a form with folders in it."""
    return await _read(request, MOST_FILES)


async def _read(request: Request, most_files: int) -> Sent:
    every: dict[str, list[str]] = {}
    files: dict[str, SentFile] = {}
    sent: list[SentFile] = []
    async with request.form(max_files=most_files, max_fields=2000) as form:
        for name, value in form.multi_items():
            if isinstance(value, UploadFile):
                if value.filename:
                    content = await value.read()
                    files[name] = SentFile(value.filename, value.content_type or "", content)
                    sent.append(files[name])
            else:
                refuse_long(name, value)
                every.setdefault(name, []).append(value)
    found = Sent(
        {name: values[0] for name, values in every.items()},
        {name: tuple(values) for name, values in every.items()},
        files,
        tuple(sent),
    )
    request.state.sent = found  # for the page that says why it could not be kept
    return found


def refuse_long(name: str, value: str) -> None:
    """Refuse what is too long, rather than keep a part of it."""
    if len(value) > LONGEST:
        mend = "Nothing was changed. Send the whole as a file, or shorten it."
        raise InputRefused(
            (Fault(shorten(name), f"{len(value)} characters", f"at most {LONGEST} in one field", mend),)
        )


#: A page handler's argument that holds the form it was sent.
Posted = Annotated[Sent, Depends(read_form)]
#: The same where whole folders may be sent.
PostedFolders = Annotated[Sent, Depends(read_folders)]
