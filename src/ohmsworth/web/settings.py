"""Settings: of this screen in its cookies, of the shop in the records."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import InputRefused
from ohmsworth.web.at_hand import go_to, keeping_of, shop_of, who
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Posted
from ohmsworth.web.office import need_office
from ohmsworth.web.pages import SCREENS, Page, show
from ohmsworth.web.papers.key import SigningKey, signing_key
from ohmsworth.web.persons import YEAR
from ohmsworth.work.records import SettingLine
from ohmsworth.work.shop_settings import (
    AHEAD,
    METERS,
    WORDS,
    as_texts,
    from_texts,
    read_settings,
    write_settings,
)

pages = APIRouter()
#: The decimal marks a screen may be set to; "" takes either.
MARKS = ("point", "comma")
SAID = {
    "screen": "This screen is set.",
    "key": "The key is made. Keep a copy of its file in a safe place.",
    "0": "Nothing was changed.",
    "1": "One setting was changed; the history below says from what.",
}
#: How many earlier writings are shown.
MOST = 100


@dataclass(frozen=True, kw_only=True)
class SettingsPage(Page):
    """Both kinds of settings, and what was changed."""

    template: ClassVar[str] = "settings.html.j2"
    place: ClassVar[str] = "Settings"

    screen: str
    mark: str
    values: Mapping[str, str]
    faults: Mapping[str, str]
    meters: tuple[str, ...]
    ahead: int
    beside: str
    doors: bool
    history: tuple[SettingLine, ...]
    signing: SigningKey | None


@pages.get("/settings")
def settings(request: Request, said: str = "") -> Response:
    """The settings as they are."""
    notice = SAID.get(said, "")
    if not notice and said.isascii() and said.isdigit() and len(said) < 3:
        notice = f"{said} settings were changed; the history below says from what."
    return show(request, _page(request, as_texts(read_settings(shop_of(request).records)), {}, notice))


def _page(
    request: Request,
    values: Mapping[str, str],
    faults: Mapping[str, str],
    notice: str = "",
) -> SettingsPage:
    keeping = keeping_of(request)
    screen, mark = request.cookies.get("screen", ""), request.cookies.get("mark", "")
    return SettingsPage(
        title="Settings",
        notice=notice,
        screen=screen if screen in SCREENS else "",
        mark=mark if mark in MARKS else "",
        values=values,
        faults=faults,
        meters=METERS,
        ahead=AHEAD,
        beside=keeping.copies("").place if keeping.place else "",
        doors=request.app.state.door is not None,
        history=shop_of(request).records.setting_lines(MOST),
        signing=signing_key(request),
    )


@pages.post("/screen")
def set_screen(sent: Posted) -> Response:
    """Remember how this screen is set."""
    answer = go_to("/settings?said=screen")
    for name, known in (("screen", SCREENS), ("mark", MARKS)):
        if (value := sent.text(name)) in known:
            answer.set_cookie(name, value, max_age=YEAR, httponly=True, samesite="strict")
        else:
            answer.delete_cookie(name, httponly=True, samesite="strict")
    return answer


@pages.post("/settings")
def change(request: Request, sent: Posted) -> Response:
    """Write what has changed of the shop's settings."""
    need_office(request)
    wanted = {name: sent.text(name) for name in WORDS}
    try:
        number = write_settings(shop_of(request), from_texts(wanted), who(request))
    except InputRefused as refused:
        faults = {fault.where: fault_words(fault) for fault in refused.faults}
        return show(request, _page(request, wanted, faults), 422)
    return go_to(f"/settings?said={number}")
