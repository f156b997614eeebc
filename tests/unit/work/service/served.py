"""A shop with a specimen that was read and treated on given days, for tests of its service card."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

from tests.unit.work.cards.shops import BY, new_shop, take, volts

from ohmsworth.report.document import Bullets, CodeFigure, Document, Headline, Paragraph, Subheading, Table
from ohmsworth.report.papers.service_card import SpecimenService
from ohmsworth.work.cards.naming import name_specimen
from ohmsworth.work.cards.writing import add_step, open_card
from ohmsworth.work.service.specimen_card import specimen_paper, specimen_service
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import open_study
from ohmsworth.work.study_desk import Desk

#: Today, for these tests.
TODAY = datetime(2026, 6, 1, 12, 0, tzinfo=UTC)
METERS = """
[bench.voltmeter]
percent_of_reading = 0.1
counts = 2
resolution = "0.001 mV"
[bench.ammeter]
percent_of_reading = 0.2
counts = 3
resolution = "0.01 mA"
"""
CARD = {"serial": "SN 7", "what": "stage connector", "plating": "silver"}


@dataclass
class ServedShop:
    """A specimen's card and what was done to it; with a limit of 8 mΩ unless there is to be none."""

    limited: bool = True
    said: Mapping[str, str] = field(default_factory=lambda: dict(CARD))
    shop: Shop = field(default_factory=lambda: replace(new_shop(), clock=lambda: TODAY))
    desk: Desk = field(init=False)
    card: int = field(init=False)

    def __post_init__(self) -> None:
        self.desk = Desk(self.shop)
        given = dict(self.said)
        if self.limited:
            limit = {"name": "own", "resistance": "8 mΩ", "source": "the shop"}
            given["limit"] = str(open_card(self.shop, "limit", limit, BY, "limit"))
        self.card = open_card(self.shop, "specimen", given, BY, "specimen")

    def study(self, *read: tuple[str, str, float], contact: str = "", study: int = 0) -> int:
        """Readings of the specimen in a study, each with its day, its condition, and in mΩ: four matings, forward and back."""
        if not study:
            toml = f'question = "How is it?"\n{METERS}'
            study = open_study(self.shop, toml, (), BY, self.shop.new_key())
            name_specimen(self.shop, study, "P1", self.card, BY, self.shop.new_key())
        for day, condition, milliohms in read:
            self._read(study, datetime.fromisoformat(f"{day}T10:00:00+00:00"), condition, milliohms, contact)
        return study

    def _read(self, study: int, at: datetime, condition: str, milliohms: float, contact: str) -> None:
        for mating in range(4):
            value = milliohms * (1 + 0.01 * (mating - 1.5))
            for sign in ("+", "-"):
                text = f"{'-' if sign == '-' else ''}{value / 10:.4f}"
                mated = f"{at:%y%m%d}{mating}"
                entry = volts("P1", text, sign, condition, mated, contact=contact, time=at, operator="Bea")
                take(self.shop, study, entry, specimen=self.card)

    def treat(self, on: str, what: str = "clean", read_as: str = "", **more: str) -> None:
        """Write down what was done."""
        given = {"on": on, "what": what, "read_as": read_as, "by_whom": "Cy", "note": "", **more}
        add_step(self.shop, self.card, "treatment", given, "", BY, self.shop.new_key())

    def service(self, air: str = "") -> SpecimenService:
        return specimen_service(self.desk, self.shop, self.card, air)

    def paper(self, air: str = "") -> Document:
        return specimen_paper(self.desk, self.shop, self.card, air)


def parts(document: Document) -> dict[str, str]:
    """What the one section says below each of its headings, in plain blanks; what stands before the first below ""."""
    (section,) = document.sections
    found: dict[str, str] = {"": ""}
    here = ""
    for block in section.blocks:
        if isinstance(block, Subheading):
            here = block.text
            found[here] = ""
        elif isinstance(block, Paragraph | Headline):
            found[here] += f"{block.text}\n"
        elif isinstance(block, Bullets):
            found[here] += "".join(f"- {one}\n" for one in block.items)
        elif isinstance(block, Table):
            here = block.caption
            rows = "".join(" | ".join(row) + "\n" for row in block.rows)
            found[here] = f"{rows}{block.note}\n"
        else:
            assert isinstance(block, CodeFigure)
            found[here] += "\n".join((block.content, *block.lines)) + "\n"
    return {name: text.replace("\u00a0", " ") for name, text in found.items()}
