"""What a page handler takes from its request."""

from __future__ import annotations

from typing import cast

from fastapi import Request
from fastapi.responses import RedirectResponse

from ohmsworth.work.keeping import Keeping
from ohmsworth.work.records import NOBODY
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import StudyState


def shop_of(request: Request) -> Shop:
    """The ports."""
    return cast(Shop, request.app.state.shop)


def desk_of(request: Request) -> Desk:
    """Studies laid out for use."""
    return cast(Desk, request.app.state.desk)


def study_state(request: Request, study: int) -> StudyState:
    """What a study's log says now; raises NoSuchCard."""
    return desk_of(request).state(study)


def who(request: Request) -> str:
    """In whose name a line is written."""
    return getattr(request.state, "who", "") or NOBODY


def keeping_of(request: Request) -> Keeping:
    """What takes records out and in."""
    return cast(Keeping, request.app.state.keeping)


def go_to(address: str) -> RedirectResponse:
    """After a form was taken: the page to look at next."""
    return RedirectResponse(address, 303)


def own_page(address: str) -> str:
    """`address` where it is one of this server's pages, else the first page."""
    plain = address.startswith("/") and not address.startswith("//") and "\\" not in address
    return address if plain and address.isprintable() else "/"
