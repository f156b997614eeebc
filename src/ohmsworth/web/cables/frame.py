"""What stands on every page of one built cable: which it is, what is known of it, and where one is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from fastapi import Request

from ohmsworth.report.cable_words import places_in_short
from ohmsworth.web.pages import Page, Place
from ohmsworth.work.builds.face import NO_NAME, name_of, verdict_of

if TYPE_CHECKING:
    from ohmsworth.work.builds.desk import CableDesk
    from ohmsworth.work.builds.log import CableState, MeasuredRow

TURNS = (
    ("Measure", ""),
    ("Rows", "/rows"),
    ("Report", "/report"),
    ("Papers", "/papers"),
    ("Service card", "/service-card"),
    ("Description", "/description"),
)
#: The colour and the sign of each state: colour is never the only one.
TONES = {
    "right": ("good", "✓"),
    "wrong": ("bad", "✗"),
    "look first": ("open", "?"),
    "too close to call": ("open", "?"),
    "cannot tell yet": ("open", "…"),
    "cannot be read": ("bad", "!"),
}


@dataclass(frozen=True, slots=True)
class CableFrame:
    """The cable on top of the page, its state with tone and sign, and the turns."""

    number: int
    name: str
    state: str
    tone: str
    sign: str
    turns: tuple[Place, ...]


@dataclass(frozen=True, kw_only=True)
class CablePage(Page):
    """A page of one cable."""

    place: ClassVar[str] = "Cables"

    cable: CableFrame


def cable_desk(request: Request) -> CableDesk:
    """Cables laid out for use; made when the first one is asked for, since it brings the computing along."""
    if request.app.state.cables is None:
        from ohmsworth.work.builds.desk import CableDesk

        request.app.state.cables = CableDesk(request.app.state.shop)
    return cast("CableDesk", request.app.state.cables)


def tone_of(state: str) -> tuple[str, str]:
    """Colour and sign of a state."""
    return TONES.get(state, ("", "○"))


def cable_frame(desk: CableDesk, number: int, state: CableState, turn: str) -> CableFrame:
    """The frame of cable `number` on its page `turn`."""
    turns = tuple(Place(label, f"/cables/{number}{part}", label == turn) for label, part in TURNS)
    name = " ".join(part for part in name_of(state.toml) if part) or NO_NAME
    shown = verdict_of(desk.teller, state)
    return CableFrame(number, name, shown, *tone_of(shown), turns)


@dataclass(frozen=True, slots=True)
class RowInShort:
    """A row with its two sides as a person reads them: runs of contacts by their ends."""

    row: MeasuredRow
    one: str
    other: str


def in_short(row: MeasuredRow) -> RowInShort:
    """How a row is shown."""
    return RowInShort(row, _side(row.written.one), _side(row.written.other))


def _side(text: str) -> str:
    """Contacts in short; what names no end by itself is of the end that was named last."""
    places, end = [], ""
    for word in text.split():
        end = word.partition(":")[0] if ":" in word else end
        places.append(word if ":" in word or not end else f"{end}:{word}")
    return places_in_short(places) if all(":" in place for place in places) else text
