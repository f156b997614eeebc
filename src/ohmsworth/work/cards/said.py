"""What each kind of card says, in SI and with dates as dates."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ohmsworth.readings.meters import Accuracy


@dataclass(frozen=True, slots=True)
class SpecimenCard:
    """A thing with contacts that is measured, perhaps over many years.

    `limit`, `customer` and `job` are numbers of cards; `retest` is the day by which it is wanted again; `part` is what the shop
    orders it as, `lot` the supplier's.
    """

    serial: str
    what: str = ""
    plating: str = ""
    limit: int | None = None
    customer: int | None = None
    job: int | None = None
    made: date | None = None
    received: date | None = None
    remarks: str = ""
    retest: date | None = None
    part: str = ""
    lot: str = ""


@dataclass(frozen=True, slots=True)
class StatedRange:
    """A range of a meter: the largest reading and the accuracy stated for it, in the unit of the reading (V, A or Ω)."""

    up_to: float
    accuracy: Accuracy


@dataclass(frozen=True, slots=True)
class MeterCard:
    """A meter of the bench.

    `measures` is "voltage", "current" or "four-wire resistance"; `ranges` stand smallest first. `calibrated`, `due` and
    `certificate` are those of its last calibration.
    """

    name: str
    measures: str
    serial: str = ""
    ranges: tuple[StatedRange, ...] = ()
    profile: str = ""
    address: str = ""
    remarks: str = ""
    calibrated: date | None = None
    due: date | None = None
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class CheckStandardCard:
    """A resistance that is known (`value` with its standard `uncertainty`, ohm) and read again and again.

    Its value is that of its last calibration, where that gave one.
    """

    name: str
    value: float
    uncertainty: float | None = None
    serial: str = ""
    remarks: str = ""
    calibrated: date | None = None
    due: date | None = None
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class LimitCard:
    """A `resistance` (ohm) not to be exceeded, who says so, and for what."""

    name: str
    resistance: float
    source: str = ""
    purpose: str = ""


@dataclass(frozen=True, slots=True)
class PersonCard:
    """Somebody who measures here."""

    name: str
    initials: str = ""
    remarks: str = ""


@dataclass(frozen=True, slots=True)
class CustomerCard:
    """Somebody for whom the shop works; `language` is that of the reports."""

    name: str
    address: str = ""
    contact: str = ""
    language: str = ""
    remarks: str = ""


@dataclass(frozen=True, slots=True)
class JobCard:
    """Work that was asked for: what is `promised`, and by when."""

    number: str
    title: str = ""
    customer: int | None = None
    promised: str = ""
    promised_by: date | None = None
    state: str = ""


AnyCard = SpecimenCard | MeterCard | CheckStandardCard | LimitCard | PersonCard | CustomerCard | JobCard
