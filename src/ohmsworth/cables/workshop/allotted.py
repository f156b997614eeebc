"""Which piece of the cut list comes from which reel: a plan knows lengths alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ohmsworth.cables.workshop.cutting import CuttingPlan
from ohmsworth.cables.workshop.pieces import Pieces

#: So many pieces of a line of the cut list.
Allotment = tuple[tuple[int, Pieces], ...]


@dataclass(frozen=True, slots=True)
class Allotted:
    """Pieces by reel, in the order in which the plan has its reels, and those for which no reel has room."""

    reels: tuple[Allotment, ...]
    missing: Allotment


def allot(plan: CuttingPlan, pieces: Sequence[Pieces]) -> Allotted:
    """The lines of the cut list on the reels of the plan: of one length, in the order of the list."""
    left = {k: line.number for k, line in enumerate(pieces) if line.stock == plan.stock}

    def taken(cuts: Iterable[tuple[int, int]]) -> Allotment:
        found: list[tuple[int, Pieces]] = []
        for millimetres, number in cuts:
            for k, there in left.items():
                some = min(number, there) if pieces[k].millimetres == millimetres else 0
                if some:
                    found.append((some, pieces[k]))
                    left[k] = there - some
                    number -= some  # noqa: PLW2901 - what of it is still to be found
        return tuple(found)

    return Allotted(tuple(taken(reel.pieces) for reel in plan.reels), taken(plan.missing))
