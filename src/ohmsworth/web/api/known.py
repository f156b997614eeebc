"""What the shop knows, over JSON: a comparison over several studies, and how contacts age."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse
from pydantic import BaseModel, Field

from ohmsworth.errors import InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.web.api.forms import Name
from ohmsworth.web.api.studies import REFUSALS
from ohmsworth.web.at_hand import desk_of, shop_of
from ohmsworth.web.care.ageing import MOST_ANEW
from ohmsworth.work.care.ageing import ageing as age
from ohmsworth.work.care.asked_ageing import asked_of
from ohmsworth.work.care.known_records import comparisons_kept, known_in_records

pages = APIRouter(prefix="/api", tags=["known"], responses=REFUSALS)


class ComparisonOut(BaseModel):
    """Two conditions, and the numbers of the studies that have both."""

    of: str
    against: str
    studies: list[int]


@pages.get("/known/comparisons")
def comparisons(request: Request) -> list[ComparisonOut]:
    """Comparisons that occur in several studies, those of the most studies first."""
    found = comparisons_kept(desk_of(request), shop_of(request).records)
    return [ComparisonOut(of=one.of, against=one.against, studies=list(one.studies)) for one in found]


@pages.get("/known", response_class=JSONResponse)
def known(request: Request, of: Name, against: Name) -> JSONResponse:
    """What the studies say together of two conditions, as `ohmsworth known --json` gives it.

    `left_out` beside it lists studies that cannot be answered yet: the number of each, and why.
    """
    try:
        found = known_in_records(desk_of(request), shop_of(request).records, of, against)
    except InputRefused as refused:
        faults = tuple(replace(one, where=one.where.removeprefix("--")) for one in refused.faults)
        raise InputRefused(faults) from refused
    left_out = [{"study": study, "why": why} for study, why in found.left_out]
    return JSONResponse({**as_json(found.told.answer), "left_out": left_out})


@pages.get("/ageing", response_class=JSONResponse)
def ageing(
    request: Request,
    by: Annotated[
        Name, Query(description="part, plating, age, lot (the supplier's), treatment or condition.")
    ] = "part",
    only: Annotated[
        list[Name],
        Query(description="What contacts must have in common, such as plating=gold; may be given again."),
        Field(max_length=20),
    ] = [],  # noqa: B006  # read alone
) -> JSONResponse:
    """How contacts age, as `ohmsworth known --by --json` gives it.

    `waiting` counts studies that were not looked through yet: ask again until it is 0.
    """
    return JSONResponse(as_json(age(shop_of(request).records, *asked_of(by, only), MOST_ANEW)))
