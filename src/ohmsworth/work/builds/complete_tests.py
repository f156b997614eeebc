"""The complete tests of a cable, one after the other.

A complete test ends where something is measured again although a verdict stood already, or else with the last row. Rows that
were withdrawn are no part of it: a slip in typing makes no cable wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ohmsworth.report.cable_answer import NOT_YET, CableAnswer
from ohmsworth.work.builds.teller import Between, Teller
from ohmsworth.work.cable_ports import WrittenRow

#: Repeats that are looked at while nothing is known yet; whoever repeats more is measuring in an order of their own.
MOST_REPEATS = 8


def complete_tests(
    teller: Teller, toml: str, written: Sequence[WrittenRow]
) -> Iterator[tuple[int, CableAnswer]]:
    """After how many rows each ended, and the answer then.

    Raises
    ------
    InputRefused
        With every fault of the cable's folder.
    """
    seen: set[Between] = set()
    repeats = 0
    for number, row in enumerate(written):
        places = teller.between(toml, row)
        if places in seen:
            repeats += 1
            if repeats > MOST_REPEATS:
                return
            before = teller.answer(toml, written[:number])
            if before.verdict != NOT_YET:
                yield number, before
                seen, repeats = set(), 0
        seen.add(places)
    if not written:
        return
    now = teller.answer(toml, written)
    if now.verdict != NOT_YET:
        yield len(written), now
