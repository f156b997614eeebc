"""A paper that somebody brings, looked up among those of cables and of lots in a shop's records."""

from __future__ import annotations

from ohmsworth.work.builds.papers.issuing import cable_texts_now
from ohmsworth.work.lots.papered import lot_texts_now
from ohmsworth.work.paper_lines import NameFile
from ohmsworth.work.papers.held import HeldPaper
from ohmsworth.work.papers.kept.held import held_paper
from ohmsworth.work.shop import Shop


def held_in_shop(shop: Shop, number: str, name_file: NameFile) -> HeldPaper | None:
    """What the records hold under the number of a paper; None where they know none."""
    now = {
        "cable": cable_texts_now(shop.cables.test_csv),
        "study": lot_texts_now(shop.records, shop.folder_of),
    }
    return held_paper(shop.records, number, name_file, now)
