"""What an order is read from."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.cables.request import CableRequest
from ohmsworth.cables.workshop.cutting import Reel
from ohmsworth.cables.workshop.estimate import Prices


@dataclass(frozen=True, slots=True, eq=False)
class OrderedCable:
    """A cable as described, and the name of its folder."""

    folder: str
    request: CableRequest


@dataclass(frozen=True, slots=True, eq=False)
class LoadedWorkshop:
    """Cables to build, reels in stock and prices (None where none are named), and headings of the reels that are not used."""

    cables: tuple[OrderedCable, ...]
    reels: tuple[Reel, ...] | None
    prices: Prices | None
    unused: tuple[str, ...]
