"""Built cables over JSON: listed, described, measured, and judged."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, Field, StringConstraints

from ohmsworth.report.answer import as_json
from ohmsworth.web.api.forms import (
    After,
    CardOut,
    Key,
    Most,
    Name,
    Number,
    QuantityOut,
    Strict,
    Words,
    card_out,
    quantity_out,
)  # fmt: skip
from ohmsworth.web.api.studies import REFUSALS
from ohmsworth.web.at_hand import shop_of, who
from ohmsworth.web.cables.frame import cable_desk
from ohmsworth.work.builds.log import MeasuredRow
from ohmsworth.work.builds.writing import RowDraft, Sending, change_row, measure, open_cable

pages = APIRouter(prefix="/api", tags=["cables"], responses=REFUSALS)
Side = Annotated[str, StringConstraints(max_length=20_000)]


class NewCable(Strict):
    """A cable from the text of a cable.toml."""

    key: Key
    toml: Annotated[str, StringConstraints(max_length=200_000)]


class NewRow(Strict):
    """One measurement: contacts joined on either side of the meter, and what it showed."""

    key: Key
    one: Side = Field(alias="from", examples=["stage:1.2"])
    other: Side = Field(alias="to", examples=["desk:1.2"])
    resistance: Name = Field(examples=["3.247 Ω", "open"])
    anyway: Words = Field("", description="Why it is kept although it looks like a slip.")


class RowChange(Strict):
    """What is done to a row, and why."""

    key: Key
    change: Literal["withdraw", "put back"]
    reason: Words


class RowOut(BaseModel):
    """A row as it stands now; `resistance` is null for no path, `line` that of test.csv."""

    number: int
    nth: int
    line: int | None
    one: str = Field(serialization_alias="from")
    other: str = Field(serialization_alias="to")
    resistance: QuantityOut | None
    state: Literal["used", "withdrawn"]
    reason: str
    kept: str
    by: str
    at: datetime


class MeasuredOut(BaseModel):
    """What became of a measurement: its line of the log, or what is asked before it is kept."""

    number: int | None
    doubt: str
    mend: str


@pages.get("/cables")
def cables(
    request: Request,
    search: Annotated[str, Query(max_length=200)] = "",
    state: Annotated[str | None, Query(max_length=40)] = None,
    first: After = 0,
    most: Most = 100,
) -> list[CardOut]:
    """Built cables, the last worked on first; `state` such as "right", "wrong", "not tested"."""
    found = shop_of(request).records.cards("cable", search=search, state=state, first=first, most=most)
    return [card_out(card) for card in found]


@pages.post("/cables", status_code=201)
def new_cable(request: Request, sent: NewCable) -> CardOut:
    """Describe a cable; the same key twice does it once."""
    number = open_cable(cable_desk(request), sent.toml, who(request), sent.key)
    return card_out(shop_of(request).records.card(number))


@pages.get("/cables/{cable}/description", response_class=Response)
def description(request: Request, cable: Number) -> Response:
    """The text of its cable.toml."""
    return Response(cable_desk(request).state(cable).toml, media_type="application/toml")


@pages.get("/cables/{cable}/rows")
def rows(request: Request, cable: Number) -> list[RowOut]:
    """Every row as it stands, also those withdrawn."""
    state = cable_desk(request).state(cable)
    return [_row_out(row, state.line_of.get(row.number)) for row in state.rows]


@pages.post(
    "/cables/{cable}/rows",
    responses={200: {"model": MeasuredOut}, 409: {"model": MeasuredOut}},
    response_model=MeasuredOut,
)
def new_row(request: Request, cable: Number, sent: NewRow) -> JSONResponse:
    """Keep a measurement: 200 with its number; 409 where it looks like a slip, until it comes again with `anyway`."""
    draft = RowDraft(sent.one, sent.other, sent.resistance, "")
    sending = Sending(who(request), sent.key, sent.anyway)
    found = measure(cable_desk(request), cable, draft, "point", sending)
    asked = found.slip if found.number is None else None
    out = MeasuredOut(
        number=found.number, doubt=asked.words if asked else "", mend=asked.mend if asked else ""
    )
    return JSONResponse(out.model_dump(mode="json"), 200 if found.number is not None else 409)


@pages.post("/cables/{cable}/rows/{number}/changes")
def change(request: Request, cable: Number, number: Number, sent: RowChange) -> RowOut:
    """Withdraw a row, or put it back; the reason stands in the record."""
    desk = cable_desk(request)
    sending = Sending(who(request), sent.key)
    change_row(desk, cable, number, sent.change == "put back", sent.reason, sending)
    state = desk.state(cable)
    row = next(row for row in state.rows if row.number == number)
    return _row_out(row, state.line_of.get(number))


@pages.get("/cables/{cable}/answer", response_class=JSONResponse)
def answer(request: Request, cable: Number) -> JSONResponse:
    """The whole answer, as `ohmsworth cable FOLDER --json` gives it of the exported folder."""
    desk = cable_desk(request)
    return JSONResponse(as_json(desk.answer(desk.state(cable))))


def _row_out(row: MeasuredRow, line: int | None) -> RowOut:
    return RowOut(
        number=row.number,
        nth=row.nth,
        line=line,
        one=row.written.one,
        other=row.written.other,
        resistance=quantity_out(row.written.resistance),
        state=row.state,
        reason=row.reason,
        kept=row.kept,
        by=row.by,
        at=row.at,
    )
