"""Behind a reverse proxy: it alone may call, and what it says of the browser is believed."""

from __future__ import annotations

from ohmsworth.web.guard import App, Receive, Scope, Send, answer
from ohmsworth.web.proof import HEALTH


class Proxied:
    """Believes the proxy's headers, and turns away whoever goes round it.

    Parameters
    ----------
    app
        What comes after it.
    proxy
        The address by which browsers reach the proxy, such as ``https://bench.shop.lan``.
    trusted
        IP addresses from which the proxy calls.
    """

    def __init__(self, app: App, proxy: str, trusted: frozenset[str]) -> None:
        self.app, self.proxy, self.trusted = app, proxy, trusted

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on as the browser made it."""
        if scope["type"] == "http" and scope["path"] != HEALTH:
            client = scope.get("client")
            if client is None or client[0] not in self.trusted:
                await answer(
                    send, 403, "This is not the way in", f"Use {self.proxy}/ instead. Nothing was changed."
                )
                return
            headers = {name.lower(): value for name, value in scope["headers"]}
            forwarded = ",".join(
                value.decode("latin-1")
                for name, value in scope["headers"]
                if name.lower() == b"x-forwarded-for"
            )
            scope = {**scope, "scheme": "https", "client": (self._browser(forwarded) or client[0], 0)}
            if b"x-forwarded-host" in headers:
                kept = [pair for pair in scope["headers"] if pair[0].lower() != b"host"]
                scope["headers"] = [*kept, (b"host", headers[b"x-forwarded-host"])]
        await self.app(scope, receive, send)

    def _browser(self, forwarded: str) -> str:
        """The last address that the proxy itself has seen: what stands before it was sent by whoever called."""
        seen = [one.strip() for one in forwarded.split(",") if one.strip()]
        return next((one for one in reversed(seen) if one not in self.trusted), "")
