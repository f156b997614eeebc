"""What is proposed for the next paper: its number, who tested, and what stands in the settings or the description."""

from __future__ import annotations

import re
import tomllib
from datetime import datetime

from ohmsworth.work.paper_lines import PAPER_WORD, NameFile, paper_key
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.papered import Papered
from ohmsworth.work.records import NOBODY, CardKind, Records
from ohmsworth.work.shop_settings import ShopSettings

#: Kinds of cards that have papers.
WITH_PAPERS: tuple[CardKind, ...] = ("cable", "study")


def stated_paper(toml: str) -> dict[str, str]:
    """The texts of the table [certificate] that a description holds; empty where it holds none, or cannot be read."""
    try:
        said = tomllib.loads(toml).get("certificate")
    except tomllib.TOMLDecodeError:
        return {}
    texts = said if isinstance(said, dict) else {}
    return {name: " ".join(text.split()) for name, text in texts.items() if isinstance(text, str)}


def next_number(records: Records, year: int, name_file: NameFile) -> str:
    """The year, and the number after the highest that the records know of it, over all that has papers.

    Papers that were issued from folders are not known here, so that it is a proposal.
    """
    begin = f"{PAPER_WORD} {year}-"
    found = [
        card for kind in WITH_PAPERS for card in records.cards(kind, search=begin, most=records.count(kind))
    ]
    given = re.compile(rf"^{re.escape(begin)}([0-9]{{1,9}})$", re.MULTILINE)
    last = max((int(one) for card in found for one in given.findall(card.face.text)), default=0)
    while True:  # a number may have been given in this very moment
        last += 1
        number = f"{year}-{last:03d}"
        if records.card_of(paper_key(name_file(number))) is None:
            return number


def proposed(papered: Papered, now: datetime, by: str, settings: ShopSettings) -> PaperForm:
    """What the form begins with: `by` is at the bench; the day is that of the last row that counts, where `now` is.

    Shop, address and customer are those of the description's own table where nothing else says them.
    """
    stated = stated_paper(papered.toml)
    settled = ", ".join(line.rstrip(",") for line in settings.shop_address.splitlines())
    day = max((at.astimezone(now.tzinfo) for at in papered.read_at), default=now).date()
    return PaperForm(
        number=next_number(papered.records, now.year, papered.ports.name_file),
        tested_by="" if by == NOBODY else by,
        date=day.isoformat(),
        customer=stated.get("customer", ""),
        shop=settings.shop_name or stated.get("shop", ""),
        address=settled or stated.get("address", ""),
    )
