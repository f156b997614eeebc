"""What stands on every page of one study."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from ohmsworth.web.pages import Page, Place
from ohmsworth.work.lots.told import states_lot
from ohmsworth.work.study_cards import NO_QUESTION
from ohmsworth.work.study_log import StudyState

#: From the question to the page that is handed over.
TURNS = (
    ("Bench", "bench"),
    ("Answer", "answer"),
    ("Readings", "readings"),
    ("Over frequency", "frequency"),
    ("Specimens", "specimens"),
    ("Report", "report"),
    ("Question", "question"),
)
#: Where the question is about a lot, and where papers of one are kept.
LOT = ("Lot", "lot")
PAPERS = ("Papers", "papers")


@dataclass(frozen=True, slots=True)
class StudyFrame:
    """The question on top of the page, and where one is."""

    number: int
    question: str
    closed: bool
    turns: tuple[Place, ...]
    job: int | None = None
    retest: date | None = None


@dataclass(frozen=True, kw_only=True)
class StudyPage(Page):
    """A page of one study."""

    place: ClassVar[str] = "Studies"

    study: StudyFrame


def study_frame(number: int, state: StudyState, turn: str) -> StudyFrame:
    """The frame of study `number` on its page `turn`."""
    stated = states_lot(state)
    shown = [
        *TURNS[:-1],
        *([LOT] if stated else []),
        *([PAPERS] if stated or state.papers else []),
        TURNS[-1],
    ]
    turns = tuple(Place(label, f"/studies/{number}/{part}", label == turn) for label, part in shown)
    return StudyFrame(number, question_of(state), state.closed, turns, state.job, state.retest)


def readings_of(number: int, state: StudyState) -> Callable[[int], str]:
    """Address of the page of a reading by its number in a report, "" for none."""
    line_of = {one.nth: one.number for one in state.readings}
    return lambda nth: f"/studies/{number}/readings/{line_of[nth]}" if nth in line_of else ""


def question_of(state: StudyState) -> str:
    """What the study asks, or that it cannot be read."""
    try:
        asked = tomllib.loads(state.question).get("question")
    except tomllib.TOMLDecodeError:
        return "A study whose question cannot be read"
    return asked if isinstance(asked, str) and asked.strip() else NO_QUESTION
