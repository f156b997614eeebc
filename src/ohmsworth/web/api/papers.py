"""Papers of built cables and of lots over JSON: listed, issued, fetched and verified; the lot of a study is that study's."""

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
from ohmsworth.web.at_hand import desk_of, shop_of, study_state, who
from ohmsworth.web.cables.frame import cable_desk
from ohmsworth.web.papers import key as shop_key
from ohmsworth.web.papers.at_hand import papers_at
from ohmsworth.web.papers.key import signing_key
from ohmsworth.web.papers.printed import LabelKind, Printing, data_file, label_file, page_file, paper_in
from ohmsworth.web.papers.verify import verification
from ohmsworth.work.builds.papers.issuing import papered_cable
from ohmsworth.work.lots.papered import papered_lot
from ohmsworth.work.paper_lines import KeptPaper
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.issuing import PaperSending, issue_paper
from ohmsworth.work.papers.kept.outdated import holding_papers, outdated_papers
from ohmsworth.work.papers.kept.papered import Papered
from ohmsworth.work.papers.kept.proposed import proposed
from ohmsworth.work.papers.printing import LABEL_SIZE, label_size
from ohmsworth.work.shop_settings import read_settings

pages = APIRouter(prefix="/api", tags=["papers"], responses=REFUSALS)
#: What papers are of: a built cable, or the lot that a study is about.
Holder = Literal["cables", "studies"]
Size = Annotated[str, Query(max_length=40, description="Width and height in mm.")]


class NewPaper(Strict):
    """A paper to be issued; the shop's name and address are those of its settings."""

    key: Key
    tested_by: Name = Field(description="Whoever tested it: a person.")
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
        description="The last line of the log that the caller had read: refused where it was changed since.",
    )


class ProposalOut(BaseModel):
    """What is proposed for the next paper; `line` is the last line of the log."""

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
    """A paper of a cable or a lot; `later` is the number that took its place, `issued` the time that one from a folder states."""

    line: int = Field(description="The line of the log that keeps it, by which addresses refer to it.")
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
        description="What the records say otherwise by now, where the paper still holds."
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


@pages.get("/{of}/{card}/papers")
def papers(request: Request, of: Holder, card: Number) -> list[PaperOut]:
    """Every paper of a cable or a lot, the last first."""
    return _papers(request, _papered(request, of, card))


@pages.get("/{of}/{card}/papers/proposal")
def proposal(request: Request, of: Holder, card: Number) -> ProposalOut:
    """What the form for the next paper begins with."""
    form = _proposed(request, _papered(request, of, card))
    return ProposalOut(**asdict(form), line=_last_line(request, card))


@pages.post("/{of}/{card}/papers", status_code=201)
def new_paper(request: Request, of: Holder, card: Number, sent: NewPaper) -> PaperOut:
    """Issue a certificate, or the test report of what did not pass; the same key twice does it once."""
    papered = _papered(request, of, card)
    stated = sent.model_dump(exclude={"key", "line"}, exclude_none=True)
    form = replace(_proposed(request, papered), **stated)
    seen = _last_line(request, card) if sent.line is None else sent.line
    kept = issue_paper(papered, form, PaperSending(who(request), sent.key, seen))
    return next(one for one in _papers(request, _papered(request, of, card)) if one.line == kept.number)


@pages.get("/{of}/{card}/papers/{paper}.json", response_class=Response)
def data(request: Request, of: Holder, card: Number, paper: Number) -> Response:
    """Its file, to the byte, in the format of `ohmsworth schema certify` or `certify-lot`."""
    return data_file(_printing(request, of, card, paper))


@pages.get("/{of}/{card}/papers/{paper}.html", response_class=Response)
def html(request: Request, of: Holder, card: Number, paper: Number) -> Response:
    """Its web page, with its data inside."""
    return page_file(request, _printing(request, of, card, paper), "html")


@pages.get("/{of}/{card}/papers/{paper}.pdf", response_class=Response)
def pdf(request: Request, of: Holder, card: Number, paper: Number) -> Response:
    """Its PDF, with its data inside."""
    return page_file(request, _printing(request, of, card, paper), "pdf")


@pages.get("/{of}/{card}/papers/{paper}/label", response_class=Response)
def label(
    request: Request,
    of: Holder,
    card: Number,
    paper: Number,
    kind: LabelKind = "pdf",
    size: Size = LABEL_SIZE,
) -> Response:
    """Its label in a size."""
    label_size(size, "size")
    return label_file(request, _printing(request, of, card, paper), size, kind)


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


def _papered(request: Request, of: Holder, card: int) -> Papered:
    """What papers are issued of; raises NoSuchCard where there is no such cable or study."""
    if of == "cables":
        return papered_cable(cable_desk(request), papers_at(request), card)
    return papered_lot(desk_of(request), shop_of(request), papers_at(request), card)


def _last_line(request: Request, card: int) -> int:
    return shop_of(request).records.card(card).lines


def _proposed(request: Request, papered: Papered) -> PaperForm:
    """What the page's form begins with; a paper is superseded only where that is said."""
    shop = shop_of(request)
    begin = proposed(papered, shop.clock().astimezone(), who(request), read_settings(shop.records))
    return begin.following(holding_papers(papered), ())


def _papers(request: Request, papered: Papered) -> list[PaperOut]:
    """With what the records say otherwise by now; nothing of that on a bench that has no place for a key."""
    outdated: Mapping[int, tuple[str, ...]] = {}
    if signing_key(request) is not None:
        outdated = outdated_papers(papered, holding_papers(papered))
    return [_paper_out(paper, outdated) for paper in papered.kept]


def _printing(request: Request, of: Holder, card: int, paper: int) -> Printing:
    shop = shop_of(request)
    state = cable_desk(request).state(card) if of == "cables" else study_state(request, card)
    return paper_in(request, shop.records, card, state, paper, f"/{of}/{card}/papers")


def _paper_out(paper: KeptPaper, outdated: Mapping[int, tuple[str, ...]]) -> PaperOut:
    return PaperOut(**asdict(paper), outdated=list(outdated.get(paper.line, ())))
