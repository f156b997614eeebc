"""The fewest measurements that show that nothing touches what it must not, for one person with one meter.

Every net measured against every other would be n(n − 1)/2 measurements. Joined in two groups they are told apart by one.
Give each net a number and join, for each binary digit of the numbers in turn, those with a 0 against those with a 1: any two
nets differ in a digit, so that ceil(log2 n) measurements leave no pair out. Where one shows a path, halving finds the two nets.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


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
    clear, found = _known(asked)
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
    return tuple(sorted(_known(asked)[1]))


def left_open(nets: int, asked: Sequence[Asked]) -> int:
    """How many pairs of nets are neither ruled out nor found to touch."""
    clear, found = _known(asked)
    return nets * (nets - 1) // 2 - len(clear | found)


def unexplained(asked: Sequence[Asked]) -> tuple[int, ...]:
    """Numbers of the questions that found a path which no touch explains yet; of a group and a part of it, the part alone."""
    found = _known(asked)[1]
    pairs = {number: _pairs(one.question) for number, one in enumerate(asked) if one.path}
    left = {number: own for number, own in pairs.items() if not own & found}
    return tuple(number for number, own in left.items() if not any(other < own for other in left.values()))


def contradicting(asked: Sequence[Asked]) -> tuple[int, ...]:
    """Numbers of the questions that found a path although the others rule every pair of theirs out."""
    clear = _known(asked)[0]
    return tuple(number for number, one in enumerate(asked) if one.path and _pairs(one.question) <= clear)


def _pairs(question: Question) -> set[tuple[int, int]]:
    return {_pair(a, b) for a in question.one for b in question.other}


def _known(asked: Sequence[Asked]) -> tuple[set[tuple[int, int]], set[tuple[int, int]]]:
    """Pairs that are ruled out, and pairs that touch."""
    clear: set[tuple[int, int]] = set()
    found: set[tuple[int, int]] = set()
    for one in asked:
        pairs = _pairs(one.question)
        if not one.path:
            clear |= pairs
        elif len(pairs) == 1:
            found |= pairs
    for one in asked:  # of a group with a path all but one pair may be ruled out
        pairs = _pairs(one.question)
        left = pairs - clear
        if one.path and len(left) == 1:
            found |= left
    return clear, found


def _pair(a: int, b: int) -> tuple[int, int]:
    return (a, b) if a < b else (b, a)


def _halved(question: Question, clear: set[tuple[int, int]], found: set[tuple[int, int]]) -> Question | None:
    """Half of a question that found a path, while nothing in it explains the path yet."""
    pairs = _pairs(question)
    if pairs & found or len(pairs) == 1 or pairs <= clear:  # explained, or contradicted by the others
        return None
    one = [a for a in question.one if any(_pair(a, b) not in clear for b in question.other)]
    other = [b for b in question.other if any(_pair(a, b) not in clear for a in question.one)]
    if len(one) >= len(other):
        one = one[: max(len(one) // 2, 1)]
    else:
        other = other[: max(len(other) // 2, 1)]
    return Question(tuple(one), tuple(other))


def _open_part(
    question: Question, clear: set[tuple[int, int]], found: set[tuple[int, int]]
) -> Question | None:
    """The part of a group question that is not answered yet; it holds at least one pair that is open."""
    open_pairs = _pairs(question) - clear - found
    if not open_pairs:
        return None
    low, high = min(open_pairs)
    first, second = (low, high) if low in question.one else (high, low)
    # A pair that is known to touch would answer for all others: it is never put across.
    other = [b for b in question.other if b == second or _pair(first, b) not in found]
    one = [a for a in question.one if a == first or not any(_pair(a, b) in found for b in other)]
    return Question(tuple(one), tuple(other))
