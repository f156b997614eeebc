"""What must hold for any cutting plan, whatever is ordered and in stock."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from ohmsworth.cables.workshop import Reel, plan_cuts

PIECES = st.dictionaries(st.integers(5, 400), st.integers(1, 8), min_size=1, max_size=4)
STOCK = st.lists(st.tuples(st.integers(1, 1200), st.none() | st.integers(0, 500)), max_size=5)


@settings(max_examples=60, deadline=None)
@given(PIECES, STOCK)
def test_every_piece_is_cut_or_missing_and_no_bound_is_passed(
    pieces: dict[int, int], stock: list[tuple[int, int | None]]
) -> None:
    reels = [Reel(f"r{k}", "w", mm, useful) for k, (mm, useful) in enumerate(stock)]
    plan = plan_cuts("w", pieces, reels, seconds=0.6)
    counted = dict.fromkeys(pieces, 0)
    for mm, number in (*(cut for one in plan.reels for cut in one.pieces), *plan.missing):
        counted[mm] += number
    assert counted == pieces
    for one in plan.reels:
        assert 0 <= one.left < one.reel.millimetres
        assert one.left + sum(mm * n for mm, n in one.pieces) == one.reel.millimetres
    wanted, there = sum(mm * n for mm, n in pieces.items()), sum(mm for mm, _ in stock)
    missing, scrap, number = plan.score
    # The bounds of material: what is missing, and as many reels as hold the rest where all are as long as the longest.
    assert missing >= max(wanted - there, 0)
    assert number >= math.ceil((wanted - missing) / max((mm for mm, _ in stock), default=1))
    assert plan.least <= plan.score
    assert scrap <= there - (wanted - missing)
    # No piece that is missing fits on what is left of any reel: it would have been cut.
    left = {one.reel.name: one.left for one in plan.reels}
    rest = max((left.get(reel.name, reel.millimetres) for reel in reels), default=0)
    if plan.proven:
        assert all(mm > rest for mm, _ in plan.missing)


@settings(max_examples=25, deadline=None)
@given(PIECES, STOCK, st.integers(2, 50))
def test_lengths_in_another_unit_are_cut_alike(
    pieces: dict[int, int], stock: list[tuple[int, int | None]], times: int
) -> None:
    reels = [Reel(f"r{k}", "w", mm, useful) for k, (mm, useful) in enumerate(stock)]
    larger = [
        Reel(reel.name, "w", reel.millimetres * times, None if reel.useful is None else reel.useful * times)
        for reel in reels
    ]
    one = plan_cuts("w", pieces, reels, seconds=0.6)
    other = plan_cuts("w", {mm * times: n for mm, n in pieces.items()}, larger, seconds=0.6)
    missing, scrap, number = one.score
    if one.proven and other.proven:
        assert other.score == (missing * times, scrap * times, number)
