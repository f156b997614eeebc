"""The cables of the season: which was built when, and what was wrong with a few of them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

import numpy as np

from ohmsworth.adapters.simulated.season import designs
from ohmsworth.adapters.simulated.season.cables import (
    Design,
    TrueCable,
    as_test_csv,
    build,
    exchanged,
    touching,
    with_excess,
)
from ohmsworth.adapters.simulated.season.days import moment
from ohmsworth.work.builds.writing import RowDraft
from ohmsworth.work.fill_season import CableBuilt, CableMeasured, Deed, PaperIssued, RowSlipped

SEED = 17
#: What the cores of the data cables and the plugs of the patch cables have more at the season's end than at its beginning.
DRUM_GROWN, PLUG_GROWN = 0.03, 0.9
#: Days from the season's first cable to its last day.
LONG = 175
#: What the shop states of every cable.
_STATED = 'length_tolerance = "1 %"\ntemperature = "20 °C"\ntemperature_tolerance = "3 K"\n'
_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Order:
    """Cables of one design: so many, from one day to another (days before the season's last), for whom.

    `letter` begins their serials; `papers` are the numbers of those that were handed over with a paper. `title` is what the job
    is called; `promised` says in how many days the rest is, where some are still to come.
    """

    letter: str
    design: Design
    many: int
    first: int
    last: int
    customer: str
    title: str
    papers: tuple[int, ...] = ()
    promised: int | None = None


#: What the shop's customers are called.
CUSTOMERS = {
    "hall": "the concert hall", "club": "the club by the harbour", "church": "the parish church", "theatre": "the town theatre",
    "school": "the music school", "festival": "the festival office", "hire": "the hire company", "house": "the broadcast house",
}  # fmt: skip
ORDERS = (
    Order("M", designs.MICROPHONE, 14, 174, 120, "school", "Microphone cables for the practice rooms"),
    Order("N", designs.MICROPHONE, 9, 60, 3, "festival", "Microphone cables for the stages", (2,), 4),
    Order("P", designs.PATCH, 15, 172, 5, "house", "Patch cables, as they are needed"),
    Order("D", designs.DATA, 13, 170, 6, "hire", "Lighting data cables", (2, 6, 7, 13)),
    Order("L", designs.LOUDSPEAKER, 8, 100, 8, "hire", "Loudspeaker cables", (6,), 8),
    Order("S", designs.MULTICORE, 4, 150, 15, "theatre", "Multicores for the stage", (1, 2, 3), 14),
    Order("V", designs.VIDEO, 4, 88, 64, "house", "Video cables for the studio"),
)


@dataclass(frozen=True, slots=True)
class Flaw:
    """What was wrong with a cable, and what was written when it was mended; without words it was left as it was."""

    of: Callable[[TrueCable], TrueCable]
    mended: str = ""


#: By serial: a few, of the kinds that happen.
FLAWS = {
    "M05": Flaw(lambda cable: with_excess(cable, "2", 0.11), "A bad crimp at contact 2 of the socket: made anew."),
    "M11": Flaw(lambda cable: exchanged(cable, "2", "3"), "Hot and cold were exchanged at the plug: soldered anew."),
    "P07": Flaw(lambda cable: with_excess(cable, "3", math.inf), "The ring's core had come off: soldered anew."),
    "D04": Flaw(lambda cable: exchanged(cable, "4", "5"), "Two cores were exchanged at the socket: soldered anew."),
    "D09": Flaw(lambda cable: touching(cable, "1", "2", 0.03), "A strand of the screen touched contact 2: cut off."),
    "L06": Flaw(lambda cable: with_excess(cable, "3", 0.06)),
    "S02": Flaw(lambda cable: touching(cable, "3.2", "3.3", 0.02), "A bridge of solder between 3.2 and 3.3: removed."),
    "S03": Flaw(lambda cable: with_excess(cable, "5.2", 0.06), "The crimp of 5.2 at the multipin: made anew."),
}  # fmt: skip
#: A cable of which a figure was typed into the wrong field, and one whose paper named the wrong customer.
SLIPPED, MISNAMED = "M09", "S01"
#: Handed over with a certificate, which is shown.
CERTIFIED = "S03"
#: Built last: one of which half was measured so far, and one that waits for its test.
BEGUN, WAITING = "N09", "S05"


def serials(order: Order) -> tuple[str, ...]:
    """The serials of an order's cables, in the order in which they were built."""
    return tuple(f"{order.letter}{number:02d}" for number in range(1, order.many + 1))


def cable_of(order: Order, number: int, back: float) -> TrueCable:
    """The cable as it was meant to be: its drum and its plugs as they were on the day."""
    chance = np.random.default_rng([SEED, ord(order.letter), number])
    gone = 1 - back / LONG
    drum = {"pair": DRUM_GROWN * gone} if order.design is designs.DATA else {}
    return build(order.design, chance, drum, PLUG_GROWN * gone if order.design is designs.PATCH else 0.0)


def cable_deeds(last: date, owner: str, helper: str, calibrated: date) -> Iterator[Deed]:
    """Everything that was done to cables."""
    meter = f'name = "ohmmeter 1"\nserial = "R-001"\ncalibrated = {calibrated}\n'
    for order in ORDERS:
        backs = np.linspace(order.first, order.last, order.many)
        for number, (serial, back) in enumerate(zip(serials(order), backs, strict=True), 1):
            at = moment(last, round(back), 10 + number % 5, 7 * number % 60)
            by = helper if number % 3 else owner
            yield from _made(order, number, serial, back, at, by, meter)
            if number in order.papers:
                yield from _papers(order, serial, at + 150 * _MINUTE, by)
    waiting = designs.MULTICORE.described(WAITING, meter, _STATED)
    yield Deed(moment(last, 1, 15, 40), helper, CableBuilt(WAITING, waiting))


def _made(
    order: Order, number: int, serial: str, back: float, at: datetime, by: str, meter: str
) -> Iterator[Deed]:
    cable, toml = cable_of(order, number, float(back)), order.design.described(serial, meter, _STATED)
    flaw = FLAWS.get(serial)
    rows = (cable if flaw is None else flaw.of(cable)).sheet()
    rows = rows[: len(rows) // 2] if serial == BEGUN else rows
    yield Deed(at, by, CableBuilt(serial, toml, as_test_csv(rows).encode()))
    if serial == SLIPPED:
        draft = RowDraft("A:3", "B:3", "0.131")
        why = "this was the figure of the next cable's screen"
        yield Deed(at + 2 * _MINUTE, by, RowSlipped(serial, draft, why))
    if flaw is not None:
        yield Deed(at + 4 * _MINUTE, by, CableMeasured(serial, flaw.of(cable).shows))
        if flaw.mended:
            yield Deed(at + 45 * _MINUTE, by, CableMeasured(serial, cable.shows, flaw.mended))


def _papers(order: Order, serial: str, at: datetime, by: str) -> Iterator[Deed]:
    if serial == MISNAMED:
        yield Deed(at, by, PaperIssued(serial, by, "the town theater"))
        why = "The name of the customer was misspelt."
        yield Deed(at + 26 * 60 * _MINUTE, by, PaperIssued(serial, by, CUSTOMERS[order.customer], why))
        return
    yield Deed(at, by, PaperIssued(serial, by, CUSTOMERS[order.customer]))
