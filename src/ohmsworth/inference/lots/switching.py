"""How strictly the next lot is looked at, by the record of those before it.

Normal inspection is tightened when two of five lots in a row were rejected, and comes back after five in a row were
accepted; when five were rejected under tightened inspection, no more lots are taken until the maker has mended the cause.
After ten accepted in a row inspection is reduced; the first rejection brings it back. Source: MIL-STD-105E, 4.7 and
ISO 2859-1, 9.3; their further conditions for reduced inspection (few bad pieces in all, steady production) are
not in a record of verdicts and stay with the owner.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

Inspection = Literal["normal", "tightened", "reduced", "discontinued"]

WINDOW, REJECTED_TO_TIGHTEN = 5, 2
ACCEPTED_TO_RELAX, REJECTED_TO_STOP, ACCEPTED_TO_REDUCE = 5, 5, 10
#: One step of the preferred numbers in which shares are graded; tightened is one step down, reduced two steps up.
STEP = 10**0.2
_STEPS: dict[Inspection, int] = {"normal": 0, "tightened": -1, "reduced": 2, "discontinued": -1}


def inspection_after(accepted: Sequence[bool]) -> Inspection:
    """The inspection of the next lot, given whether each lot so far was accepted, oldest first.

    Examples
    --------
    >>> inspection_after([True] * 10), inspection_after([False, True, False])
    ('reduced', 'tightened')
    """
    state: Inspection = "normal"
    lots: list[bool] = []  # since the last change of state
    for verdict in accepted:
        lots.append(verdict)
        following = _following(state, lots)
        if following != state:
            state, lots = following, []
    return state


def _following(state: Inspection, lots: list[bool]) -> Inspection:
    if state == "normal":
        if lots[-WINDOW:].count(False) >= REJECTED_TO_TIGHTEN:
            return "tightened"
        return "reduced" if _run(lots) >= ACCEPTED_TO_REDUCE else "normal"
    if state == "tightened":
        if lots.count(False) >= REJECTED_TO_STOP:
            return "discontinued"
        return "normal" if _run(lots) >= ACCEPTED_TO_RELAX else "tightened"
    if state == "reduced":
        return "reduced" if lots[-1] else "normal"
    return "discontinued"


def _run(lots: list[bool]) -> int:
    """How many of the last lots in a row were accepted."""
    return len(lots) if False not in lots else lots[::-1].index(False)


def stepped(shares: tuple[float, float], inspection: Inspection) -> tuple[float, float]:
    """Acceptable and rejectable share for designing a plan of this inspection.

    A step of the preferred numbers for each step of the tables: tightened asks for shares 1.6 times smaller, reduced lets
    them be 2.5 times larger, which makes samples 1.6 times larger and 2.5 times smaller.
    """
    factor = STEP ** _STEPS[inspection]
    return min(shares[0] * factor, 0.45), min(shares[1] * factor, 0.5)
