"""The papers of a cable: those that were issued, and a form for the next."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import InputRefused
from ohmsworth.report.cable_answer import NOT_YET
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.cables.frame import CablePage, cable_desk, cable_frame, papers_at
from ohmsworth.web.cables.key import SigningKey, signing_key
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import show
from ohmsworth.work.builds.face import NOT_TESTED, UNREADABLE
from ohmsworth.work.builds.papers.form import PaperForm, proposed, stated_paper
from ohmsworth.work.builds.papers.issuing import issue_paper
from ohmsworth.work.builds.papers.kept import KeptPaper, papers_of
from ohmsworth.work.builds.papers.outdated import holding_papers, outdated_papers
from ohmsworth.work.builds.writing import Sending
from ohmsworth.work.shop_settings import read_settings

pages = APIRouter(prefix="/cables/{cable}/papers")
#: States of a cable of which no paper can be issued.
NOT_READY = (NOT_TESTED, NOT_YET, UNREADABLE)
#: Answers that the shop's settings give.
_SETTLED = ("shop", "address")


@dataclass(frozen=True, kw_only=True)
class PapersPage(CablePage):
    """Papers, the last first, and the form.

    `seen` is the last line that is shown; `faults` are by field, `others` of no field; `correctable` are numbers that the next
    one may take the place of; `ready` says that the test is complete, `stated` that the description has a table of its own.
    `outdated` tells by the line of a paper what the cable says otherwise by now.
    """

    template: ClassVar[str] = "cable_papers.html.j2"

    papers: tuple[KeptPaper, ...]
    outdated: Mapping[int, tuple[str, ...]]
    form: PaperForm
    key: str
    seen: int
    signing: SigningKey | None
    ready: bool
    stated: bool
    correctable: tuple[str, ...]
    faults: Mapping[str, str]
    others: tuple[str, ...]


@pages.get("")
def papers(request: Request, cable: int, issued: int = 0) -> Response:
    """What was issued, and what is proposed for the next."""
    page = _page(request, cable)
    new = next((paper for paper in page.papers if paper.line == issued), None)
    notice = f"Issued and kept: {new.kind} {new.number}." if new is not None else ""
    return show(request, replace(page, notice=notice))


@pages.post("")
def issued(request: Request, cable: int, sent: Posted) -> Response:
    """Issue one."""
    key = sent.text("key") or shop_of(request).new_key()
    said = {one.name: sent.text(one.name) for one in fields(PaperForm) if one.name not in _SETTLED}
    page = _page(request, cable)
    form = replace(page.form, **said)
    try:
        line = issue_paper(
            cable_desk(request), papers_at(request), cable, form, sent.number("seen") or 0,
            Sending(who(request), key),
        )  # fmt: skip
    except InputRefused as refused:
        shown = (*said, *_SETTLED) if page.ready and page.signing and page.signing.there else ()
        beside = {fault.where: fault_words(fault) for fault in refused.faults if fault.where in shown}
        others = tuple(
            f"{fault.where}: {fault_words(fault)}" for fault in refused.faults if fault.where not in beside
        )
        return show(request, replace(page, form=form, key=key, faults=beside, others=others), 422)
    return go_to(f"/cables/{cable}/papers?issued={line.number}")


def _page(request: Request, cable: int) -> PapersPage:
    desk, shop = cable_desk(request), shop_of(request)
    state = desk.state(cable)
    frame = cable_frame(desk, cable, state, "Papers")
    kept = papers_of(state)
    begin = PaperForm()
    signing = signing_key(request)
    outdated: Mapping[int, tuple[str, ...]] = {}
    if signing is not None:
        now, ports = shop.clock().astimezone(), papers_at(request)
        begin = proposed(shop.records, state, now, who(request), read_settings(shop.records), ports.name_file)
        holding = holding_papers(desk, ports, cable)
        outdated = outdated_papers(desk, ports, cable, holding)
        begin = begin.following(holding, outdated)
    return PapersPage(
        title=f"Papers of {frame.name}",
        cable=frame,
        papers=kept,
        outdated=outdated,
        form=begin,
        key=shop.new_key(),
        seen=state.last,
        signing=signing,
        ready=frame.state not in NOT_READY,
        stated=bool(stated_paper(state.toml)),
        correctable=tuple(paper.number for paper in kept if not paper.later),
        faults={},
        others=(),
    )


def plain_name(name: str) -> str:
    """A name for a download, in letters that every browser takes."""
    return re.sub(r"[^A-Za-z0-9._-]+", "-", name)
