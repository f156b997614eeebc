"""A paper that somebody brings: whether it is whole, and whether the records hold it so."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.papers.verification import VerificationAnswer
from ohmsworth.report.papers.verification_pages import verification_document
from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.drawing import report_fragment
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import Page, show
from ohmsworth.web.papers.at_hand import papers_at
from ohmsworth.work.held_papers import held_in_shop
from ohmsworth.work.papers.held import HeldPaper
from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate

pages = APIRouter(prefix="/cables/verify")


@dataclass(frozen=True, kw_only=True)
class VerifyPage(Page):
    """The form, and what is said of the file that was sent; `held` is the paper as the records hold it."""

    template: ClassVar[str] = "verify.html.j2"
    place: ClassVar[str] = "Cables"

    told: Markup = field(default_factory=Markup)
    file: str = ""
    held: HeldPaper | None = None
    faults: tuple[Fault, ...] = ()


@pages.get("")
def ask(request: Request) -> Response:
    """Ask for a file."""
    return show(request, VerifyPage(title="Verify a paper"))


@pages.post("")
def verified(request: Request, sent: Posted) -> Response:
    """Say of it what the command says, held against the records; nothing is kept."""
    try:
        return show(request, _answered(request, sent))
    except InputRefused as refused:
        return show(request, VerifyPage(title="Verify a paper", faults=refused.faults), 422)


def _answered(request: Request, sent: Sent) -> VerifyPage:
    file, key = sent.files.get("file"), sent.files.get("public")
    if file is None:
        mend = "Choose it, then send it again."
        raise InputRefused((Fault("the file", "none", "a .json, .html or .pdf file", mend),))
    answer, held = verification(request, file.name, file.content, None if key is None else key.content)
    told = report_fragment(request, verification_document(answer), lambda name: name)
    return VerifyPage(title="Verify a paper", told=told, file=file.name, held=held)


def verification(
    request: Request, name: str, content: bytes, key: bytes | None
) -> tuple[VerificationAnswer, HeldPaper | None]:
    """What is said of the paper in a file, held against the records and the public key in another; and the paper as held.

    Raises
    ------
    InputRefused
        Where a file holds no paper, or no public key.
    """
    ports, shop = papers_at(request), shop_of(request)
    paper = ports.read(name, content)
    public = None if key is None else ports.key.read_public(key)
    held = held_in_shop(shop, paper.certificate.number, ports.name_file)
    asked = VerifyAsked(name, paper, public, None, True, held)
    return verify_certificate(asked, ports.verifying()), held
