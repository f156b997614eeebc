"""How a cable is described: the text of its cable.toml, and what it said before."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.cables.frame import CablePage, cable_desk, cable_frame
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import show
from ohmsworth.work.builds.writing import Sending, describe_again
from ohmsworth.work.records import Line

pages = APIRouter(prefix="/cables/{cable}/description")


@dataclass(frozen=True, kw_only=True)
class DescriptionPage(CablePage):
    """The text to be changed, and earlier ones."""

    template: ClassVar[str] = "cable_description.html.j2"

    toml: str
    reason: str
    seen: int
    key: str
    faults: tuple[Fault, ...]
    earlier: tuple[Line, ...]


@pages.get("")
def description(request: Request, cable: int) -> Response:
    """What it says now."""
    return show(request, _page(request, cable))


@pages.post("")
def changed(request: Request, cable: int, sent: Posted) -> Response:
    """Write it anew."""
    key, toml = sent.text("key") or shop_of(request).new_key(), sent.first.get("toml", "")
    seen, reason = sent.number("seen") or 0, sent.text("reason")
    try:
        describe_again(cable_desk(request), cable, toml, seen, reason, Sending(who(request), key))
    except InputRefused as refused:
        return show(request, _page(request, cable, (toml, reason), refused.faults), 422)
    return go_to(f"/cables/{cable}")


def _page(
    request: Request, cable: int, typed: tuple[str, str] | None = None, faults: tuple[Fault, ...] = ()
) -> DescriptionPage:
    desk = cable_desk(request)
    state = desk.state(cable)
    frame = cable_frame(desk, cable, state, "Description")
    toml, reason = typed or (state.toml, "")
    return DescriptionPage(
        title=f"Description of {frame.name}",
        cable=frame,
        toml=toml,
        reason=reason,
        seen=state.described,
        key=shop_of(request).new_key(),
        faults=faults,
        earlier=tuple(reversed(state.descriptions[:-1])),
    )
