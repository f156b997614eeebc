"""The shop's key for papers: made on request, and its public half to download."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.drawing import to_keep
from ohmsworth.web.office import need_office
from ohmsworth.web.papers.at_hand import papers_at
from ohmsworth.work.papers.kept.key import make_shop_key

pages = APIRouter(prefix="/settings")


@dataclass(frozen=True, slots=True)
class SigningKey:
    """Where the private key stands, and whether it does."""

    place: str
    there: bool


def signing_key(request: Request) -> SigningKey | None:
    """The key as pages tell of it; None on a bench that has no place for one."""
    key = papers_at(request).key
    return SigningKey(key.place, key.there()) if key.place else None


@pages.post("/key")
def make(request: Request) -> Response:
    """Make the key."""
    need_office(request)
    make_shop_key(papers_at(request).key, shop_of(request).records, who(request))
    return go_to("/settings?said=key")


@pages.get("/key.pub")
def public(request: Request) -> Response:
    """The public half as a file."""
    return to_keep(papers_at(request).key.public_file(), "application/x-pem-file", "shop.key.pub")
