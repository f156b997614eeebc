"""What is the office's: for a handler to ask, and to insist on."""

from __future__ import annotations

from fastapi import Request
from starlette.exceptions import HTTPException

from ohmsworth.web.door.callers import allowed


def is_office(request: Request) -> bool:
    """Whether the caller may do what is the office's: everybody where nobody signs in."""
    return request.app.state.door is None or allowed(request, "office")


def need_office(request: Request) -> None:
    """Refuse whoever is not of the office."""
    if not is_office(request):
        raise HTTPException(403, "This is for the office. Nothing was changed.")
