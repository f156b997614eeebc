"""What every request has to pass before a page sees it, and the headers that every answer carries."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any
from urllib.parse import urlsplit

from ohmsworth.web.words import PLACE_OF_REFUSALS, refusal_page, refusal_part

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

#: Nothing but what this server sends, no script or style inside a page, no frame around it.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"geolocation=(), microphone=(), payment=()"),
)
SAFE = ("GET", "HEAD", "OPTIONS")
METHODS = (*SAFE, "POST", "PUT", "PATCH", "DELETE")
#: A photo of a modern tablet fits; a whole shop's export does too.
LARGEST_BODY = 64 * 1024 * 1024
#: Recordings of sound are larger: four takes of some minutes at 192 kHz fit. Whoever answers there keeps them on the disk.
LARGEST_SOUND = 400 * 1024 * 1024
_SOUND = re.compile(r"/studies/[0-9]+/frequency/(?:takes|standards)")
#: Bytes of a request's first line and headers.
LONGEST_HEADERS = 16 * 1024
#: Seconds without a byte of a body that was promised.
PATIENCE = 30.0


class Guard:
    """Refuses foreign hosts, foreign origins and bodies that are too large; adds the headers."""

    def __init__(self, app: App, hosts: frozenset[str]) -> None:
        self.app = app
        self.hosts = hosts

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass one request on, or answer it with a refusal."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        refused = self._refused(scope)
        if refused:
            await answer(send, *refused, part=(b"hx-request", b"true") in scope["headers"])
            return
        await self.app(scope, _bounded(receive, largest_body(scope["path"])), _with_headers(send))

    def _refused(self, scope: Scope) -> tuple[int, str, str] | None:
        """Status, title and mend; None for a request that may pass."""
        headers = {name.lower(): value.decode("latin-1") for name, value in scope["headers"]}
        method, host = scope["method"], headers.get(b"host", "")
        if _name_in(host) not in self.hosts:
            return (
                421,
                "This is not an address of the bench",
                "Use the address that the bench shows when it starts.",
            )
        if method not in METHODS:
            return 405, "A page is not asked for in this way", "Nothing was changed."
        if sum(len(name) + len(value) for name, value in scope["headers"]) > LONGEST_HEADERS:
            return 431, "Too much about the request", "Delete this site's cookies, then try again."
        if method not in SAFE and b"authorization" not in headers and not _same_origin(scope, headers, host):
            return (
                403,
                "Sent from another page",
                "Nothing was changed. Go to the bench itself and send it from there.",
            )
        length, most = headers.get(b"content-length", "0"), largest_body(scope["path"])
        if not (length.isascii() and length.isdigit()) or int(length[:18]) > most:
            return (
                413,
                "Too large",
                f"At most {most // 2**20} MB can be sent at once. Nothing was changed.",
            )
        return None


def largest_body(path: str) -> int:
    """Bytes that may be sent to `path` at once."""
    return LARGEST_SOUND if _SOUND.fullmatch(path) else LARGEST_BODY


def _name_in(host: str) -> str | None:
    try:
        return urlsplit(f"//{host}").hostname
    except ValueError:
        return None


def _same_origin(scope: Scope, headers: dict[bytes, str], host: str) -> bool:
    """Whether a browser says that the request came from a page of this server; a program sends neither header."""
    site = headers.get(b"sec-fetch-site")
    if site is not None:
        return site in ("same-origin", "none")
    origin = headers.get(b"origin")
    return origin is None or origin.lower() == f"{scope.get('scheme', 'http')}://{host}".lower()


def _bounded(receive: Receive, most: int) -> Receive:
    """`receive`, cut off where a body without a stated length grows too large, or where it stops coming."""
    taken, whole = 0, False

    async def bounded() -> Message:
        nonlocal taken, whole
        try:
            message = await asyncio.wait_for(receive(), None if whole else PATIENCE)
        except TimeoutError:
            return {"type": "http.disconnect"}
        taken += len(message.get("body", b""))
        whole = not message.get("more_body", False)
        if taken > most:
            return {"type": "http.disconnect"}
        return message

    return bounded


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            own = {name.lower() for name, _ in message["headers"]}
            message["headers"] = [*message["headers"], *(pair for pair in HEADERS if pair[0] not in own)]
            if b"cache-control" not in own:
                message["headers"].append((b"cache-control", b"no-store"))
        await send(message)

    return sending


async def answer(send: Send, status: int, title: str, mend: str, *, part: bool = False) -> None:
    """Answer with a short page, or with a `part` for a page that asked for one."""
    body = (refusal_part if part else refusal_page)(title, mend).encode()
    headers = [(b"content-type", b"text/html; charset=utf-8"), (b"content-length", str(len(body)).encode())]
    if part:
        headers += [(name.lower().encode(), value.encode()) for name, value in PLACE_OF_REFUSALS.items()]
    await _with_headers(send)({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
