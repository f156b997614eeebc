"""Which specimens the names in a study stand for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.web.at_hand import go_to, shop_of, study_state, who
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import show
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.cards.choices import labels
from ohmsworth.work.cards.naming import name_specimen, specimen_of_serial, title_of
from ohmsworth.work.study_log import StudyState

pages = APIRouter(prefix="/studies/{study}")


@dataclass(frozen=True, slots=True)
class Named:
    """A specimen's name in a study, the card that it stands for, and what was typed beside it."""

    name: str
    readings: int
    takes: int
    card: int | None
    title: str
    typed: str
    fault: str


@dataclass(frozen=True, kw_only=True)
class StudySpecimens(StudyPage):
    """Every name with its card, or with a form that gives it one."""

    template: ClassVar[str] = "study_specimens.html.j2"

    named: tuple[Named, ...]
    known: tuple[tuple[int, str], ...]
    key: str


@pages.get("/specimens")
def study_specimens(request: Request, study: int) -> Response:
    """The names."""
    return show(request, _page(request, study))


@pages.post("/specimens")
def name(request: Request, study: int, sent: Posted) -> Response:
    """Say which specimen a name stands for: one that is known, or a new one."""
    shop, state = shop_of(request), study_state(request, study)
    given, serial, key = sent.text("name"), sent.text("serial"), sent.text("key") or shop.new_key()
    try:
        if given not in _names(state):
            fault = Fault("name", shorten(given), "a name in this study", "Choose one of the list.")
            raise InputRefused((fault,))
        if sent.text("change") == "new":
            name_specimen(shop, study, given, serial, who(request), key)
        else:
            card = specimen_of_serial(shop.records, serial)
            if card is None:
                found = shorten(serial) if serial else "nothing"
                mend = "Correct it, or make a new specimen of it."
                raise InputRefused((Fault("serial", found, "the serial of a specimen in the records", mend),))
            name_specimen(shop, study, given, card, who(request), key)
    except InputRefused as refused:
        words = " ".join(fault_words(fault) for fault in refused.faults)
        return show(request, _page(request, study, given, serial, words), 422)
    return go_to(f"/studies/{study}/specimens")


def _names(state: StudyState) -> dict[str, tuple[int, int]]:
    """Names on the sheet, in the readings, of the takes and among those named, each with the number of its readings and takes."""
    readings = Counter(one.entry.specimen for one in state.counted)
    takes = Counter(one.reading.entry.specimen for one in state.counted_takes)
    names = [*(row.specimen for row in state.sheet), *state.specimens, *readings, *takes]
    return {name: (readings[name], takes[name]) for name in dict.fromkeys(names) if name}


def _page(request: Request, study: int, given: str = "", serial: str = "", fault: str = "") -> StudySpecimens:
    shop, state = shop_of(request), study_state(request, study)
    named = []
    for one, counts in _names(state).items():
        card = state.specimens.get(one)
        typed = serial if one == given else one
        title = "" if card is None else title_of(shop.records, card)
        named.append(Named(one, *counts, card, title, typed, fault if one == given else ""))
    return StudySpecimens(
        title=f"Specimens of study {study}",
        study=study_frame(study, state, "Specimens"),
        named=tuple(named),
        known=labels(shop.records, "specimen"),
        key=shop.new_key(),
    )
