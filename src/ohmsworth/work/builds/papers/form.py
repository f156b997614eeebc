"""What a person states for a paper, and what is proposed."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Container, Mapping
from dataclasses import dataclass, fields, replace
from datetime import datetime
from typing import TYPE_CHECKING

from ohmsworth.work.builds.face import PAPER_WORD
from ohmsworth.work.builds.folder import NameFile
from ohmsworth.work.builds.log import CableState
from ohmsworth.work.builds.papers.kept import paper_key
from ohmsworth.work.records import NOBODY, Records
from ohmsworth.work.shop_settings import ShopSettings

if TYPE_CHECKING:
    from ohmsworth.report.papers.certificate import Certificate


@dataclass(frozen=True, slots=True)
class PaperForm:
    """Answers as text, by the keys of the table [certificate]; "" where nothing is stated."""

    number: str = ""
    tested_by: str = ""
    date: str = ""
    customer: str = ""
    supersedes: str = ""
    reason: str = ""
    shop: str = ""
    address: str = ""

    def tidy(self) -> PaperForm:
        """Each answer on one line, without outer blanks."""
        return PaperForm(*(" ".join(getattr(self, one.name).split()) for one in fields(self)))

    def following(self, holding: Mapping[int, Certificate], outdated: Container[int]) -> PaperForm:
        """The same after earlier papers, by their lines, the last first.

        The customer stays who it was, and a paper that no longer says what the cable does is proposed to be superseded.
        """
        if not holding:
            return self
        line, last = next(iter(holding.items()))
        supersedes = last.number if line in outdated else self.supersedes
        return replace(self, customer=self.customer or last.customer, supersedes=supersedes)


def stated_paper(toml: str) -> dict[str, str]:
    """The texts of the table [certificate] that a description holds; empty where it holds none, or cannot be read."""
    try:
        said = tomllib.loads(toml).get("certificate")
    except tomllib.TOMLDecodeError:
        return {}
    texts = said if isinstance(said, dict) else {}
    return {name: " ".join(text.split()) for name, text in texts.items() if isinstance(text, str)}


def next_number(records: Records, year: int, name_file: NameFile) -> str:
    """The year, and the number after the highest that the records know of it.

    Papers that were issued from folders are not known here, so that it is a proposal.
    """
    begin = f"{PAPER_WORD} {year}-"
    found = records.cards("cable", search=begin, most=records.count("cable"))
    given = re.compile(rf"^{re.escape(begin)}([0-9]{{1,9}})$", re.MULTILINE)
    last = max((int(one) for card in found for one in given.findall(card.face.text)), default=0)
    while True:  # a number may have been given in this very moment
        last += 1
        number = f"{year}-{last:03d}"
        if records.card_of(paper_key(name_file(number))) is None:
            return number


def proposed(
    records: Records, state: CableState, now: datetime, by: str, settings: ShopSettings, name_file: NameFile
) -> PaperForm:
    """What the form begins with: `by` is at the bench; the day is that of the last row that counts, where `now` is.

    Shop, address and customer are those of the description's own table where nothing else says them.
    """
    stated = stated_paper(state.toml)
    settled = ", ".join(line.rstrip(",") for line in settings.shop_address.splitlines())
    rows = [row.at.astimezone(now.tzinfo) for row in state.counted]
    day = max(rows, default=now).date()
    return PaperForm(
        number=next_number(records, now.year, name_file),
        tested_by="" if by == NOBODY else by,
        date=day.isoformat(),
        customer=stated.get("customer", ""),
        shop=settings.shop_name or stated.get("shop", ""),
        address=settled or stated.get("address", ""),
    )
