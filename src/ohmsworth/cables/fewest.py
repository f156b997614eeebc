"""The fewest measurements that show that nothing touches what it must not, for one person with one meter.

Every net measured against every other would be n(n − 1)/2 measurements. Joined in two groups they are told apart by one.
Give each net a number and join, for each binary digit of the numbers in turn, those with a 0 against those with a 1: any two
nets differ in a digit, so that ceil(log2 n) measurements leave no pair out. Where one shows a path, halving finds the two nets.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

#: Which nets stand across from which: True at ``[a, b]`` and at ``[b, a]``.
Pairs = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Question:
    """One measurement: everything of the `one` group joined, everything of the `other` group joined, the meter between.

    Numbers of nets; a group of one net needs no joining.
    """

    one: tuple[int, ...]
    other: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """A question and its answer: whether a path was found."""

    question: Question
    path: bool


def separating(nets: int) -> tuple[Question, ...]:
    """The questions of which each pair of `nets` nets is asked in at least one; none for a single net."""
    digits = max(nets - 1, 0).bit_length()
    return tuple(
        Question(
            tuple(net for net in range(nets) if not net >> digit & 1),
            tuple(net for net in range(nets) if net >> digit & 1),
        )
        for digit in range(digits)
    )


def next_question(nets: int, asked: Sequence[Asked]) -> Question | None:
    """What to measure next; None when every touch between two nets is either ruled out or found.

    A group question that found a path is halved until two single nets remain; the pairs found are left out of further groups, by
    asking about what is not yet ruled out alone.
    """
    clear, found = _known(nets, tuple(asked))
    for one in reversed(asked):
        if one.path and (halves := _halved(one.question, clear, found)) is not None:
            return halves
    for question in separating(nets):
        rest = _open_part(question, clear, found)
        if rest is not None:
            return rest
    return None


def touching(asked: Sequence[Asked]) -> tuple[tuple[int, int], ...]:
    """Pairs of nets that were found to touch."""
    return tuple(map(_as_pair, np.argwhere(np.triu(_known(_named(asked), tuple(asked))[1]))))


def left_open(nets: int, asked: Sequence[Asked]) -> int:
    """How many pairs of nets are neither ruled out nor found to touch."""
    clear, found = _known(nets, tuple(asked))
    return nets * (nets - 1) // 2 - _count(clear | found)


def unexplained(asked: Sequence[Asked]) -> tuple[int, ...]:
    """Numbers of the questions that found a path which no touch explains yet; of a group and a part of it, the part alone."""
    nets = _named(asked)
    found = _known(nets, tuple(asked))[1]
    pairs = {number: _across(nets, one.question) for number, one in enumerate(asked) if one.path}
    left = {number: own for number, own in pairs.items() if not (own & found).any()}

    def has_part(own: Pairs) -> bool:
        return any(_count(other) < _count(own) and not (other & ~own).any() for other in left.values())

    return tuple(number for number, own in left.items() if not has_part(own))


def contradicting(asked: Sequence[Asked]) -> tuple[int, ...]:
    """Numbers of the questions that found a path although the others rule every pair of theirs out."""
    nets = _named(asked)
    clear = _known(nets, tuple(asked))[0]
    return tuple(
        number
        for number, one in enumerate(asked)
        if one.path and not (_across(nets, one.question) & ~clear).any()
    )


def _named(asked: Sequence[Asked]) -> int:
    """How many nets there are at least, by those that are named."""
    return max((net + 1 for one in asked for net in (*one.question.one, *one.question.other)), default=0)


def _across(nets: int, question: Question) -> Pairs:
    pairs = np.zeros((nets, nets), np.bool_)
    pairs[np.ix_(question.one, question.other)] = True
    return pairs | pairs.T


def _count(pairs: Pairs) -> int:
    return int(np.count_nonzero(pairs)) // 2


def _as_pair(places: NDArray[Any]) -> tuple[int, int]:
    return int(places[0]), int(places[1])


@lru_cache(maxsize=8)
def _known(nets: int, asked: tuple[Asked, ...]) -> tuple[Pairs, Pairs]:
    """Pairs that are ruled out, and pairs that touch; several ask about the same answers in a row."""
    across = [_across(nets, one.question) for one in asked]
    clear, found = np.zeros((nets, nets), np.bool_), np.zeros((nets, nets), np.bool_)
    for one, pairs in zip(asked, across, strict=True):
        if not one.path:
            clear |= pairs
        elif _count(pairs) == 1:
            found |= pairs
    for one, pairs in zip(asked, across, strict=True):  # of a group all pairs but one may be ruled out
        left = pairs & ~clear
        if one.path and _count(left) == 1:
            found |= left
    clear.setflags(write=False)
    found.setflags(write=False)
    return clear, found


def _halved(question: Question, clear: Pairs, found: Pairs) -> Question | None:
    """Half of a question that found a path, while nothing in it explains the path yet."""
    pairs = _across(len(clear), question)
    # Explained, of two nets alone, or contradicted by the others.
    if (pairs & found).any() or _count(pairs) == 1 or not (pairs & ~clear).any():
        return None
    one = [a for a in question.one if not clear[a, list(question.other)].all()]
    other = [b for b in question.other if not clear[b, list(question.one)].all()]
    if len(one) >= len(other):
        one = one[: max(len(one) // 2, 1)]
    else:
        other = other[: max(len(other) // 2, 1)]
    return Question(tuple(one), tuple(other))


def _open_part(question: Question, clear: Pairs, found: Pairs) -> Question | None:
    """The part of a group question that is not answered yet; it holds at least one pair that is open."""
    open_pairs = np.argwhere(np.triu(_across(len(clear), question) & ~clear & ~found))
    if not len(open_pairs):
        return None
    low, high = _as_pair(open_pairs[0])
    first, second = (low, high) if low in question.one else (high, low)
    # A pair that is known to touch would answer for all others: it is never put across.
    other = [b for b in question.other if b == second or not found[first, b]]
    one = [a for a in question.one if a == first or not found[a, other].any()]
    return Question(tuple(one), tuple(other))
