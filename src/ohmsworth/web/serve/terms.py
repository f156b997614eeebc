"""How the bench is reached: from which addresses, under which names, over what."""

from __future__ import annotations

import ssl
from dataclasses import dataclass

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.serve.listening import is_loopback

#: The names of this machine for itself.
OWN_NAMES = frozenset({"127.0.0.1", "localhost", "::1"})


@dataclass(frozen=True, slots=True)
class Terms:
    """Settled before any socket is opened.

    Parameters
    ----------
    address
        IP address to listen on.
    hosts
        Names by which browsers may call.
    called
        The name in the address that is shown.
    context
        TLS, where the server itself speaks it.
    """

    address: str
    hosts: frozenset[str]
    called: str
    context: ssl.SSLContext | None = None

    def shown(self, port: int) -> str:
        """The address that a browser is sent to."""
        scheme = "https" if self.context else "http"
        return f"{scheme}://{in_url(self.called)}:{port}/"


def settle(address: str) -> Terms:
    """The terms on which the bench is served at `address`.

    Raises
    ------
    InputRefused
        When others could reach it and something that this takes is missing.
    """
    if not is_loopback(address):
        raise InputRefused(
            (
                Fault(
                    "--address",
                    address,
                    "127.0.0.1",
                    "Leave --address out: the bench then serves this machine alone.",
                ),
            )
        )
    return Terms(address, OWN_NAMES | {address}, address)


def in_url(address: str) -> str:
    """An IP address or a name as it stands in a URL."""
    return f"[{address}]" if ":" in address else address
