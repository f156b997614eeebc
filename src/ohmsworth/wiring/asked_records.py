"""What is asked of records that are there: a service card by its serial, and how contacts age."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ohmsworth.wiring.ports import shop
from ohmsworth.wiring.records import open_records, refuse_missing_records

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ohmsworth.report.care.ageing_answer import AgeingAnswer
    from ohmsworth.work.service.finding import ToldService


def service_card_of(
    serial: str, address: str, card: int | None = None, air: str = "", where: str = "records"
) -> ToldService:
    """The service card of the specimen or the cable with `serial`, in records at a path or an address of PostgreSQL.

    `card` is its number, where several have this serial; `air` the class of the air that a specimen is kept in; `where` what the
    records are called where there are none.

    Raises
    ------
    InputRefused
        Where there are no records, none has the serial, several do and none of them is named, or nothing can be told of it.
    """
    from ohmsworth.work.service.finding import told_service

    refuse_missing_records(address, where)
    with open_records(address) as records:
        return told_service(shop(records), serial, card, air)


def ageing_of(address: str, by: str, only: Sequence[str]) -> AgeingAnswer:
    """How contacts age, told apart by a word of `asked_ageing.NAMES`; `only` are texts such as "plating=gold".

    Raises
    ------
    InputRefused
        For other words, where there are no records, or nothing in them has what is chosen.
    """
    from ohmsworth.work.care.ageing import ageing
    from ohmsworth.work.care.asked_ageing import asked_of

    way, chosen = asked_of(by, only)
    refuse_missing_records(address)
    with open_records(address) as records:
        return ageing(records, way, chosen)
