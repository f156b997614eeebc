"""Studies, cables, and whole records, from files that were sent."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from shutil import rmtree
from typing import TYPE_CHECKING, ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.aside import Sending, aside_of
from ohmsworth.web.at_hand import go_to, keeping_of, shop_of, who
from ohmsworth.web.cables.frame import cable_desk
from ohmsworth.web.forms import Posted, PostedFolders, SentFile
from ohmsworth.web.office import need_office
from ohmsworth.web.pages import Page, show
from ohmsworth.web.papers.at_hand import papers_at
from ohmsworth.work.faces import faces_by
from ohmsworth.work.own_times import zone_assumed
from ohmsworth.work.records import RecordsFault
from ohmsworth.work.restore_shop import restore_shop
from ohmsworth.work.take_in import TakenIn, take_in

if TYPE_CHECKING:
    from ohmsworth.work.builds.taking_in import BuiltTaken

pages = APIRouter(prefix="/records")
_SQLITE, _ZIP = b"SQLite format 3\0", b"PK\x03\x04"


@dataclass(frozen=True, kw_only=True)
class TakenInPage(Page):
    """What came of each folder; `held` is the word under which what was edited waits for a reason."""

    template: ClassVar[str] = "taken_in.html.j2"
    place: ClassVar[str] = "Records"

    results: tuple[TakenIn, ...]
    cables: tuple[BuiltTaken, ...]
    zone: str
    whole: bool
    held: str
    reason_missing: bool


@pages.post("/take-in")
def take(request: Request, sent: PostedFolders) -> Response:
    """Take in every study and every cable among the files; one that is refused stops no other."""
    if not sent.sent:
        raise _refused("the files", "none", "files or a folder", "Choose them, then send them again.")
    keeping, aside = keeping_of(request), aside_of(request)
    root = aside.folder()
    held = ""
    cables: tuple[BuiltTaken, ...] = ()
    try:
        found = keeping.lay_out(root, [(one.name, one.content) for one in sent.sent])
        results = _taken(request, Sending(root, found.studies), None)
        if found.cables:
            cables = _built(request, found.cables)
        if any(one.edited for one in results):
            held = aside.hold(Sending(root, found.studies))
    finally:
        if not held:
            rmtree(root, ignore_errors=True)
    return _told(request, (results, cables), found.whole, held)


@pages.post("/take-in/again")
def take_again(request: Request, sent: Posted) -> Response:
    """Take what was edited in one of the folders as corrections."""
    word, name, reason = sent.text("held"), sent.text("name"), sent.text("reason")
    held = aside_of(request).held(word)
    if held is None or name not in held.studies:
        mend = "Send the folder again, then give the reason."
        raise _refused("the folder", "no longer held here", "the folder that was sent just before", mend)
    one = Sending(held.root, {name: held.studies[name]})
    results = _taken(request, one, reason or None)
    return _told(request, (results, ()), False, word if results[0].edited else "", not reason)


def _taken(request: Request, sending: Sending, corrections: str | None) -> tuple[TakenIn, ...]:
    keeping = keeping_of(request)
    return take_in(
        shop_of(request).records,
        sending.studies,
        lambda path: keeping.read_study(path, sending.root),
        keeping.with_history,
        who(request),
        corrections,
    )


def _built(request: Request, folders: Mapping[str, Path]) -> tuple[BuiltTaken, ...]:
    from ohmsworth.work.builds.taking_in import take_in_built  # brings the computing along

    read = keeping_of(request).read_built
    return take_in_built(cable_desk(request), folders, read, papers_at(request).reader, who(request))


def _told(
    request: Request,
    came: tuple[Sequence[TakenIn], Sequence[BuiltTaken]],
    whole: bool,
    held: str,
    reason_missing: bool = False,
) -> Response:
    """What came of studies and of cables."""
    results, cables = tuple(came[0]), tuple(came[1])
    taken = [one.study is not None for one in results] + [one.found is not None for one in cables]
    page = TakenInPage(
        title="Taken in" if any(taken) else "Nothing was taken in",
        results=results,
        cables=cables,
        zone=zone_assumed(shop_of(request).clock().astimezone()),
        whole=whole,
        held=held,
        reason_missing=reason_missing,
    )
    return show(request, page, 422 if whole or not all(taken) else 200)


@pages.post("/restore")
def restore(request: Request, sent: Posted) -> Response:
    """Fill empty records from a copy or a whole export."""
    need_office(request)
    records = shop_of(request).records
    if records.count() or records.settings():
        mend = (
            "Fill new ones before anybody signs in, for a sign-in makes a person's card: ohmsworth records restore COPY.sqlite "
            "--records NEW (or records import EXPORT.zip --records NEW), then start the bench with --records NEW."
        )
        raise _refused("the records", "cards or settings in them", "records that are still empty", mend)
    file = sent.files.get("file")
    if file is None:
        raise _refused("the file", "none", "a copy or a whole export", "Choose it, then send it again.")
    folder = aside_of(request).folder()
    try:
        path = folder / "sent"
        path.write_bytes(file.content)
        _fill(request, file, path)
    finally:
        rmtree(folder, ignore_errors=True)
    return go_to(f"/records?restored={records.count()}")


def _fill(request: Request, file: SentFile, path: Path) -> None:
    keeping = keeping_of(request)
    if file.content.startswith(_SQLITE):
        try:
            keeping.restore(path)
        except RecordsFault as fault:
            mend = "Nothing was restored. Take another copy."
            raise _refused(
                "the copy", str(fault).replace(str(path), file.name), "a sound copy", mend
            ) from fault
    elif file.content.startswith(_ZIP):
        with keeping.open_shop(path) as (cards, settings, content):
            shop = shop_of(request)
            restore_shop(shop.records, cards, settings, content, who(request), faces_by(shop.cables))
    else:
        mend = "Take a file that 'Make a copy' or 'Everything as files' has made."
        raise _refused("the file", "neither of them", "a copy (.sqlite) or a whole export (.zip)", mend)


def _refused(where: str, found: str, expected: str, mend: str) -> InputRefused:
    return InputRefused((Fault(where, found, expected, mend),))
