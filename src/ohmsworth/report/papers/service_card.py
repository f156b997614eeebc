"""The service card as plain records: what a specimen or a cable is, what was found, done, and found again.

Resistances are in ohm, days as ISO 8601; "" and None stand for "not known". The field names are a published format: adding one is
free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import Bound

SPECIMEN_FORMAT, CABLE_FORMAT = "ohmsworth specimen service 1", "ohmsworth cable service 1"


@dataclass(frozen=True, slots=True)
class ServiceMeasure:
    """What a specimen read on one day under one condition, by its worst contact.

    `uncertainty` is one standard uncertainty, None where it is not known; `verdict` is against the limit, "" without one.
    `contact` is the worst of so many `contacts`, "" where they are not told apart; `people` read it. `stated` says that the
    accuracy of the meters is, without which the uncertainty is too small.
    """

    day: str
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

    `facts` are pairs of what its card says; `now` is what it read last, None where that is not known, and `course` what the
    worst contact read on each day of that study and condition, ohm, where there are several; `next_look` are sentences;
    `earlier` services stand the last first; `remarks` say what else is to be known.
    """

    format: str
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
    course: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class CableTest:
    """A complete test of a cable: its first and last day, its verdict, what was wrong in sentences, and who measured."""

    first: str
    last: str
    verdict: str
    wrong: tuple[str, ...]
    people: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CablePaper:
    """The paper of a cable that counts: its number, kind, result and day of issue, and how many `earlier` ones there are."""

    number: str
    kind: str
    result: str
    issued: str
    earlier: int


@dataclass(frozen=True, slots=True)
class CableService:
    """The service card of a built cable.

    `sentence` and `verdict` say how it is now, and `now` is the test that says so, None where no test is complete yet. `tests`
    are those before it, in their order. `nearest` tells of the wire that is nearest to a bound; `notes` are what was written
    on its card, the last first.
    """

    format: str
    name: str
    serial: str
    facts: tuple[tuple[str, str], ...]
    sentence: str
    verdict: str
    now: CableTest | None
    tests: tuple[CableTest, ...]
    nearest: str
    paper: CablePaper | None
    notes: tuple[str, ...] = ()


#: What a service card says, whatever it is of.
ServiceAnswer = SpecimenService | CableService
