"""The description of the interface, for programs that read OpenAPI."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, FastAPI, Request
from fastapi.openapi.utils import get_openapi
from fastapi.responses import JSONResponse

pages = APIRouter()
_ABOUT = (
    "The shop's records for other programs. A program signs in with a token (Authorization: Bearer ...) wherever the bench asks "
    "for accounts. Every line has a key that the caller chooses: what is sent twice under one key is kept once, so that "
    "whatever got no answer may be sent again."
)


@pages.get("/api/openapi.json", include_in_schema=False)
def openapi(request: Request) -> JSONResponse:
    """The description."""
    return JSONResponse(description(request.app))


def description(app: FastAPI) -> dict[str, Any]:
    """The OpenAPI description: pages are not part of it."""
    from importlib.metadata import version

    found = get_openapi(
        title="Ohmsworth", version=version("ohmsworth"), description=_ABOUT, routes=app.routes
    )
    found.setdefault("components", {})["securitySchemes"] = {"token": {"type": "http", "scheme": "bearer"}}
    found["security"] = [{"token": []}, {}]
    return found
