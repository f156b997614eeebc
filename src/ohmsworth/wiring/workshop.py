"""Adapters that read and write the workshop's lists from and to their texts."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ohmsworth.cables.workshop.cutting import Reel
    from ohmsworth.cables.workshop.estimate import Prices
    from ohmsworth.work.workshop_ports import ReadReels


def reels_in(text: str) -> ReadReels:
    """The reels in the text of a reels.csv."""
    from ohmsworth.adapters.files.workshop import reels_in as read

    return read(text)


def prices_in(text: str) -> Prices:
    """The prices in the text of a prices.toml."""
    from ohmsworth.adapters.files.workshop import prices_in as read

    return read(text)


def text_of_file(data: bytes, name: str) -> str:
    """The text of a file as spreadsheets and editors write it."""
    from ohmsworth.adapters.files.workshop import text_of_file as read

    return read(data, name)


def reels_csv(reels: Sequence[Reel]) -> str:
    """The text of a reels.csv with these reels."""
    from ohmsworth.adapters.files.workshop import reels_csv as write

    return write(reels)
