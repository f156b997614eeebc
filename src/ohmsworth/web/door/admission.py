"""What stands before every page: who comes, and whether the table lets them."""

from __future__ import annotations

from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import quote

from fastapi import Request
from fastapi.responses import JSONResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from ohmsworth.web.door.callers import Caller, Door
from ohmsworth.web.door.roles import LOOKING, may, needed
from ohmsworth.web.faults import Refused, told
from ohmsworth.web.guard import App, Receive, Scope, Send
from ohmsworth.web.words import PLACE_OF_REFUSALS, refusal_page, refusal_part
from ohmsworth.work.records import RecordsFault

BEARER = "bearer "


class Admission:
    """Puts the caller into the request, and refuses what its role does not cover."""

    def __init__(self, app: App, door: Door | None) -> None:
        self.app = app
        self.door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or answer it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        what = needed(scope["method"], scope["path"])
        headers = {name.lower(): value.decode("latin-1") for name, value in scope["headers"]}
        try:
            found = None if what == "anybody" else await self._caller(scope, headers)
        except RecordsFault as error:
            title = "The records cannot be reached just now"
            if headers.get(b"hx-request") == b"true":
                part = refusal_part(title, str(error))
                await Response(part, 503, PLACE_OF_REFUSALS, "text/html")(scope, receive, send)
                return
            page = refusal_page(title, str(error))
            await Response(page, 503, media_type="text/html")(scope, receive, send)
            return
        if not may(found.role if found else None, what):
            await _refusal(Request(scope, receive), found, what)(scope, receive, send)
            return
        if found is not None:
            _enter(scope.setdefault("state", {}), found)
        await self.app(scope, receive, send)

    async def _caller(self, scope: Scope, headers: dict[bytes, str]) -> Caller | None:
        """A token outranks the cookie, which is not looked at then; an open bench takes everybody who shows none."""
        shown = headers.get(b"authorization")
        if shown is not None:
            return await run_in_threadpool(_program, self.door, shown)
        if self.door is None or self.door.sign_ins is None:
            return Caller(scope.get("state", {}).get("who", ""), "office", "open bench")
        token = cookie_in(headers.get(b"cookie", ""), self.door.cookie)
        account = await run_in_threadpool(self.door.sign_ins.seen, token) if token else None
        return Caller(account.name, account.role, "sign-in") if account else None


def _program(door: Door | None, shown: str) -> Caller | None:
    if door is None or not shown.lower().startswith(BEARER):
        return None
    token = door.programs.known(shown[len(BEARER) :].strip())
    return Caller(token.name, token.role, "program") if token else None


def _enter(state: dict[str, Any], found: Caller) -> None:
    state["caller"] = found
    if found.how != "open bench":
        state["who"] = found.name
    if found.how == "sign-in":
        state["account"] = found.name


def cookie_in(header: str, name: str) -> str:
    """The value of a cookie, or ""."""
    cookies: SimpleCookie = SimpleCookie()
    for part in header.split(";"):
        if part.strip().startswith(f"{name}="):
            try:
                cookies.load(part.strip())
            except CookieError:
                return ""
    return cookies[name].value if name in cookies else ""


def _refusal(request: Request, found: Caller | None, what: str) -> Response:
    path = request.url.path
    if found is None:
        if path.startswith("/api") or "authorization" in request.headers:
            answer: Response = JSONResponse({"detail": "Show a token that holds."}, 401)
            answer.headers["www-authenticate"] = "Bearer"
            return answer
        if request.method in LOOKING and "hx-request" not in request.headers:
            back = "" if path == "/" else f"?next={quote(_wanted(request))}"
            return RedirectResponse(f"/sign-in{back}", 303)
        page = Refused(
            title="Sign in first",
            words="The sign-in is over, and nothing was changed. Sign in in another tab, then send this once more.",
            back="/sign-in",
            back_words="Sign in",
        )
        return told(request, page, 401)
    words = f"This takes the role {what}; {found.name or 'this bench'} has the role {found.role}. Nothing was changed."
    if path.startswith("/api") or found.how == "program":
        return JSONResponse({"detail": words}, 403)
    return told(request, Refused(title="Not for this sign-in", words=words), 403)


def _wanted(request: Request) -> str:
    return request.url.path + (f"?{request.url.query}" if request.url.query else "")
