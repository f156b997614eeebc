"""The cards of the season: people, customers, meters, limits, jobs, and the connectors that were read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, time, timedelta

from ohmsworth.adapters.simulated.hall import FRESH, STAGE
from ohmsworth.adapters.simulated.season.built import CUSTOMERS, ORDERS, Order
from ohmsworth.adapters.simulated.season.days import hall_day, moment, workday
from ohmsworth.adapters.simulated.season.visits import AGEING, CLEANED, EXERCISED, VISITS, Visit
from ohmsworth.adapters.simulated.shop import SHUNT
from ohmsworth.work.fill_season import CardChanged, CardMade, Deed, NoteWritten, StepWritten
from ohmsworth.work.fill_shop import InventedCard
from ohmsworth.work.records import CardKind

OWNER, HELPER = "A. Person", "B. Helper"
#: Days before the season's last on which the shop opened its records, and on which the meter that reads cables was calibrated.
OPENED, OHMMETER = 352, 200
_WHAT = {
    "club": "stage box input, three pins", "church": "wall plate, three pins", "theatre": "patch point, three poles",
    "school": "microphone lead, three-pin plug", "festival": "stage box input, three pins",
}  # fmt: skip
_LIMIT = "connector in use"
#: A job in so many is one of those that are shown here.
_BETWEEN = 7
#: What was done under each name, and what it took for one connector: minutes, and what it used up.
_TOOK = {
    CLEANED: ("clean", "6 min, 0.80 of cleaner and swabs"),
    EXERCISED: ("exercise", "worked in and out twenty times: 2 min, nothing used up"),
}
#: From which delivery the connectors are, and how many days before the season's last one they were made, where that is known.
_LOTS = {
    "club": ("delivery 114", 1140),
    "theatre": ("delivery 87", 2050),
    "school": ("delivery 151", 350),
}


def card_deeds(last: date) -> Iterator[Deed]:
    """Everything that was written on cards."""
    begun = moment(last, OPENED, 8, 30)
    for card in (*_people(), *_limits(), *_customers(), *_meters(last)):
        yield Deed(begun, OWNER, CardMade(card))
    numbers = _job_numbers(last)
    yield from _hall(last, numbers["job"])
    yield from _calibrations(last)
    for visit in VISITS:
        yield from _job(visit, last, numbers[f"job {visit.name}"])
    for order in ORDERS:
        yield from _order(order, last, numbers[f"job {order.letter}"])
    again = {"by": str(workday(last, -9))}
    yield Deed(moment(last, 12, 16), HELPER, StepWritten("club 3", "re-test", again))


def _job_numbers(last: date) -> dict[str, str]:
    """How the shop counts its jobs, by the names of their cards: from year to year, with smaller ones between them."""
    came = {"job": hall_day(last)}
    came |= {f"job {visit.name}": workday(last, visit.back + 2) for visit in VISITS}
    came |= {f"job {order.letter}": workday(last, order.first + 6) for order in ORDERS}
    numbers: dict[str, str] = {}
    for day, name in sorted((day, name) for name, day in came.items()):
        before = sum(number.startswith(f"{day:%y}-") for number in numbers.values())
        numbers[name] = f"{day:%y}-{_BETWEEN * before + 2:03d}"
    return numbers


def _card(
    name: str, kind: CardKind, links: Mapping[str, str] | None = None, /, **fields: object
) -> InventedCard:
    return InventedCard(name, kind, fields, links or {})


def _people() -> Iterator[InventedCard]:
    yield _card("owner", "person", name=OWNER, initials="AP", remarks="Owner.")
    yield _card("helper", "person", name=HELPER, initials="BH", remarks="Apprentice.")


def _limits() -> Iterator[InventedCard]:
    source = "the connector's datasheet"
    yield _card(
        "limit", "limit", name="stage connector", resistance="3 mΩ", source=source, purpose="a mated pair"
    )
    source = "the shop's own limit for connectors in use"
    yield _card(_LIMIT, "limit", name=_LIMIT, resistance="5 mΩ", source=source, purpose="a mated pair")


def _customers() -> Iterator[InventedCard]:
    for name, called in CUSTOMERS.items():
        yield _card(_customer(name), "customer", name=called, language="English")


def _meters(last: date) -> Iterator[InventedCard]:
    """Each calibrated before the season began: days before the last on which it was, and on which it is due again."""
    ranges = {"up_to": "20 mV", "accuracy": "0.03 % + 5 counts", "resolution": "0.1 µV"}
    yield _meter("voltmeter", "voltage", "V-001", ranges, _calibrated(last, 383, 18, "K-091"))
    ranges = {"up_to": "200 mA", "accuracy": "0.2 % + 3 counts", "resolution": "10 µA"}
    yield _meter("ammeter", "current", "A-001", ranges, _calibrated(last, 356, -9, "K-094"))
    ranges = {"up_to": "20 Ω", "accuracy": "0.1 % + 2 counts", "resolution": "0.1 mΩ"}
    yield _meter("ohmmeter", "four-wire resistance", "R-001", ranges, _calibrated(last, 562, 197, "K-072"))
    days = _calibrated(last, 365, -365, "K-095")
    yield _card("shunt", "check standard", name=SHUNT, value="1.0023 mΩ", uncertainty="0.4 µΩ", **days)


def _meter(
    name: str, measures: str, serial: str, of: Mapping[str, str], days: Mapping[str, str]
) -> InventedCard:
    fields = {"name": f"{name} 1", "measures": measures, "serial": serial, "ranges": [dict(of)], **days}
    return InventedCard(name, "meter", fields)


def _calibrated(last: date, on: int, due: int, certificate: str) -> dict[str, str]:
    """The fields of a calibration."""
    return {"on": str(workday(last, on)), "due": str(workday(last, due)), "certificate": certificate}


def ohmmeter_calibrated(last: date) -> date:
    """The day on which the meter that reads cables was calibrated."""
    return workday(last, OHMMETER)


def _calibrations(last: date) -> Iterator[Deed]:
    """Those in the season: the ammeter's is due nine days after it."""
    for meter, back, on, due, certificate in (
        ("ohmmeter", 199, OHMMETER, -165, "K-107"),
        ("voltmeter", 20, 22, -343, "K-118"),
    ):
        given = {**_calibrated(last, on, due, certificate), "by_whom": "the calibration laboratory"}
        yield Deed(moment(last, back, 11), OWNER, StepWritten(meter, "calibration", given))


def _hall(last: date, number: str) -> Iterator[Deed]:
    """The concert hall's connectors, whose studies stand in folders of their own."""
    day = hall_day(last)
    at = datetime.combine(day, time(8, 40), UTC)
    promised = "Say whether the connectors need cleaning, and clean them if so."
    job = _card(
        "job", "job", {"customer": "customer"}, number=number, title="Dark stage connectors",
        promised=promised, promised_by=str(day + timedelta(days=17)), state="handed over",
    )  # fmt: skip
    yield Deed(at, OWNER, CardMade(job))
    links = {"limit": "limit", "customer": "customer", "job": "job"}
    for name in (*STAGE, *FRESH):
        card = _card(
            name, "specimen", links, serial=name, what="stage connector, three pins", plating="silver"
        )
        yield Deed(at, OWNER, CardMade(card))


def _order(order: Order, last: date, number: str) -> Iterator[Deed]:
    """The job of an order of cables."""
    name, came = f"job {order.letter}", moment(last, order.first + 6, 10)
    promised = workday(last, order.last - 7 if order.promised is None else -order.promised)
    card = _card(
        name, "job", {"customer": _customer(order.customer)}, number=number, title=order.title,
        promised=f"{order.design.name.capitalize()}s of {order.design.length:g} m, each tested.",
        promised_by=str(promised), state="in work",
    )  # fmt: skip
    yield Deed(came, OWNER, CardMade(card))
    if order.promised is None:
        told = CardChanged(name, {"state": "handed over"}, "fetched by the customer")
        yield Deed(moment(last, max(order.last - 3, 0), 16), OWNER, told)


def _customer(name: str) -> str:
    """The name of a customer's card."""
    return "customer" if name == "hall" else f"customer {name}"


def _job(visit: Visit, last: date, number: str) -> Iterator[Deed]:
    """The job of a visit with its connectors, what was done to them, and how it ended."""
    came = moment(last, visit.back + 2, 14)
    customer, job = _customer(visit.name), f"job {visit.name}"
    promised = visit.back - 28
    card = _card(
        job, "job", {"customer": customer}, number=number, title=visit.title,
        promised_by=str(workday(last, promised)), state="in work",
    )  # fmt: skip
    yield Deed(came, OWNER, CardMade(card))
    links = {"limit": _LIMIT, "customer": customer, "job": job}
    lot, old = _LOTS.get(visit.name, ("", None))
    made = "" if old is None else str(last - timedelta(days=old))
    for serial in visit.serials:
        given = {
            "serial": serial,
            "what": _WHAT[visit.name],
            "plating": visit.plating,
            "lot": lot,
            "made": made,
            "received": str(came.date()),
        }
        yield Deed(came, HELPER, CardMade(InventedCard(serial, "specimen", given, links)))
    for serial in visit.treated:
        for minutes, name in enumerate(visit.treatments):
            what, note = _TOOK[name]
            given = {"on": str(workday(last, visit.back)), "what": what, "read_as": name, "note": note}
            yield Deed(
                moment(last, visit.back, 16, 30 + minutes), HELPER, StepWritten(serial, "treatment", given)
            )
    if promised > 0:
        told = CardChanged(job, {"state": "handed over"}, "fetched by the customer")
        yield Deed(moment(last, visit.back - 5, 15), OWNER, told)
    if visit.name == "club":
        yield from (
            Deed(
                moment(last, back, 15),
                HELPER,
                NoteWritten("club 3", "Read again at the club; nothing was done to it."),
            )
            for back in AGEING["club"]
        )
