"""Who answers here: asked by a second start of the program on the same records, before it opens a browser on the first."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse

from ohmsworth.web.proof import HEALTH, code_of

pages = APIRouter()


@pages.get(HEALTH)
def health(request: Request, number: str = "") -> JSONResponse:
    """That the bench is up, and the code of `number` under its secret."""
    return JSONResponse({"bench": "ohmsworth", "code": code_of(request.app.state.secret, number)})
