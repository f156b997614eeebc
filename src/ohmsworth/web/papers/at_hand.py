"""What issues and verifies papers, from a request."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from fastapi import Request

if TYPE_CHECKING:
    from ohmsworth.work.papers.kept.ports import PaperPorts


def papers_at(request: Request) -> PaperPorts:
    """What issues and verifies papers."""
    return cast("PaperPorts", request.app.state.papers)
