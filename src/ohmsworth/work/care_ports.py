"""What is asked about a contact that may need care, what the shop recorded of others like it, and how that is read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from ohmsworth.advice.courses import Prices
from ohmsworth.materials.span import Span
from ohmsworth.readings.study import Limit, UseRequest
from ohmsworth.work.ports import LoadedStudy

#: What outcomes may be told of beside the remedies: contacts that nothing was done to, read twice.
UNTREATED = "leave"


@dataclass(frozen=True, slots=True)
class MakerSays:
    """What the instructions of a maker say: whose, in their words, and the names of remedies that they forbid."""

    who: str
    words: tuple[str, ...] = ()
    forbids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlatingKnown:
    """The plating: its metal ("" where not known), metre when new, metre taken off each time, how often done already."""

    metal: str = ""
    thickness: Span | None = None
    taken_off: Mapping[str, Span] = field(default_factory=dict)
    done: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Storage:
    """The class of the air that the contact is kept in, and since when it is clean (None: from when it was found)."""

    environment: str
    clean_since: date | None = None


@dataclass(frozen=True, slots=True)
class CareRequest:
    """What is known of one contact, and of what care costs.

    Parameters
    ----------
    subject
        What the contact is called.
    currency
        How the shop writes its money, "" where it does not say.
    limit
        Above which the contact matters; None takes it from the uses.
    uses
        Circuits whose smallest threshold is the limit.
    resistance, uncertainty
        Ohm as found, and its standard uncertainty; None where readings are there.
    prices, materials
        What time costs, and what each remedy that the shop can do uses up.
    maker
        None where nobody looked it up.
    found_on
        The day it was read; None takes the day of asking.
    coverage
        Of the intervals.
    """

    subject: str
    currency: str
    limit: Limit | None
    uses: tuple[UseRequest, ...]
    resistance: float | None
    uncertainty: float | None
    prices: Prices
    materials: Mapping[str, float]
    maker: MakerSays | None
    plating: PlatingKnown
    storage: Storage | None
    found_on: date | None
    coverage: float = 0.95


@dataclass(frozen=True, slots=True)
class OutcomeRow:
    """One treated contact: ohm before and after, infinite where there was no path; `job` is "" where none is named."""

    line: int
    remedy: str
    specimen: str
    job: str
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class HistoryRow:
    """One reading of the contact in question: its day, ohm, and what was done to it after the reading before ("" nothing)."""

    line: int
    day: date
    resistance: float
    treated: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class LoadedCare:
    """A question about care as read; `readings` hold those of the contact as found, None where its resistance is stated."""

    request: CareRequest
    readings: LoadedStudy | None
    outcomes: tuple[OutcomeRow, ...] = ()
    history: tuple[HistoryRow, ...] = ()
    unused: tuple[str, ...] = ()


#: Reads a folder that asks about care; raises InputRefused with every fault.
LoadCare = Callable[[Path], LoadedCare]
