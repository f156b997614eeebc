"""Papers of built cables over JSON: listed, issued, fetched and verified."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from dataclasses import asdict, replace
from datetime import datetime
from typing import Annotated, Literal

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, Field, StringConstraints

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.report.answer import as_json
from ohmsworth.web.api.forms import After, Key, Name, Number, Strict
from ohmsworth.web.api.studies import REFUSALS
from ohmsworth.web.at_hand import shop_of, who
from ohmsworth.web.cables import key as shop_key
from ohmsworth.web.cables import printed
from ohmsworth.web.cables.frame import cable_desk, papers_at
from ohmsworth.web.cables.key import signing_key
from ohmsworth.web.cables.verify import verification
from ohmsworth.work.builds.log import CableState
from ohmsworth.work.builds.papers.form import PaperForm, proposed
from ohmsworth.work.builds.papers.issuing import issue_paper
from ohmsworth.work.builds.papers.kept import KeptPaper, papers_of
from ohmsworth.work.builds.papers.outdated import holding_papers, outdated_papers
from ohmsworth.work.builds.writing import Sending
from ohmsworth.work.papers.printing import LABEL_SIZE, label_size
from ohmsworth.work.shop_settings import read_settings

pages = APIRouter(prefix="/api", tags=["papers"], responses=REFUSALS)
Size = Annotated[str, Query(max_length=40, description="Width and height in mm.")]


class NewPaper(Strict):
    """A paper to be issued; the shop's name and address are those of its settings."""

    key: Key
    tested_by: Name = Field(description="Whoever tested the cable: a person.")
    number: Name | None = Field(None, description="Left out, the next one of the year.")
    date: Name | None = Field(
        None, description="The day of the test; left out, that of the last row that counts."
    )
    customer: Name | None = Field(
        None, description="Left out, that of the last paper, or of the description."
    )
    supersedes: Name = Field("", description="Number of the paper whose place it takes.")
    reason: Name = Field("", description="Why it does.")
    line: After | None = Field(
        None,
        description="The last line of the cable's log that the caller had read: refused where it was changed since.",
    )


class ProposalOut(BaseModel):
    """What is proposed for the next paper; `line` is the last line of the cable's log."""

    number: str
    tested_by: str
    date: str
    customer: str
    supersedes: str
    reason: str
    shop: str
    address: str
    line: int


class PaperOut(BaseModel):
    """A paper of a cable; `later` is the number that took its place, `issued` the time that one from a folder states."""

    line: int = Field(
        description="The line of the cable's log that keeps it, by which addresses refer to it."
    )
    number: str
    kind: str
    result: str
    digest: str
    supersedes: str
    reason: str
    later: str
    current: bool = Field(description="Whether it is the last one that holds.")
    by: str
    at: datetime
    issued: str
    outdated: list[str] = Field(
        description="What the cable says otherwise by now, where the paper still holds."
    )


class BroughtPaper(Strict):
    """A paper to be verified."""

    name: Name = Field(examples=["certificate-2026-014.json"])
    content: Annotated[str, StringConstraints(max_length=40_000_000)] = Field(
        description="The bytes of its .json, .html or .pdf file, in base64."
    )
    public_key: Annotated[str, StringConstraints(max_length=2000)] | None = Field(
        None, description="The text of the shop's public key (PEM), had from the shop."
    )


@pages.get("/cables/{cable}/papers")
def papers(request: Request, cable: Number) -> list[PaperOut]:
    """Every paper of a cable, the last first."""
    state = cable_desk(request).state(cable)
    outdated = _outdated(request, cable)
    return [_paper_out(paper, outdated) for paper in papers_of(state)]


@pages.get("/cables/{cable}/papers/proposal")
def proposal(request: Request, cable: Number) -> ProposalOut:
    """What the form for the next paper begins with."""
    state = cable_desk(request).state(cable)
    return ProposalOut(**asdict(_proposed(request, cable, state)), line=state.last)


@pages.post("/cables/{cable}/papers", status_code=201)
def new_paper(request: Request, cable: Number, sent: NewPaper) -> PaperOut:
    """Issue a certificate, or the test report of a cable that did not pass; the same key twice does it once."""
    desk = cable_desk(request)
    state = desk.state(cable)
    stated = sent.model_dump(exclude={"key", "line"}, exclude_none=True)
    form = replace(_proposed(request, cable, state), **stated)
    seen = state.last if sent.line is None else sent.line
    kept = issue_paper(desk, papers_at(request), cable, form, seen, Sending(who(request), sent.key))
    paper = next(one for one in papers_of(desk.state(cable)) if one.line == kept.number)
    return _paper_out(paper, _outdated(request, cable))


@pages.get("/cables/{cable}/papers/{paper}.json", response_class=Response)
def data(request: Request, cable: Number, paper: Number) -> Response:
    """Its file, to the byte, in the format of `ohmsworth schema certify`."""
    return printed.data(request, cable, paper)


@pages.get("/cables/{cable}/papers/{paper}.html", response_class=Response)
def html(request: Request, cable: Number, paper: Number) -> Response:
    """Its web page, with its data inside."""
    return printed.html(request, cable, paper)


@pages.get("/cables/{cable}/papers/{paper}.pdf", response_class=Response)
def pdf(request: Request, cable: Number, paper: Number) -> Response:
    """Its PDF, with its data inside."""
    return printed.pdf(request, cable, paper)


@pages.get("/cables/{cable}/papers/{paper}/label", response_class=Response)
def label(
    request: Request,
    cable: Number,
    paper: Number,
    kind: Literal["pdf", "svg", "png"] = "pdf",
    size: Size = LABEL_SIZE,
) -> Response:
    """Its label in a size."""
    label_size(size, "size")
    made = {"pdf": printed.label_pdf, "svg": printed.label_svg, "png": printed.label_png}
    return made[kind](request, cable, paper, size)


@pages.get("/papers/public-key", response_class=Response)
def public_key(request: Request) -> Response:
    """The public half of the shop's key, for whoever verifies."""
    return shop_key.public(request)


@pages.post("/papers/verify", response_class=JSONResponse)
def verify(request: Request, sent: BroughtPaper) -> JSONResponse:
    """Whether a paper is whole and follows, who signed it, and whether the records hold it so; nothing is kept of it.

    The answer is that of `ohmsworth verify --records --json`; that a check fails is no refusal.
    """
    public = None if sent.public_key is None else sent.public_key.encode()
    answer, _ = verification(request, sent.name, _bytes(sent.content), public)
    return JSONResponse(as_json(answer))


def _bytes(text: str) -> bytes:
    """The bytes in base64; raises InputRefused for anything else."""
    try:
        return base64.b64decode(text, validate=True)
    except ValueError as error:
        mend = "Send the bytes of the file in base64, on one line."
        raise InputRefused((Fault("content", shorten(text), "base64", mend),)) from error


def _proposed(request: Request, cable: int, state: CableState) -> PaperForm:
    """What the page's form begins with; a paper is superseded only where that is said."""
    desk, shop, ports = cable_desk(request), shop_of(request), papers_at(request)
    begin = proposed(
        shop.records,
        state,
        shop.clock().astimezone(),
        who(request),
        read_settings(shop.records),
        ports.name_file,
    )
    return begin.following(holding_papers(desk, ports, cable), ())


def _outdated(request: Request, cable: int) -> Mapping[int, tuple[str, ...]]:
    """By the line of a paper, what the cable says otherwise; nothing on a bench that has no place for a key."""
    if signing_key(request) is None:
        return {}
    desk, ports = cable_desk(request), papers_at(request)
    return outdated_papers(desk, ports, cable, holding_papers(desk, ports, cable))


def _paper_out(paper: KeptPaper, outdated: Mapping[int, tuple[str, ...]]) -> PaperOut:
    return PaperOut(**asdict(paper), outdated=list(outdated.get(paper.line, ())))
