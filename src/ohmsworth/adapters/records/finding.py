"""What lists of cards and readings ask of the tables."""

from __future__ import annotations

import unicodedata
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Select, and_, func, select

from ohmsworth.adapters.records import tables as t
from ohmsworth.adapters.records.rows import cards_query, lines_query
from ohmsworth.errors import ArgumentFault
from ohmsworth.work.study_log import KEPT, PUT_BACK, SET_ASIDE, TAKE, TAKEN, WITHDRAWN

_MOST_WORDS = 50
#: What takes a reading out of those that count.
UNCOUNTED = (WITHDRAWN, SET_ASIDE)


def folded(text: str) -> str:
    """Without regard to case, to how an accent was typed, and to which of two alike signs for ohm and micro was."""
    return unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", text).casefold())


def chosen(kind: str | None, search: str, state: str | None) -> ColumnElement[bool]:
    """The condition of a list.

    Raises
    ------
    ArgumentFault
        When more words are searched for than anybody types.
    """
    words = sorted(set(folded(search).replace("\0", " ").split()))
    if len(words) > _MOST_WORDS:
        raise ArgumentFault("search", f"{len(words)} words", f"at most {_MOST_WORDS}")
    clauses = [t.face.c.search.contains(word, autoescape=True) for word in words]
    if kind is not None:
        clauses.append(t.face.c.kind == kind)
    if state is not None:
        clauses.append(t.face.c.state == state)
    return and_(True, *clauses)


def page(where: ColumnElement[bool], due_by: date | None, first: int, most: int) -> Select[Any]:
    """One page of a list of cards."""
    query = cards_query().where(where)
    if due_by is None:
        query = query.order_by(t.face.c.touched.desc(), t.face.c.card.desc())
    else:
        query = query.where(t.face.c.due <= due_by).order_by(t.face.c.due, t.face.c.card)
    return query.offset(first).limit(most)


def how_many(where: ColumnElement[bool]) -> Select[Any]:
    """How many cards a list has."""
    return select(func.count()).select_from(t.face).where(where)


def figures(where: ColumnElement[bool]) -> Select[Any]:
    """What the cards of a list count for, without their texts."""
    face = t.face.c
    return (
        select(face.card, face.title, face.state, face.figures, face.lines).where(where).order_by(face.card)
    )


def of_specimen(specimen: int) -> ColumnElement[bool]:
    """The readings of a specimen's card."""
    return t.reading.c.specimen_card == specimen


def under_condition(condition: str) -> ColumnElement[bool]:
    """The readings under a condition.

    No index leads to them: the table of readings is looked through, which is quick, and asked for a few times a day.
    """
    return t.reading.c.condition == condition


def readings_page(
    which: ColumnElement[bool], first: int, most: int, without: tuple[str, ...] = (WITHDRAWN,)
) -> Select[Any]:
    """The readings that are chosen, as last corrected, each with its first line; those last put into `without` are left out.

    A log's own reading of its lines (`ohmsworth.work.study_log.fold`) says the same of one study; a test holds the two to
    each other.
    """
    last, later, taken = t.reading, t.reading.alias("later"), t.line.alias("taken")
    changed = (
        select(t.line.c.kind)
        .where(t.line.c.card == taken.c.card, t.line.c.about == taken.c.number)
        .where(t.line.c.kind.in_((WITHDRAWN, SET_ASIDE, PUT_BACK, KEPT)))
        .order_by(t.line.c.number.desc())
        .limit(1)
        .correlate(taken)
        .scalar_subquery()
    )
    is_corrected = (
        select(later.c.number)
        .where(
            later.c.card == last.c.card, later.c.taken_in == last.c.taken_in, later.c.number > last.c.number
        )
        .exists()
    )
    joined = last.join(taken, and_(taken.c.card == last.c.card, taken.c.number == last.c.taken_in)).join(
        t.face, t.face.c.card == last.c.card
    )
    return (
        select(last.c.card, taken.c.number.label("taken"), last.c.number.label("last"), t.face.c.title)
        .select_from(joined)
        .where(which, taken.c.kind.in_((TAKEN, TAKE)), ~is_corrected)
        .where(func.coalesce(changed, "").not_in(without))
        .order_by(taken.c.at, taken.c.card, taken.c.number)
        .offset(first)
        .limit(most)
    )


def lines_of_page(found: Select[Any], which: str) -> Select[Any]:
    """The lines that a page of readings names in its column `which`."""
    page = found.subquery("page")
    return lines_query().join(page, and_(t.line.c.card == page.c.card, t.line.c.number == page.c[which]))
