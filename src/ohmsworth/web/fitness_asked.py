"""What the address of a page about the bench's fitness asks: a check standard, a study of repeatability, a limit."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote, urlencode

from fastapi import Request

from ohmsworth.errors import QuantityFault
from ohmsworth.readings.study import Limit
from ohmsworth.units import parse_quantity
from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.filters import fault_words
from ohmsworth.work.cards.asks import BELIEVED
from ohmsworth.work.records import NoSuchCard
from ohmsworth.work.shop_fitness import REPEATABILITY, Asked
from ohmsworth.work.standards import Standard, standards

PLACE = "/fitness"
#: Who says so, of a limit that is asked about on the page.
ON_THE_PAGE = "asked on the page"


@dataclass(frozen=True, slots=True)
class FitnessAsked:
    """The question with the text of its limit, what is wrong with it, and the standards that can be chosen."""

    asked: Asked
    limit_text: str
    limit_fault: str
    known: tuple[Standard, ...]

    def address(self, page: str = PLACE, **other: str) -> str:
        """The address of `page` about the same, with `other` fields."""
        standard, study = self.asked.standard, self.asked.study
        fields = {
            "standard": str(standard.card) if standard else "",
            "study": str(study) if study is not None else "none",
            "limit": "" if self.limit_fault else self.limit_text,
        } | other
        return f"{page}?{urlencode({name: text for name, text in fields.items() if text}, quote_via=quote)}"


def read_asked(request: Request) -> FitnessAsked:
    """What the address says; what it leaves out is the first check standard, and the study that the shop has chosen."""
    shop, query = shop_of(request), request.query_params
    known = standards(shop.records)
    standard = chosen_standard(known, query.get("standard", ""))
    text = query.get("limit", "").strip()[:80]
    limit, fault = _limit(text)
    return FitnessAsked(Asked(standard, _study(request), limit), text, fault, known)


def chosen_standard(known: tuple[Standard, ...], card: str) -> Standard | None:
    """The standard of a card's number, else the first."""
    found = (one for one in known if str(one.card) == card)
    return next(found, known[0] if known else None)


def _study(request: Request) -> int | None:
    shop, wanted = shop_of(request), request.query_params.get("study", "")
    if not wanted:
        wanted = shop.records.settings().get(REPEATABILITY, "")
    if not (wanted.isascii() and wanted.isdigit() and len(wanted) < 19):
        return None
    if shop.records.card(int(wanted)).kind != "study":
        raise NoSuchCard(f"Card no. {wanted} is no study.")
    return int(wanted)


def _limit(text: str) -> tuple[Limit | None, str]:
    if not text:
        return None, ""
    try:
        value = parse_quantity(text, "resistance")
        if not BELIEVED[0] <= value <= BELIEVED[1]:
            raise QuantityFault(text, "1 nΩ to 1 GΩ", "Check value and unit.")
    except QuantityFault as error:
        return None, fault_words(error)
    return Limit(value, ON_THE_PAGE), ""
