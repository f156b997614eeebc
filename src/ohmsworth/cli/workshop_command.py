"""The command ``workshop`` with its options; what it does is imported once it runs."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


def workshop(
    *folders: Path,
    reels: Path | None = None,
    prices: Path | None = None,
    quantity: int | None = None,
    seconds: float = 20.0,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
    pictures: Path | None = None,
) -> None:
    """Say what the workshop needs to build the cables in FOLDERS (cable.toml): pieces, reels, parts, time, price.

    Parameters
    ----------
    folders
        The folder of each cable.
    reels
        A file of the reels in stock, such as reels.csv: from which reel to cut what, with the least scrap.
    prices
        A file of the shop's prices and times, such as prices.toml: what the order costs.
    quantity
        Copies of each cable, whatever its cable.toml says.
    seconds
        Time for finding the best cutting plan of each wire; then the best that was found is told.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    pictures
        Write every picture of the report, with its numbers, into this folder.
    """
    from ohmsworth.cli import workshop as printing
    from ohmsworth.cli.reported import Targets

    order = printing.Order(folders, reels, prices, quantity, seconds)
    printing.workshop(order, json, Targets(html, pdf, pictures))
