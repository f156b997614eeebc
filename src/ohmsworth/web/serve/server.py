"""The server: quiet, patient only for so long, and ending in order."""

from __future__ import annotations

import os
import signal
import socket
import ssl
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any

import uvicorn

from ohmsworth.web.guard import LONGEST_HEADERS, App, Receive, Scope, Send, answer
from ohmsworth.web.serve.protocol import PatientProtocol

#: Requests at once; a few benches with a handful of tablets need far fewer.
MOST_AT_ONCE = 100
#: Seconds that an answer under way is given when the program is ended.
LAST_WORDS = 5
#: Seconds from the first page to loading what answers need, so that its style and scripts go first.
SETTLED = 0.5


class BenchServer(uvicorn.Server):
    """A server that says when it is ready, and that a signal ends without a word of its own.

    Parameters
    ----------
    config
        How it serves.
    ready
        Called once, when requests are answered.
    told_to_end
        Called in a thread of its own when a signal comes, before the answers that are under way are waited for.
    """

    def __init__(
        self, config: uvicorn.Config, ready: Callable[[], None], told_to_end: Callable[[], object]
    ) -> None:
        super().__init__(config)
        self._ready, self._told_to_end = ready, told_to_end

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, and say so."""
        await super().startup(sockets)
        if self.started:
            self._ready()

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Ctrl-C, a request to end and a closed terminal end the serving; what comes after it is the caller's."""
        if threading.current_thread() is not threading.main_thread():
            yield
            return
        before = {number: signal.signal(number, self._end) for number in ending_signals()}
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)

    def _end(self, number: int, _: FrameType | None) -> None:
        self.force_exit = self.should_exit and number == signal.SIGINT
        self.should_exit = True
        threading.Thread(target=self._told_to_end, name="told to end").start()


def _nothing() -> None:
    """Nothing has to be ended at once."""


def ending_signals() -> tuple[signal.Signals, ...]:
    """The signals that ask a program of this system to end."""
    names = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")
    return tuple(getattr(signal, name) for name in names if hasattr(signal, name))


def server_for(
    app: App,
    context: ssl.SSLContext | None,
    ready: Callable[[], None],
    told_to_end: Callable[[], object] = _nothing,
) -> BenchServer:
    """The server of `app`; run it with the sockets that listen."""
    config = uvicorn.Config(
        NotTooMany(app),
        http=PatientProtocol,
        ws="none",
        lifespan="off",
        proxy_headers=False,
        server_header=False,
        log_config=None,
        log_level="error" if os.environ.get("OHMSWORTH_TRACE") else "critical",
        access_log=False,
        timeout_keep_alive=20,
        timeout_graceful_shutdown=LAST_WORDS,
        h11_max_incomplete_event_size=LONGEST_HEADERS,
    )
    config.load()
    config.ssl = context
    return BenchServer(config, ready, told_to_end)


class NotTooMany:
    """Answers at once, and with a page, where more requests are under way than anybody needs."""

    def __init__(self, app: App) -> None:
        self.app = app
        self._under_way = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or ask for a moment."""
        if self._under_way >= MOST_AT_ONCE:
            await answer(send, 503, "Too many at once", "Nothing was changed. Try again in a moment.")
            return
        self._under_way += 1
        try:
            await self.app(scope, receive, send)
        finally:
            self._under_way -= 1


class AfterFirstPage:
    """Starts `then` in a thread of its own once the first page has been sent."""

    def __init__(self, app: App, then: Callable[[], Any]) -> None:
        self.app = app
        self._then: Callable[[], Any] | None = then

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on."""
        await self.app(scope, receive, send)
        if self._then and scope["type"] == "http" and not scope["path"].startswith(("/static/", "/health")):
            then, self._then = self._then, None
            threading.Thread(target=_later, args=(then,), name="warming", daemon=True).start()


def _later(then: Callable[[], Any]) -> None:
    time.sleep(SETTLED)
    then()
