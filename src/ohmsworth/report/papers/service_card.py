"""The service card as plain records: what a specimen or a cable is, what was found, done, and found again.

Resistances are in ohm, days as ISO 8601; "" and None stand for "not known".
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import Bound


@dataclass(frozen=True, slots=True)
class ServiceMeasure:
    """What a specimen read under one condition, by its worst contact.

    `uncertainty` is one standard uncertainty, None where it is not known; `verdict` is against the limit, "" without one.
    `contact` is the worst of so many `contacts`, "" where they are not told apart; `people` read it. `stated` says that the
    accuracy of the meters is, without which the uncertainty is too small.
    """

    first: str
    last: str
    condition: str
    study: str
    resistance: float
    uncertainty: float | None
    verdict: str
    contact: str = ""
    contacts: int = 1
    people: tuple[str, ...] = ()
    stated: bool = True


@dataclass(frozen=True, slots=True)
class ServiceStep:
    """Something that was done: a remedy by its name, on a day, by somebody, with a note.

    One that is not `written` down is seen by its readings alone: from the condition `before` to the condition `after`.
    """

    on: str
    what: str
    by: str = ""
    note: str = ""
    written: bool = True
    before: str = ""
    after: str = ""


@dataclass(frozen=True, slots=True)
class Service:
    """One service: as found, what was done, and the first that was read afterwards; None where nothing was read."""

    found: ServiceMeasure | None
    steps: tuple[ServiceStep, ...]
    after: ServiceMeasure | None


@dataclass(frozen=True, slots=True)
class SpecimenService:
    """The service card of a specimen.

    `facts` are pairs of what its card says; `now` is what it read last, None where that is not known; `next_look` are
    sentences; `earlier` services stand the last first; `remarks` say what else is to be known.
    """

    serial: str
    what: str
    plating: str
    facts: tuple[tuple[str, str], ...]
    limit: Bound | None
    service: Service
    now: ServiceMeasure | None
    next_look: tuple[str, ...]
    earlier: tuple[Service, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CableTest:
    """A day on which a cable was tested: its verdict then, what was wrong in sentences, and who tested it."""

    on: str
    verdict: str
    faults: tuple[str, ...]
    people: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CablePaper:
    """A paper that was issued: its number, kind, result and day; `later` is the number that takes its place."""

    number: str
    kind: str
    result: str
    issued: str
    later: str = ""


@dataclass(frozen=True, slots=True)
class CableService:
    """The service card of a built cable.

    `described` is the day of its description; `tests` stand in their order, the last of them is how it is now; `worst` is the
    wire nearest to its bounds, in words; `unreadable` says why nothing can be told of it.
    """

    name: str
    serial: str
    facts: tuple[tuple[str, str], ...]
    described: str
    sentence: str
    verdict: str
    tests: tuple[CableTest, ...]
    worst: str
    papers: tuple[CablePaper, ...]
    notes: tuple[str, ...] = ()
