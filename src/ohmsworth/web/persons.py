"""Who a request comes from, on a bench that only its own machine can reach: whoever said so last on this screen."""

from __future__ import annotations

from http.cookies import CookieError, SimpleCookie
from urllib.parse import quote, unquote

from ohmsworth.web.guard import App, Receive, Scope, Send

COOKIE = "who"
LONGEST_NAME = 80
YEAR = 365 * 24 * 3600


class WhoIsThere:
    """Puts the name that stands beside this screen's readings into the request."""

    def __init__(self, app: App) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on with `who` in its state."""
        if scope["type"] == "http":
            scope.setdefault("state", {})["who"] = _named(scope)
        await self.app(scope, receive, send)


def _named(scope: Scope) -> str:
    cookies: SimpleCookie = SimpleCookie()
    for name, value in scope["headers"]:
        if name == b"cookie":
            try:
                cookies.load(value.decode("latin-1"))
            except CookieError:
                return ""
    return tidy_name(unquote(cookies[COOKIE].value)) if COOKIE in cookies else ""


def tidy_name(text: str) -> str:
    """A name as it is written beside a reading: one line of printable characters."""
    return "".join(c for c in " ".join(text.split()) if c.isprintable())[:LONGEST_NAME]


def as_cookie(name: str) -> str:
    """A name in the characters that a cookie can hold."""
    return quote(tidy_name(name))
