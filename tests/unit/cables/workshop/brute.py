"""The best cutting plan by trying everything: slow, plain, and written without the code that it checks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from itertools import product

from ohmsworth.cables.workshop import Reel


def best_score(pieces: Mapping[int, int], reels: Sequence[Reel]) -> tuple[int, int, int]:
    """The least millimetres missing, then the least scrap, then the fewest reels, over every way to fill each reel."""
    lengths = sorted(pieces)
    shortest = min(lengths)

    @cache
    def best(k: int, left: tuple[int, ...]) -> tuple[int, int, int]:
        if k == len(reels):
            return sum(mm * n for mm, n in zip(lengths, left, strict=True)), 0, 0
        useful = shortest if reels[k].useful is None else reels[k].useful
        found = []
        for taken in product(*(range(n + 1) for n in left)):
            rest = reels[k].millimetres - sum(mm * n for mm, n in zip(lengths, taken, strict=True))
            if rest < 0:
                continue
            after = best(k + 1, tuple(n - t for n, t in zip(left, taken, strict=True)))
            scrap = rest if any(taken) and rest < useful else 0
            found.append((after[0], after[1] + scrap, after[2] + any(taken)))
        return min(found)

    return best(0, tuple(pieces[mm] for mm in lengths))
