"""What a cable is made from: what its wires are cut from, how many copies, and what is needed beside."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

#: More copies than this are a slip.
MOST_COPIES = 10_000


@dataclass(frozen=True, slots=True)
class Stock:
    """What the wires of a kind are cut from.

    Parameters
    ----------
    name
        As it stands on the reel.
    by_colour
        Whether each colour has reels of its own, named by `name` and the colour.
    """

    name: str
    by_colour: bool = False

    def called(self, colour: str) -> str:
        """What a wire of that colour is cut from."""
        return f"{self.name} {colour}" if self.by_colour and colour else self.name


@dataclass(frozen=True, slots=True)
class Supply:
    """How a cable is to be made.

    Parameters
    ----------
    quantity
        Copies.
    bulk
        Name of the bought cable whose cores are the wires of every kind without a stock of its own; "" for loose wires.
    stocks
        What the wires of a kind are cut from, by the kind's name; a kind that is not in it has the kind's own name.
    joint_allowance
        Metre cut beyond the length on either side of a joint; None where it is not stated.
    further
        Parts of each copy beside its connectors, with how many of each: labels, sleeves.
    """

    quantity: int = 1
    bulk: str = ""
    stocks: Mapping[str, Stock] = field(default_factory=dict)
    joint_allowance: float | None = None
    further: tuple[tuple[str, int], ...] = ()
