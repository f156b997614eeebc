"""In whose name a reading is written that waited in a page until the bench answered: in that of whoever typed it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import who
from ohmsworth.web.door.callers import Caller
from ohmsworth.web.forms import Sent
from ohmsworth.web.pages import Fragment, show
from ohmsworth.web.persons import tidy_name
from ohmsworth.work.records import NOBODY

#: The name that the page knew when a reading was typed; and who is to stand for it in spite of another sign-in.
BY, INSTEAD = "by", "instead"


@dataclass(frozen=True, slots=True)
class Whose:
    """`name` is in whose name the reading is written; `typed_by` who typed it, where that is somebody else."""

    name: str
    typed_by: str = ""


@dataclass(frozen=True, kw_only=True)
class OtherName(Fragment):
    """That somebody else has signed in since the readings were typed, and what can be done."""

    template: ClassVar[str] = "other_name.html.j2"

    typed_by: str
    name: str


def whose(request: Request, sent: Sent) -> Whose | OtherName:
    """In whose name the reading in `sent` is written.

    On a bench where nobody signs in it is the name that stood in the page when it was typed. Where people sign in, a
    reading is written by whoever is signed in; one that another person typed only where that is said.
    """
    waited = sent.text("waited") == "yes" and BY in sent.first
    found: Caller | None = getattr(request.state, "caller", None)
    if not waited or (found is not None and found.how == "program"):
        return Whose(who(request))
    typed_by = tidy_name(sent.first[BY])
    if found is None or found.how == "open bench":
        return Whose(typed_by or NOBODY)
    if typed_by == found.name:
        return Whose(found.name)
    typed_by = typed_by or NOBODY
    return (
        Whose(found.name, typed_by)
        if sent.text(INSTEAD) == found.name
        else OtherName(typed_by=typed_by, name=found.name)
    )


def ask_whose(request: Request, other: OtherName) -> Response:
    """Refuse until somebody decides; the page keeps its readings."""
    return show(request, other, 412)
