"""Every row of a cable: withdrawn, put back, taken in from a file; and notes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.cables.frame import CablePage, RowInShort, cable_desk, cable_frame, in_short
from ohmsworth.web.drawing import to_keep
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import show
from ohmsworth.work.builds.sheet import sheet_rows
from ohmsworth.work.builds.writing import Sending, change_row, take_test, write_note
from ohmsworth.work.records import Line

pages = APIRouter(prefix="/cables/{cable}")


@dataclass(frozen=True, kw_only=True)
class RowsPage(CablePage):
    """Rows, the last first; `lines` gives the line of test.csv by the number of a row that counts."""

    template: ClassVar[str] = "cable_rows.html.j2"

    rows: tuple[RowInShort, ...]
    lines: Mapping[int, int]
    withdrawn: int
    notes: tuple[Line, ...]
    key: str
    faults: tuple[Fault, ...]


@pages.get("/rows")
def rows(request: Request, cable: int, new: int = -1, known: int = 0) -> Response:
    """The table; `new` and `known` say what a file brought."""
    notice = ""
    if 0 <= new < 10**6 and 0 <= known < 10**6:
        notice = f"Rows of the file that were new: {new}. Rows that stood here already: {known}."
    return show(request, _page(request, cable, notice))


def _page(request: Request, cable: int, notice: str = "", faults: tuple[Fault, ...] = ()) -> RowsPage:
    desk = cable_desk(request)
    state = desk.state(cable)
    frame = cable_frame(desk, cable, state, "Rows")
    return RowsPage(
        title=f"Rows of {frame.name}",
        notice=notice,
        cable=frame,
        rows=tuple(map(in_short, reversed(state.rows))),
        lines=state.line_of,
        withdrawn=sum(row.state == "withdrawn" for row in state.rows),
        notes=state.notes,
        key=shop_of(request).new_key(),
        faults=faults,
    )


@pages.post("/rows/{number}")
def change(request: Request, cable: int, number: int, sent: Posted) -> Response:
    """Withdraw a row, or put it back."""
    key = sent.text("key") or shop_of(request).new_key()
    try:
        change_row(
            cable_desk(request), cable, number, sent.text("change") == "back", sent.text("reason"),
            Sending(who(request), key),
        )  # fmt: skip
    except InputRefused as refused:
        return show(request, _page(request, cable, faults=refused.faults), 422)
    return go_to(f"/cables/{cable}/rows")


@pages.post("/test")
def take(request: Request, cable: int, sent: Posted) -> Response:
    """Take a test.csv in."""
    file, key = sent.files.get("file"), sent.text("key") or shop_of(request).new_key()
    try:
        if file is None:
            raise InputRefused((Fault("the file", "none", "a test.csv", "Choose it, then send it again."),))
        new, known = take_test(cable_desk(request), cable, file.content, who(request), key)
    except InputRefused as refused:
        return show(request, _page(request, cable, faults=refused.faults), 422)
    return go_to(f"/cables/{cable}/rows?new={new}&known={known}")


@pages.get("/sheet.csv")
def sheet(request: Request, cable: int) -> Response:
    """What is left to measure, to be filled in with a spreadsheet and taken in again."""
    desk = cable_desk(request)
    state = desk.state(cable)
    described, ahead = desk.teller.described(state.toml), desk.teller.ahead(state.toml)
    read = [desk.teller.row(state.toml, one) for one in state.written]
    left = sheet_rows(described.request, read, ahead)
    return to_keep(
        desk.teller.ports.sheet_csv((), left), "text/csv; charset=utf-8", f"cable-{cable}-sheet.csv"
    )


@pages.post("/note")
def note(request: Request, cable: int, sent: Posted) -> Response:
    """Write a note."""
    key = sent.text("key") or shop_of(request).new_key()
    try:
        write_note(cable_desk(request), cable, sent.text("text"), who(request), key)
    except InputRefused as refused:
        return show(request, _page(request, cable, faults=refused.faults), 422)
    return go_to(f"/cables/{cable}/rows")
