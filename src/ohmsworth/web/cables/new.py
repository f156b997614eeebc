"""A new cable: from a plain form, from the text of a cable.toml, or from its files."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.cables.frame import cable_desk
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import Page, show
from ohmsworth.work.builds.writing import open_cable, take_test
from ohmsworth.work.cable_form import CableForm

pages = APIRouter()
#: Fields of the form that hold two texts, one for each end.
_TWO = ("ends", "connectors")
_KEY = re.compile(r"key '?([a-z_]+)")
#: Keys of the screen's kind and the fields that fill them.
_OF_SCREEN = {"resistance": "screen", "conductor": "screen", "tolerance": "screen_tolerance"}
#: What a new form begins with: a balanced line whose meter somebody has yet to state.
BEGIN = CableForm(ways="1", contacts="3", tolerance="5 %", screen_tolerance="10 %")


@dataclass(frozen=True, kw_only=True)
class NewCable(Page):
    """The form and the text; `faults` by field, `others` those of no field, `step` which of the two was sent."""

    template: ClassVar[str] = "cable_new.html.j2"
    place: ClassVar[str] = "Cables"

    form: CableForm
    toml: str
    key: str
    text_first: bool = False
    faults: Mapping[str, str] = field(default_factory=dict)
    others: tuple[str, ...] = ()


@pages.get("/cables/new")
def new(request: Request) -> Response:
    """An empty form."""
    return show(request, _page(request, BEGIN, ""))


@pages.post("/cables/new")
def made(request: Request, sent: Posted) -> Response:
    """Put the cable into the records, show the text that the form amounts to, or say what is wrong."""
    desk, key = cable_desk(request), sent.text("key") or shop_of(request).new_key()
    by_form = sent.text("make") in ("form", "text")
    form = _form(sent) if by_form else BEGIN
    toml, test = "", None
    try:
        if by_form:
            toml = shop_of(request).cables.cable_toml(form)
            if sent.text("make") == "text":
                return show(request, replace(_page(request, form, toml, key), text_first=True))
        else:
            toml, test = _sent_text(sent), sent.files.get("test")
        if test is not None:  # before anything is kept: a file at fault brings no half of it
            desk.teller.ports.tested(test.content, desk.teller.described(toml))
        cable = open_cable(desk, toml, who(request), key)
        if test is not None:
            take_test(desk, cable, test.content, who(request), f"{key}.test")
    except InputRefused as refused:
        page = _faulty(_page(request, form, toml, key), refused.faults, by_form)
        return show(request, page, 422)
    return go_to(f"/cables/{cable}")


def _sent_text(sent: Sent) -> str:
    file = sent.files.get("file")
    return file.content.decode("utf-8-sig", "replace") if file is not None else sent.first.get("toml", "")


def _form(sent: Sent) -> CableForm:
    said = {one.name: sent.text(one.name) for one in fields(CableForm) if one.name not in (*_TWO, "shell")}
    two = {name: (sent.text(f"{name}.0"), sent.text(f"{name}.1")) for name in _TWO}
    return CableForm(**said, **two, shell=bool(sent.text("shell")))  # type: ignore[arg-type]


def _page(request: Request, form: CableForm, toml: str, key: str = "") -> NewCable:
    return NewCable(title="A new cable", form=form, toml=toml, key=key or shop_of(request).new_key())


def _faulty(page: NewCable, faults: Sequence[Fault], by_form: bool) -> NewCable:
    """The page with what is wrong: beside the fields of the form, or above the text."""
    beside: dict[str, str] = {}
    others: list[str] = []
    names = {one.name for one in fields(CableForm)}
    for fault in faults:
        found = _KEY.search(fault.where)
        name = found[1] if found else fault.where
        if "[kinds.screen]" in fault.where:
            name = _OF_SCREEN.get(name, name)
        if by_form and name in names:
            beside[name] = fault_words(fault)
        elif by_form and name == "end":
            beside["ends"] = fault_words(fault)
        else:
            others.append(f"{fault.where}: {fault_words(fault)}")
    return replace(page, faults=beside, others=tuple(dict.fromkeys(others)), text_first=not by_form)
