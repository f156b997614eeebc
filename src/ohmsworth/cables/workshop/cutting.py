"""From which reel to cut which pieces with the least scrap: proven where the solver can, told where it cannot.

Pieces are never spliced. What is left of a reel that is cut counts as scrap unless it is long enough to be useful. In this
order: as little length missing as can be, as little scrap, as few reels cut. Every length is a whole number of millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ohmsworth.cables.workshop.fitting import Score, first_plan, floor_of, total
from ohmsworth.cables.workshop.programs import best_program

#: Seconds for the solver, each wire, before what was found is taken as it is.
SECONDS = 20.0


@dataclass(frozen=True, slots=True)
class Reel:
    """A reel in stock.

    Parameters
    ----------
    name
        Unlike those of other reels of its wire.
    stock
        Name of the wire on it.
    millimetres
        How much.
    useful
        Millimetres from which on a rest of it is worth keeping; None where nobody says so.
    """

    name: str
    stock: str
    millimetres: int
    useful: int | None = None


@dataclass(frozen=True, slots=True)
class CutReel:
    """A reel that is cut: millimetres and number of its pieces, the longest first, and millimetres that are left.

    `kept` says that the rest is long enough to stay in stock; otherwise it is scrap.
    """

    reel: Reel
    pieces: tuple[tuple[int, int], ...]
    left: int
    kept: bool

    @property
    def scrap(self) -> int:
        """Millimetres that are of no use."""
        return 0 if self.kept else self.left


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """What to cut from which reel.

    Parameters
    ----------
    stock
        The wire.
    reels
        Those that are cut.
    missing
        Millimetres and number of pieces that no reel has room for, the longest first.
    useful
        Millimetres taken for a useful rest where a reel states none: the shortest piece.
    least
        What no plan can be below: millimetres missing, millimetres of scrap, reels.
    """

    stock: str
    reels: tuple[CutReel, ...]
    missing: tuple[tuple[int, int], ...]
    useful: int
    least: Score

    @property
    def score(self) -> Score:
        """Millimetres missing, millimetres of scrap, reels cut: the smaller the better, in this order."""
        missing = sum(mm * number for mm, number in self.missing)
        return missing, sum(one.scrap for one in self.reels), len(self.reels)

    @property
    def proven(self) -> bool:
        """Whether no plan is better."""
        return self.score == self.least


def plan_cuts(
    stock: str, pieces: Mapping[int, int], reels: Sequence[Reel], seconds: float = SECONDS
) -> CuttingPlan:
    """The best plan for pieces of one wire, or the best that was found in time.

    Parameters
    ----------
    stock
        Name of the wire; reels of others are passed over.
    pieces
        How many of each length, millimetres.
    reels
        In stock, in any order: the plan does not depend on it.
    seconds
        For the solver; what it proves in less is the same every time.
    """
    own = sorted((r for r in reels if r.stock == stock), key=lambda r: (r.millimetres, r.useful or 0, r.name))
    lengths = tuple(sorted((mm for mm, number in pieces.items() if number), reverse=True))
    wanted = tuple(pieces[mm] for mm in lengths)
    useful = lengths[-1] if lengths else 0
    room = tuple((reel.millimetres, useful if reel.useful is None else reel.useful) for reel in own)
    start, floor = first_plan(lengths, wanted, room), floor_of(lengths, wanted, room)
    counts, least = best_program(lengths, wanted, room, start, floor, seconds)
    cut = []
    for reel, (whole, worth), one in zip(own, room, counts, strict=True):
        if any(one):
            left = whole - total(lengths, one)
            cut.append(CutReel(reel, _numbered(lengths, one), left, left >= worth))
    left_over = [n - sum(one[i] for one in counts) for i, n in enumerate(wanted)]
    return CuttingPlan(stock, tuple(cut), _numbered(lengths, left_over), useful, least)


def _numbered(lengths: Sequence[int], counts: Sequence[int]) -> tuple[tuple[int, int], ...]:
    return tuple((mm, n) for mm, n in zip(lengths, counts, strict=True) if n)
