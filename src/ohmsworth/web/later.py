"""Groups of pages that are loaded when they are first asked for: the first page of the day does not wait for all of them."""

from __future__ import annotations

import gc
from collections.abc import Callable
from datetime import datetime
from threading import Lock

from starlette.concurrency import run_in_threadpool

from ohmsworth.web.guard import App, Receive, Scope, Send

#: Addresses that the groups loaded at once answer.
AT_ONCE = ("/", "/studies", "/who", "/sign-in", "/sign-out", "/health")


class Rest:
    """Loads what is left, once.

    What is loaded by then stays until the end, so that the collector of unused objects is told to pass it by: each of its full
    rounds over some 100,000 of them held an answer up for 20 ms or more.
    """

    def __init__(self, load: Callable[[], None]) -> None:
        self._load: Callable[[], None] | None = load
        self._lock = Lock()

    @property
    def loaded(self) -> bool:
        """Whether nothing is left."""
        return self._load is None

    def load(self) -> None:
        """Load it, or wait until somebody else has."""
        with self._lock:
            if self._load is not None:
                self._load()
                self._load = None
                gc.collect()
                gc.freeze()


class RestFirst:
    """Has the rest loaded before a request that the first groups may not know.

    Such a request may wait for seconds, so that the moment at which it came is noted first: `came` in its state.
    """

    def __init__(self, app: App, rest: Rest, clock: Callable[[], datetime]) -> None:
        self.app = app
        self.rest = rest
        self.clock = clock

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on."""
        if scope["type"] == "http":
            scope.setdefault("state", {})["came"] = self.clock()
        if scope["type"] == "http" and not self.rest.loaded and _may_be_later(scope["path"]):
            await run_in_threadpool(self.rest.load)
        await self.app(scope, receive, send)


def _may_be_later(path: str) -> bool:
    return path not in AT_ONCE and not path.startswith("/static/")
