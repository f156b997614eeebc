"""Measuring a cable: what to connect next, one figure, and at once whether it is right."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from ohmsworth.errors import InputRefused
from ohmsworth.web.at_hand import shop_of, who
from ohmsworth.web.bench_form import mark_of
from ohmsworth.web.cables.frame import cable_desk, cable_frame
from ohmsworth.web.cables.measure_page import (
    UNITS,
    MeasurePage,
    MeasurePart,
    Shown,
    Typing,
    make_now,
)
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import drawn, show
from ohmsworth.work.builds.log import CableState
from ohmsworth.work.builds.sentences import said_of
from ohmsworth.work.builds.writing import Measured, RowDraft, Sending, change_row, measure

pages = APIRouter(prefix="/cables/{cable}")
_YEAR = 365 * 24 * 3600


@pages.get("")
def measuring(request: Request, cable: int) -> Response:
    """The page; `from` and `to` in the address ask for contacts of one's own choice."""
    state = cable_desk(request).state(cable)
    asked = (request.query_params.get(name, "").strip()[:2000] for name in ("from", "to"))
    return _answered(request, cable, state, Typing("", _unit(state), *asked), Shown())


@pages.post("")
def measured(request: Request, cable: int, sent: Posted) -> Response:
    """Keep one figure and lead on, or ask about it, or say what cannot be read."""
    desk = cable_desk(request)
    form = _typing(sent)
    key = sent.text("key") or shop_of(request).new_key()
    anyway = sent.text("anyway") if sent.text("keep") or sent.text("anyway") else ""
    draft = RowDraft(form.one, form.other, "open" if sent.text("open") else form.text, form.unit)
    try:
        found = measure(desk, cable, draft, mark_of(request), Sending(who(request), key, anyway))
    except InputRefused as refused:
        shown = Shown(faults=refused.faults)
        return _answered(request, cable, desk.state(cable), form, shown, key, 422)
    if found.number is None:
        shown = Shown(
            slip=found.slip, read_as=found.said, anyway_missing=bool(sent.text("keep")) and not anyway
        )
        return _answered(request, cable, found.after, form, shown, key, 409)
    answer = _answered(request, cable, found.after, Typing(unit=form.unit), _said(request, found))
    if found.mark is not None:
        answer.set_cookie("mark", found.mark, max_age=_YEAR, httponly=True, samesite="strict")
    return answer


@pages.post("/undo")
def undo(request: Request, cable: int, sent: Posted) -> Response:
    """Withdraw the row that was measured last; it stays in the record."""
    desk = cable_desk(request)
    key = sent.text("key") or shop_of(request).new_key()
    number = sent.number("of") or 0
    change_row(desk, cable, number, False, "undone at once", Sending(who(request), key))
    state = desk.state(cable)
    row = next(row for row in state.rows if row.number == number)
    shown = Shown(words=f"Row {row.nth} is withdrawn; it stays in the record.")
    form = Typing("", _unit(state), row.written.one, row.written.other)
    return _answered(request, cable, state, form, shown)


def _typing(sent: Sent) -> Typing:
    unit = sent.text("resistance_unit")
    return Typing(
        sent.text("resistance"), unit if unit in (*UNITS, "µΩ") else "Ω", sent.text("from"), sent.text("to")
    )


def _unit(state: CableState) -> str:
    """The unit that was typed last."""
    typed = (row.written.resistance for row in reversed(state.rows))
    return next((one.unit for one in typed if one is not None), "Ω")


def _said(request: Request, found: Measured) -> Shown:
    desk, state = cable_desk(request), found.after
    try:
        answer = desk.answer(state)
    except InputRefused:
        return Shown(read_as=found.said)
    described, ahead = desk.teller.described(state.toml), desk.teller.ahead(state.toml)
    return Shown(said=said_of(described.request, ahead.build, answer, found.row), read_as=found.said)


def _answered(
    request: Request,
    cable: int,
    state: CableState,
    form: Typing,
    shown: Shown,
    key: str = "",
    status: int = 200,
) -> Response:
    """The fragment for a page that asked for it; the whole page for one without scripts."""
    desk = cable_desk(request)
    key = key or shop_of(request).new_key()
    now = make_now(desk, cable, state, form, key, shown, mark_of(request) == "either")
    if request.headers.get("hx-request") == "true":
        return HTMLResponse(drawn(request, MeasurePart(now=now)), status)
    frame = cable_frame(desk, cable, state, "Measure")
    return show(request, MeasurePage(title=f"Measure {frame.name}", cable=frame, now=now), status)
