"""What reads and writes the workshop's lists: the ports of the use cases that keep them in the records."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

# For their names alone: the first page of the day does not wait for what they bring along.
if TYPE_CHECKING:
    from ohmsworth.cables.workshop.cutting import Reel
    from ohmsworth.cables.workshop.estimate import Prices

#: Names of the files.
REELS, PRICES = "reels.csv", "prices.toml"


@dataclass(frozen=True, slots=True)
class ReadReels:
    """The reels in stock, and headings that are not used."""

    reels: tuple[Reel, ...]
    unused: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkshopPorts:
    """What reads and writes the workshop's lists.

    Parameters
    ----------
    reels
        Reads the text of a reels.csv; raises InputRefused with every fault.
    prices
        Reads the text of a prices.toml; raises InputRefused with every fault.
    text
        The text of a file with its name, in whatever letters it was saved; raises InputRefused.
    reels_csv
        Writes a reels.csv.
    """

    reels: Callable[[str], ReadReels]
    prices: Callable[[str], Prices]
    text: Callable[[bytes, str], str]
    reels_csv: Callable[[Sequence[Reel]], str]
