"""The copies of the records as pages tell of them."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import Request

from ohmsworth.web.at_hand import keeping_of, shop_of
from ohmsworth.work.backups import Copy, CopyFolder, newest, told_if_old
from ohmsworth.work.records import RecordsFault
from ohmsworth.work.shop_settings import read_settings


@dataclass(frozen=True, slots=True)
class Copies:
    """The folder and its copies, the newest first; `fault` says why it cannot be looked at, `old` that it is time."""

    place: str
    copies: tuple[Copy, ...] = ()
    newest: Copy | None = None
    fault: str = ""
    old: str = ""


def copy_folder(request: Request) -> CopyFolder:
    """The folder of copies, as the settings say."""
    return keeping_of(request).copies(read_settings(shop_of(request).records).copies_folder)


def copies_of(request: Request) -> Copies:
    """What there is of copies."""
    shop = shop_of(request)
    if not keeping_of(request).place:
        return Copies("")
    folder, now = copy_folder(request), shop.clock()
    try:
        copies = tuple(sorted(folder.copies(), key=lambda copy: copy.at, reverse=True))
    except RecordsFault as fault:
        return Copies(folder.place, fault=str(fault), old=str(fault))
    return Copies(
        folder.place, copies, newest(copies, now), old=told_if_old(copies, now, shop.records.count())
    )


def copies_told(request: Request) -> str:
    """What Today says of copies: nothing where one was made within a week, or none is made here."""
    return copies_of(request).old
