"""Which specimen or cable of the records a serial stands for, and its service card."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.readings.names import twin_key
from ohmsworth.report.document import Document
from ohmsworth.report.papers.service_card import ServiceAnswer
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.face import name_of
from ohmsworth.work.builds.log import fold
from ohmsworth.work.cards.naming import specimen_of_serial
from ohmsworth.work.records import Card, Records
from ohmsworth.work.service.cable_card import cable_page, cable_service
from ohmsworth.work.service.specimen_card import specimen_page, specimen_service
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk

#: Cables that hold the words of a serial and are looked at.
_MOST_CABLES = 200
_TOLD = 5


@dataclass(frozen=True, slots=True)
class ToldService:
    """What a service card says, with its page of today in the shop's name."""

    answer: ServiceAnswer
    page: Document


def told_service(shop: Shop, serial: str, card: int | None = None, air: str = "") -> ToldService:
    """The service card of the specimen or the cable with this serial.

    Parameters
    ----------
    shop
        The records.
    serial
        In any letters and blanks.
    card
        Its number, where several have this serial.
    air
        Class of the air that a specimen is kept in; "" where nobody said.

    Raises
    ------
    InputRefused
        Where none has it, several do and none of them is named, or nothing can be told of it.
    """
    found = one_of(pieces(shop.records, serial), serial, card)
    if found.kind == "cable":
        if air:
            mend = "Leave it out."
            raise InputRefused(
                (Fault("--air", f"{shorten(air)} for a cable", "the air of a specimen", mend),)
            )
        cable = cable_service(CableDesk(shop), found.number)
        return ToldService(cable, cable_page(shop, cable))
    specimen = specimen_service(Desk(shop), shop, found.number, air)
    return ToldService(specimen, specimen_page(shop, specimen))


def pieces(records: Records, serial: str) -> tuple[Card, ...]:
    """Cards of specimens and cables with this very serial."""
    specimen = specimen_of_serial(records, serial)
    found = [] if specimen is None else [records.card(specimen)]
    for cable in records.cards("cable", search=serial, most=_MOST_CABLES) if serial.strip() else ():
        theirs = name_of(fold(records.lines(cable.number)).toml)[1]
        if theirs and twin_key(theirs) == twin_key(serial):
            found.append(cable)
    return tuple(found)


def one_of(found: tuple[Card, ...], serial: str, card: int | None) -> Card:
    """The one that is meant.

    Raises
    ------
    InputRefused
        Where there is none, or it is not clear.
    """
    expected = "the serial of a specimen or a cable in the records"
    if not found:
        mend = "Look under Specimens and Cables on the bench how it is written there."
        raise InputRefused((Fault("the serial", f"{shorten(serial)}, which none has", expected, mend),))
    if card is None and len(found) == 1:
        return found[0]
    told = "; ".join(f"card {one.number}, a {one.kind}: {shorten(one.face.title)}" for one in found[:_TOLD])
    if card is None:
        words = f"{shorten(serial)}, which {len(found)} have"
        raise InputRefused(
            (Fault("the serial", words, "one of them", f"Name its card with --card: {told}."),)
        )
    named = next((one for one in found if one.number == card), None)
    if named is None:
        words = f"{card}, which does not have the serial {shorten(serial)}"
        raise InputRefused((Fault("--card", words, "the number of a card that has it", f"There is {told}."),))
    return named
