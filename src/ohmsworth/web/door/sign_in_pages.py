"""Signing in and out, and one's own password."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from ohmsworth.web.at_hand import go_to, own_page
from ohmsworth.web.door.admission import cookie_in
from ohmsworth.web.door.callers import caller, door_of
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import Page, show
from ohmsworth.work.passwords import SHORTEST
from ohmsworth.work.people import ROLE_WORDS
from ohmsworth.work.sign_in import ABSOLUTE, SignInRefused, WaitFirst

pages = APIRouter()


@dataclass(frozen=True, kw_only=True)
class SignIn(Page):
    """Name and password."""

    template: ClassVar[str] = "sign_in.html.j2"

    name: str
    next: str
    refused: str


@dataclass(frozen=True, kw_only=True)
class Me(Page):
    """One's own account."""

    template: ClassVar[str] = "me.html.j2"

    name: str
    role: str
    may: str
    shortest: int


@pages.get("/sign-in")
def sign_in_page(request: Request, next: str = "/") -> Response:  # noqa: A002
    """Ask for name and password."""
    if door_of(request).sign_ins is None:
        return go_to("/")
    return show(request, SignIn(title="Sign in", name="", next=own_page(next), refused=""))


@pages.post("/sign-in")
def sign_in(request: Request, sent: Posted) -> Response:
    """Let in, or say that the two do not go together."""
    door = door_of(request)
    if door.sign_ins is None:
        return go_to("/")
    address = request.client.host if request.client else ""
    former = cookie_in(request.headers.get("cookie", ""), door.cookie)
    name, wanted = sent.text("name"), own_page(sent.text("next"))
    try:
        token = door.sign_ins.come_in(name, sent.first.get("password", ""), address, former)
    except (SignInRefused, WaitFirst) as error:
        page = SignIn(title="Sign in", name=name[:80], next=wanted, refused=str(error))
        answer: Response = show(request, page, 429 if isinstance(error, WaitFirst) else 403)
        if isinstance(error, WaitFirst):
            answer.headers["retry-after"] = str(error.seconds)
        return answer
    answer = go_to(wanted)
    answer.set_cookie(
        door.cookie,
        token,
        max_age=round(ABSOLUTE.total_seconds()),
        path="/",
        secure=door.secure,
        httponly=True,
        samesite="strict",
    )
    return answer


@pages.post("/sign-out")
def sign_out(request: Request) -> Response:
    """Close the sign-in."""
    door = door_of(request)
    token = cookie_in(request.headers.get("cookie", ""), door.cookie)
    if door.sign_ins is not None and token:
        door.sign_ins.leave(token)
    return _out(request)


def _out(request: Request) -> RedirectResponse:
    door = door_of(request)
    answer = go_to("/sign-in")
    answer.delete_cookie(door.cookie, path="/", secure=door.secure, httponly=True, samesite="strict")
    return answer


@pages.get("/me")
def me(request: Request) -> Response:
    """One's own account."""
    door_of(request)
    who = caller(request)
    if who.how != "sign-in":
        return go_to("/who")
    return show(
        request,
        Me(title="My account", name=who.name, role=who.role, may=ROLE_WORDS[who.role], shortest=SHORTEST),
    )


@pages.post("/me")
def my_password(request: Request, sent: Posted) -> Response:
    """Change one's own password; every sign-in that was made with the old one is over, this one too."""
    door, who = door_of(request), caller(request)
    if who.how != "sign-in":
        return go_to("/who")
    first = sent.first
    door.people.change_own(who.name, first.get("old", ""), first.get("password", ""), first.get("again", ""))
    return _out(request)
