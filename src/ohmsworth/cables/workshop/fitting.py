"""Pieces on reels: how good a plan is, what none can be below, and a quick one to begin with. Whole millimetres throughout."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

#: Pieces of each length on each reel.
Counts = tuple[tuple[int, ...], ...]
#: Millimetres of each reel, and from how many on a rest of it is useful.
Room = Sequence[tuple[int, int]]
#: Millimetres missing, millimetres of scrap, reels cut: the smaller the better, in this order.
Score = tuple[int, int, int]


def score_of(counts: Counts, lengths: Sequence[int], wanted: Sequence[int], room: Room) -> Score:
    """How good a plan is; `wanted` says how many pieces of each length there should be."""
    used = [total(lengths, one) for one in counts]
    rests = [(whole - cut, useful) for (whole, useful), cut in zip(room, used, strict=True) if cut]
    scrap = sum(rest for rest, useful in rests if rest < useful)
    return total(lengths, wanted) - sum(used), scrap, len(rests)


def fits(counts: Counts, lengths: Sequence[int], wanted: Sequence[int], room: Room) -> bool:
    """Whether a plan can be cut at all: no reel holds more than it has, and no piece is cut too often."""
    enough = all(total(lengths, one) <= whole for one, (whole, _) in zip(counts, room, strict=True))
    columns = zip(*counts, strict=True)
    return enough and all(sum(column) <= n for column, n in zip(columns, wanted, strict=True))


def total(lengths: Sequence[int], counts: Sequence[int]) -> int:
    """Millimetres of so many pieces of each length."""
    return sum(mm * n for mm, n in zip(lengths, counts, strict=True))


def floor_of(lengths: Sequence[int], wanted: Sequence[int], room: Room) -> Score:
    """What no plan can be below, seen without a search: there may be no scrap, and the longest reels hold the most."""
    longest = max((whole for whole, _ in room), default=0)
    too_long = sum(mm * n for mm, n in zip(lengths, wanted, strict=True) if mm > longest)
    missing = max(too_long, total(lengths, wanted) - sum(whole for whole, _ in room))
    return missing, 0, fewest_reels(total(lengths, wanted) - missing, room)


def fewest_reels(millimetres: int, room: Room) -> int:
    """Reels without which there is not room for so many millimetres."""
    held = accumulate(sorted((whole for whole, _ in room), reverse=True))
    return (
        next((k for k, mm in enumerate(held, start=1) if mm >= millimetres), len(room)) if millimetres else 0
    )


def first_plan(lengths: Sequence[int], wanted: Sequence[int], room: Room) -> Counts:
    """The better of two quick plans: reels begun from the shortest, which uses up rests, or from the longest."""
    upward = tuple(range(len(room)))
    plans = [_fitted(lengths, wanted, room, order) for order in (upward, upward[::-1])]
    return min(plans, key=lambda counts: score_of(counts, lengths, wanted, room))


def _fitted(lengths: Sequence[int], wanted: Sequence[int], room: Room, order: Sequence[int]) -> Counts:
    """Each piece, the longest first, on the begun reel with the smallest rest that holds it, or else on the next in `order`."""
    rest = [whole for whole, _ in room]
    counts = [[0] * len(lengths) for _ in room]
    begun: set[int] = set()
    for i, mm in enumerate(lengths):
        left = wanted[i]
        while left:
            open_ones = [k for k in order if k in begun and rest[k] >= mm]
            fresh = next((k for k in order if k not in begun and rest[k] >= mm), None)
            k = min(open_ones, key=rest.__getitem__) if open_ones else fresh
            if k is None:
                break
            number = min(left, rest[k] // mm)  # what still fits has the smallest rest again
            counts[k][i] += number
            rest[k] -= number * mm
            left -= number
            begun.add(k)
    return tuple(tuple(one) for one in counts)
