"""Adapters of the invented scenario."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ohmsworth.wiring.outside import with_history
from ohmsworth.wiring.ports import shop
from ohmsworth.wiring.records import open_records

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


def write_demo_study(folder: Path) -> None:
    """Write the invented scenario's study folder."""
    from ohmsworth.adapters.simulated import write_hall

    write_hall(folder)


def write_demo_shop(bench: Path, plan: Path, lot: Path) -> None:
    """Write the folders of the shop that measured the scenario: its bench, its next job, and a lot."""
    from ohmsworth.adapters.simulated import write_next_hall, write_shop_bench, write_shop_lot

    write_shop_bench(bench)
    write_next_hall(plan)
    write_shop_lot(lot)


def fill_demo_records(address: str, earlier: Path, studies: Sequence[Path]) -> int:
    """Fill records with the shop of the invented scenario; the number of cards. Studies are taken in from their folders."""
    from ohmsworth.adapters.files import read_study_folder as read
    from ohmsworth.adapters.simulated.records import invented_shop, write_earlier
    from ohmsworth.work.fill_shop import fill_shop

    write_earlier(earlier)
    with open_records(address) as records:
        folders = [read(folder) for folder in (earlier, *studies)]
        return fill_shop(shop(records), invented_shop(), folders, with_history)
