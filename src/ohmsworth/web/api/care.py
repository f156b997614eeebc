"""Care over JSON: what to do with a specimen, and the service cards of specimens and of built cables."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse, Response
from pydantic import Field

from ohmsworth.errors import InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.web.api.forms import Name, Number, Strict, Words
from ohmsworth.web.api.studies import REFUSALS
from ohmsworth.web.at_hand import desk_of, shop_of
from ohmsworth.web.cables.frame import cable_desk
from ohmsworth.web.care import service_cards
from ohmsworth.web.care.specimen_care import care_form, field_of, stated_limit
from ohmsworth.work.care.of_specimen import specimen_care
from ohmsworth.work.service.cable_card import cable_service
from ohmsworth.work.service.specimen_card import specimen_service

pages = APIRouter(prefix="/api", tags=["care"], responses=REFUSALS)
Remedy = Literal["exercise", "wipe", "clean", "re-lubricate", "re-terminate", "replace"]
Air = Annotated[
    Name, Query(description="Class of the air that it is kept in, from G1 (mild) to GX (severe).")
]
_USES_UP = "What it uses up, in the shop's money; left out by a shop that cannot do it."
_LEAVES = "The condition that it leaves contacts in, in the shop's studies."


class CareAsked(Strict):
    """What is asked about care: the fields of the page, by the same names. Amounts are in the shop's money."""

    limit: Name | None = Field(
        None,
        examples=["8 mΩ"],
        description="Above which the contact matters; left out, the limit that the specimen's card names, with its name.",
    )
    limit_source: Name = Field("", description="Who says so.")
    currency: Name = ""
    labour: Name = Field("", description="What an hour of work costs.", examples=["48"])
    failure: Name = Field("", description="What it costs when the contact fails in use.", examples=["120"])
    retest: Name = Field("", description="How long it takes to read it again.", examples=["3 min"])
    maker: Name = Field("", description="Whose instructions hold.")
    maker_words: Words = Field("", description="What they say, a sentence a line.")
    forbids: Annotated[list[Remedy], Field(max_length=20)] = Field(
        default_factory=list, description="Remedies that they forbid."
    )
    environment: Name = Field("", description="Class of the air: G1, G2, G3 or GX.")
    clean_since: Name = Field("", description="The day since when it is clean.", examples=["2026-01-31"])
    uncertainty: Name = Field(
        "", description="Standard uncertainty, where the readings leave it open.", examples=["0.6 mΩ"]
    )
    before: Name = Field(
        "", description="The condition of contacts before they were treated, in the shop's studies."
    )
    clean: Name = Field("", alias="material.clean", description=_USES_UP)
    lubricate: Name = Field("", alias="material.re-lubricate", description=_USES_UP)
    terminate: Name = Field("", alias="material.re-terminate", description=_USES_UP)
    substitute: Name = Field("", alias="material.replace", description=_USES_UP)
    exercised: Name = Field("", alias="after.exercise", description=_LEAVES)
    wiped: Name = Field("", alias="after.wipe", description=_LEAVES)
    cleaned: Name = Field("", alias="after.clean", description=_LEAVES)
    lubricated: Name = Field("", alias="after.re-lubricate", description=_LEAVES)
    terminated: Name = Field("", alias="after.re-terminate", description=_LEAVES)
    replaced: Name = Field("", alias="after.replace", description=_LEAVES)


@pages.get("/specimens/{specimen}/care", response_class=JSONResponse)
def care(request: Request, specimen: Number, asked: Annotated[CareAsked, Query()]) -> JSONResponse:
    """What to do with it as it was read last, as `ohmsworth care --json` gives it; nothing is kept."""
    given = asked.model_dump(by_alias=True)
    if asked.limit is None:
        given["limit"], given["limit_source"] = stated_limit(request, specimen)
    form = care_form(lambda name: given[name], asked.forbids)
    shop = shop_of(request)
    today = shop.clock().astimezone().date()
    try:
        told = specimen_care(desk_of(request), shop, specimen, form, today)
    except InputRefused as refused:
        faults = tuple(replace(fault, where=field_of(fault) or fault.where) for fault in refused.faults)
        raise InputRefused(faults) from refused
    return JSONResponse(as_json(told.answer))


@pages.get("/specimens/{specimen}/service-card", response_class=JSONResponse)
def specimen_card(request: Request, specimen: Number, air: Air = "") -> JSONResponse:
    """The service card of a specimen, as `ohmsworth service-card --json` gives it."""
    return JSONResponse(as_json(specimen_service(desk_of(request), shop_of(request), specimen, air)))


@pages.get("/specimens/{specimen}/service-card.html", response_class=Response)
def specimen_html(request: Request, specimen: Number, air: Air = "") -> Response:
    """The same as one web page that needs nothing else."""
    return service_cards.specimen_html(request, specimen, air)


@pages.get("/specimens/{specimen}/service-card.pdf", response_class=Response)
def specimen_pdf(request: Request, specimen: Number, air: Air = "") -> Response:
    """The same as a PDF of one page."""
    return service_cards.specimen_pdf(request, specimen, air)


@pages.get("/cables/{cable}/service-card", response_class=JSONResponse)
def cable_card(request: Request, cable: Number) -> JSONResponse:
    """The service card of a built cable, as `ohmsworth service-card --json` gives it."""
    return JSONResponse(as_json(cable_service(cable_desk(request), cable)))


@pages.get("/cables/{cable}/service-card.html", response_class=Response)
def cable_html(request: Request, cable: Number) -> Response:
    """The same as one web page that needs nothing else."""
    return service_cards.cable_html(request, cable)


@pages.get("/cables/{cable}/service-card.pdf", response_class=Response)
def cable_pdf(request: Request, cable: Number) -> Response:
    """The same as a PDF of one page."""
    return service_cards.cable_pdf(request, cable)
