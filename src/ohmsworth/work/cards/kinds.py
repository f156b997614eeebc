"""Every kind of card but studies: its words, its fields, and the steps that can be written on it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from ohmsworth.advice.remedies import USUAL_NAMES
from ohmsworth.errors import Fault
from ohmsworth.materials import PLATINGS
from ohmsworth.work.cards.asks import Ask
from ohmsworth.work.cards.said import (
    AnyCard,
    CheckStandardCard,
    CustomerCard,
    JobCard,
    LimitCard,
    MeterCard,
    PersonCard,
    SpecimenCard,
)
from ohmsworth.work.records import CardKind

CALIBRATED = "calibrated"
RETEST = "re-test wanted by"
TREATED = "treated"

MEASURES = ("voltage", "current", "four-wire resistance")
JOB_STATES = ("asked for", "agreed", "in work", "done", "handed over", "called off")
#: A job in one of these asks for nothing more.
JOB_OVER = ("handed over", "called off")
CAREFUL = "Write only what the work needs: what was written stays in the history."

Values = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Step:
    """Something that happens to a card and is written as a line of its own.

    `kind` is that of the line; `with_new` says whether a new card's form asks for it too.
    """

    kind: str
    slug: str
    words: str
    asks: tuple[Ask, ...]
    with_new: bool = False


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of card.

    Parameters
    ----------
    kind, slug
        Its name in the records and in addresses.
    one, several, about
        Its words, and a sentence on what such a card is good for.
    asks
        Its fields.
    make
        Makes the card from the values of its fields.
    title
        What a list shows, from the texts that are kept.
    check
        What is wrong between the fields.
    only_one
        The field in which no two cards are alike, or "".
    steps
        What can be written on it.
    """

    kind: CardKind
    slug: str
    one: str
    several: str
    about: str
    asks: tuple[Ask, ...]
    make: Callable[..., AnyCard]
    title: Callable[[Values], str]
    check: Callable[[Values], tuple[Fault, ...]] = lambda _: ()
    only_one: str = ""
    steps: tuple[Step, ...] = ()


def _joined(*keys: str, between: str = " – ") -> Callable[[Values], str]:
    def title(kept: Values) -> str:
        return between.join(str(kept[key]) for key in keys if kept.get(key))

    return title


def _later(values: Values, first: str, last: str, words: tuple[str, str]) -> tuple[Fault, ...]:
    if values.get(first) and values.get(last) and values[last] < values[first]:
        found = f"{values[last]}, before it was {words[0]}"
        return (Fault(words[1], found, f"{values[first]} or later", "Exchange the two, or correct one."),)
    return ()


def _specimen_days(values: Values) -> tuple[Fault, ...]:
    return _later(values, "made", "received", ("made", "received on"))


def calibration_days(values: Values) -> tuple[Fault, ...]:
    """A calibration that is due again before it was made."""
    return _later(values, "on", "due", ("calibrated", "next due"))


def _believed_uncertainty(values: Values) -> tuple[Fault, ...]:
    value, uncertainty = values.get("value"), values.get("uncertainty")
    if value is not None and uncertainty is not None and uncertainty >= value:
        mend = "Check the units: a certificate states it for the value itself."
        return (Fault("standard uncertainty", "as much as the value or more", "less than the value", mend),)
    return ()


_REMARKS = Ask("remarks", "remarks", "lines", most=2000)
_SERIAL = Ask("serial", "serial number")


def _calibration(*then: Ask) -> Step:
    asks = (
        Ask("on", "calibrated on", "day", needed=True),
        Ask("due", "next due", "day", "It is shown on the first page a month before."),
        Ask("certificate", "certificate", hint="Its number, or where it is kept."),
        Ask("by_whom", "calibrated by"),
        *then,
    )
    return Step(CALIBRATED, "calibration", "Add a calibration", asks, with_new=True)


SPECIMEN = Kind(
    "specimen",
    "specimens",
    "specimen",
    "specimens",
    "A thing with contacts that is measured, perhaps again after years: its readings of all studies stand on its page.",
    (
        Ask(
            "serial", "serial", hint="What is written on it. No other specimen has it.", needed=True, most=120
        ),
        Ask("what", "what it is", hint="Such as: microphone cable, 5 m, three-pole plugs."),
        Ask("part", "part", hint="As the shop orders it: how it ages is told by part.", most=120),
        Ask("plating", "plating", hint="Of its contacts.", options=PLATINGS, most=80),
        Ask("lot", "supplier lot", hint="From whom, and which lot or delivery.", most=120),
        Ask("limit", "limit", "card", "What its contacts must not exceed.", of="limit"),
        Ask("customer", "customer", "card", of="customer"),
        Ask("job", "job", "card", of="job"),
        Ask("made", "made on", "day"),
        Ask("received", "received on", "day"),
        _REMARKS,
    ),
    SpecimenCard,
    _joined("serial", "what"),
    _specimen_days,
    "serial",
    (
        Step(
            RETEST,
            "re-test",
            "Want it measured again",
            (Ask("by", "re-test by", "day", "Leave it empty when no re-test is wanted any more."),),
            with_new=True,
        ),
        Step(
            TREATED,
            "treatment",
            "Write down what was done to it",
            (
                Ask("on", "done on", "day", needed=True),
                Ask("what", "what was done", "choice", needed=True, options=USUAL_NAMES),
                Ask(
                    "read_as",
                    "read afterwards as",
                    most=120,
                    hint="The condition from then on, such as cleaned. Empty: of several that were read that day, the last one.",
                ),
                Ask("by_whom", "done by", hint="Empty: whoever writes this."),
                Ask(
                    "note",
                    "note",
                    hint="Such as: which cleaner, which contacts. It stands on the service card.",
                ),
            ),
        ),
    ),
)
METER = Kind(
    "meter",
    "meters",
    "meter",
    "meters",
    "What its maker states, range by range, and when it was calibrated: a new study takes its accuracy from here.",
    (
        Ask("name", "name", hint="As the bench calls it.", needed=True, most=120),
        Ask("measures", "what it measures", "choice", needed=True, options=MEASURES),
        _SERIAL,
        Ask("ranges", "ranges", "ranges", "Up to where, the accuracy stated, the size of one count."),
        Ask("profile", "profile of its connection", hint="How it is spoken to; leave it empty for a meter that is read by eye."),
        Ask("address", "address", hint="Where it is connected."),
        _REMARKS,
    ),
    MeterCard,
    _joined("name", "measures"),
    only_one="name",
    steps=(_calibration(Ask("accuracy", "accuracy then", "accuracy", "Empty: as the ranges say.", later=True)),),
)  # fmt: skip
CHECK_STANDARD = Kind(
    "check standard",
    "check-standards",
    "check standard",
    "check standards",
    "A resistance that is known and is read again and again: it shows whether the bench still measures as it did.",
    (
        Ask("name", "name", needed=True, most=120),
        Ask("value", "value", "quantity", "Such as 10 mΩ.", needed=True, dimension="resistance"),
        Ask("uncertainty", "standard uncertainty", "quantity", "Half of what is stated for k = 2.", dimension="resistance"),
        _SERIAL,
        _REMARKS,
    ),
    CheckStandardCard,
    _joined("name", "value"),
    _believed_uncertainty,
    only_one="name",
    steps=(
        _calibration(
            Ask("value", "value then", "quantity", "Empty: it stays.", dimension="resistance", later=True),
            Ask("uncertainty", "standard uncertainty then", "quantity", dimension="resistance", later=True),
        ),
    ),
)  # fmt: skip
LIMIT = Kind(
    "limit",
    "limits",
    "limit",
    "limits",
    "A resistance that contacts must not exceed, and who says so.",
    (
        Ask("name", "name", needed=True, most=120),
        Ask("resistance", "resistance", "quantity", "Such as 3 mΩ.", needed=True, dimension="resistance"),
        Ask("source", "source", hint="Who says so: a standard, a customer, a maker, the shop."),
        Ask("purpose", "for what", hint="Such as: speaker plugs, new."),
    ),
    LimitCard,
    _joined("name", "resistance"),
    only_one="name",
)
PERSON = Kind(
    "person",
    "people",
    "person",
    "people",
    "Somebody who measures here: the name stands beside every reading.",
    (
        Ask("name", "name", needed=True, most=80),
        Ask("initials", "initials", most=12),
        Ask("remarks", "role, remarks", "lines", CAREFUL, most=2000),
    ),
    PersonCard,
    _joined("name"),
    only_one="name",
)
CUSTOMER = Kind(
    "customer",
    "customers",
    "customer",
    "customers",
    "Somebody for whom the shop works.",
    (
        Ask("name", "name", needed=True, most=120),
        Ask("address", "address", "lines", most=500),
        Ask("contact", "contact", "lines", "Whom to ask, telephone, mail.", most=500),
        Ask("language", "language", hint="Of the reports.", most=60),
        Ask("remarks", "remarks", "lines", CAREFUL, most=2000),
    ),
    CustomerCard,
    _joined("name"),
)
JOB = Kind(
    "job",
    "jobs",
    "job",
    "jobs",
    "Work that was asked for: what is promised, and by when. Studies and specimens can belong to it.",
    (
        Ask("number", "number", hint="As the shop counts its jobs.", needed=True, most=60),
        Ask("title", "title"),
        Ask("customer", "customer", "card", of="customer"),
        Ask("promised", "what is promised", "lines", most=2000),
        Ask("promised_by", "promised by", "day"),
        Ask("state", "state", "choice", options=JOB_STATES),
    ),
    JobCard,
    _joined("number", "title"),
    only_one="number",
)

KINDS: dict[CardKind, Kind] = {
    kind.kind: kind for kind in (SPECIMEN, METER, CHECK_STANDARD, LIMIT, PERSON, CUSTOMER, JOB)
}
