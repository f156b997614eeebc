"""HTTP/1.1 with an end to patience: whoever opens a connection and sends nothing, or sends it drop by drop, is let go."""

from __future__ import annotations

import asyncio
from typing import Any

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from ohmsworth.web.guard import HEADERS
from ohmsworth.web.words import refusal_page

#: Seconds in which the first line and the headers of a request have to be there.
PATIENCE = 10.0
#: Connections at once; a browser opens six.
MOST_OPEN = 400


class PatientProtocol(H11Protocol):
    """One connection."""

    _clock: asyncio.TimerHandle | None = None

    def connection_made(self, transport: Any) -> None:
        """Begin to count; more than anybody needs are let go at once."""
        super().connection_made(transport)
        if len(self.connections) > MOST_OPEN:
            transport.close()
        else:
            self._count()

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop counting."""
        self._stop()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Take what came; the count goes on until a request's headers are complete."""
        if self._clock is None and self.conn.their_state is h11.IDLE:
            self._count()
        super().data_received(data)
        if self.conn.their_state is not h11.IDLE:
            self._stop()

    def on_response_complete(self) -> None:
        """The answer is out; the wait for the next request is the server's own."""
        super().on_response_complete()
        if self.conn.their_state is not h11.IDLE:
            self._stop()

    def send_400_response(self, msg: str) -> None:  # noqa: ARG002 - its words are for programmers
        """Refuse what is no request, with a page."""
        body = refusal_page("This could not be read", "What was sent is no request for a page.").encode()
        headers = [
            (b"content-type", b"text/html; charset=utf-8"),
            (b"content-length", str(len(body)).encode()),
            (b"connection", b"close"),
            *HEADERS,
        ]
        for event in (
            h11.Response(status_code=400, headers=headers, reason=b"Bad Request"),
            h11.Data(data=body),
            h11.EndOfMessage(),
        ):
            self.transport.write(self.conn.send(event) or b"")
        self.transport.close()

    def _count(self) -> None:
        self._clock = self.loop.call_later(PATIENCE, self._let_go)

    def _stop(self) -> None:
        if self._clock is not None:
            self._clock.cancel()
            self._clock = None

    def _let_go(self) -> None:
        self._clock = None
        if not self.transport.is_closing():
            self.transport.close()
