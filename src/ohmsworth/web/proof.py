"""How the bench proves to a second start of the program that it is the one whose secret stands beside the records."""

from __future__ import annotations

import hmac

#: Where a server answers who it is.
HEALTH = "/health"


def code_of(secret: str, number: str) -> str:
    """What the server with `secret` answers to `number`."""
    return hmac.new(secret.encode(), number[:200].encode(), "sha256").hexdigest()
