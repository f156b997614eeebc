"""Every visit to a specimen in the records, with what the specimen is and which treatment it followed.

A treatment begins a new course. On its own day a contact is often read twice, as found and treated: `after_treatment` tells the
two apart. As the contact then is what its next readings go on from, it begins the course of the condition under which the
specimen was read most on later days.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from ohmsworth.readings.names import twin_key
from ohmsworth.report.care.ageing_answer import AGES, UNTREATED, By, Chosen
from ohmsworth.work.cards.log import face_of
from ohmsworth.work.cards.treated import after_treatment
from ohmsworth.work.records import CardFigures, CardKind, MakeFace, Records
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.visits.figures import Visit, visits_in


@dataclass(frozen=True, slots=True)
class Visited:
    """One contact of a specimen on one day.

    Parameters
    ----------
    specimen
        Number of its card.
    course
        Which course of the specimen it belongs to: the condition, and how many treatments were before it.
    contact
        Its name.
    day
        The day.
    logarithm
        Mean of ln R, ohm.
    told
        What the contact is told apart by; "" where its card does not say.
    made
        When the specimen was made or received.
    """

    specimen: int
    course: tuple[str, int]
    contact: str
    day: date
    logarithm: float
    told: Mapping[By, str]
    made: date | None


@dataclass(frozen=True, slots=True)
class Looked:
    """What the records hold: every visit, in the order of specimens and days, and how many studies wait to be looked through."""

    visits: tuple[Visited, ...]
    waiting: int = 0


def look_through(records: Records, most: int | None = None) -> Looked:
    """Bring every visit in the records together.

    Figures of studies are made with what changes a card, but not with every reading: that would make the bench wait. Those that
    are not of today are made anew here, at most so many; None makes all.
    """
    studies, waiting = _of_today(records, "study", _study_behind, study_face, most)
    specimens, _ = _of_today(records, "specimen", _without_figures, face_of("specimen"))
    by_specimen: dict[int, list[Visit]] = defaultdict(list)
    for study in studies:
        for visit in visits_in(study.figures, study.lines) or ():
            by_specimen[visit.specimen].append(visit)
    visits = tuple(
        one
        for specimen in specimens
        if specimen.card in by_specimen
        for one in _of_specimen(specimen.card, specimen.figures, _merged(by_specimen[specimen.card]))
    )
    return Looked(visits, waiting)


def keep_up(records: Records, most: int) -> int:
    """Make the figures of studies anew that are not of today, of at most so many; how many still wait."""
    return _of_today(records, "study", _study_behind, study_face, most)[1]


def _of_today(
    records: Records,
    kind: CardKind,
    behind: Callable[[CardFigures], bool],
    face: MakeFace,
    most: int | None = None,
) -> tuple[tuple[CardFigures, ...], int]:
    """The figures of a kind, those that are behind made anew, of at most so many cards; and how many still wait."""
    kept = records.figures_of(kind)
    late = [one.card for one in kept if behind(one)]
    for card in late[:most]:
        records.renew_face(card, face)
    return (records.figures_of(kind) if late else kept), 0 if most is None else max(len(late) - most, 0)


def _study_behind(study: CardFigures) -> bool:
    return study.figures.get("to") != study.lines


def _without_figures(specimen: CardFigures) -> bool:
    return not specimen.figures


def chosen(visits: Sequence[Visited], only: Sequence[Chosen]) -> Sequence[Visited]:
    """The visits that have everything that is chosen."""
    keys = [(choice.what, twin_key(choice.value)) for choice in only]
    return [one for one in visits if all(twin_key(one.told[what]) == key for what, key in keys)]


def _merged(visits: Sequence[Visit]) -> Sequence[Visit]:
    """What several studies read of one contact on one day is one visit."""
    groups: dict[tuple[str, str, str], list[Visit]] = defaultdict(list)
    for one in visits:
        groups[one.condition, one.contact, one.day].append(one)
    if len(groups) == len(visits):
        return visits
    return [
        group[0]._replace(
            last=max(one.last for one in group),
            logarithm=sum(one.logarithm * one.number for one in group) / sum(one.number for one in group),
            number=sum(one.number for one in group),
        )
        for group in groups.values()
    ]


def _of_specimen(card: int, figures: Mapping[str, Any], visits: Sequence[Visit]) -> list[Visited]:
    treated = [(str(day), str(what), str(read_as)) for day, what, read_as in figures.get("treated", ())]
    after = [_after(day, read_as, visits) for day, _, read_as in treated]
    made = None if figures.get("made") is None else date.fromisoformat(figures["made"])
    age = _age(made, min(date.fromisoformat(one.day) for one in visits))
    found = []
    for one in sorted(visits, key=lambda visit: visit.day):
        number = max(
            (
                number
                for number, ((day, *_), conditions) in enumerate(zip(treated, after, strict=True), start=1)
                if day < one.day or (day == one.day and one.condition in conditions)
            ),
            default=0,
        )
        done = [what for _, what, _ in treated[:number]]
        told: dict[By, str] = {
            "part": figures.get("part") or figures.get("what") or "",
            "plating": figures.get("plating") or "",
            "age": age,
            "supplier lot": figures.get("lot") or "",
            "treatment": done[-1] if done else UNTREATED,
            "condition": one.condition,
        }
        day = date.fromisoformat(one.day)
        course = (one.condition, len(done))
        found.append(
            Visited(
                card,
                course,
                one.contact,
                day,
                one.logarithm,
                told,
                made,
            )
        )
    return _begun(found, {day for day, *_ in treated}) if treated else found


def _age(made: date | None, first: date) -> str:
    """How old a specimen was when it was read first, as a level; "" where nobody said when it was made or received."""
    if made is None or made > first:
        return ""
    years = (first - made).days / 365.25
    return next(name for below, name in AGES if years < below)


def _after(day: str, read_as: str, visits: Sequence[Visit]) -> frozenset[str]:
    """The conditions of a day that were read after what was done then."""
    today = [one for one in visits if one.day == day]
    read = {
        name: max(one.last for one in today if one.condition == name)
        for name in {one.condition for one in today}
    }
    return after_treatment(read, read_as, {one.condition for one in visits if one.day < day})


def _begun(found: Sequence[Visited], treated: Collection[str]) -> list[Visited]:
    """The visits with those right after a treatment put at the beginning of the course that goes on from them."""
    days = {date.fromisoformat(day) for day in treated}
    later: dict[int, Counter[str]] = defaultdict(Counter)
    for one in found:
        if one.day not in days:
            later[one.course[1]][one.course[0]] += 1
    begun = []
    for one in found:
        condition, number = one.course
        follows = later[number] if number and one.day in days else Counter[str]()
        if follows and condition not in follows:
            (most, _), *_ = follows.most_common(1)
            begun.append(replace(one, course=(most, number)))
        else:
            begun.append(one)
    return begun
