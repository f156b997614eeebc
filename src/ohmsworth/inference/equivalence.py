"""Does the difference matter: two one-sided tests against a margin, and three verdicts."""

from __future__ import annotations

TOO_SMALL, ENOUGH, OPEN = "too small to matter", "enough to matter", "cannot tell yet"


def verdict_against_margin(low: float, high: float, margin: float | None) -> str:
    """Judge the interval ``low..high`` of a difference against ±`margin`.

    Parameters
    ----------
    low, high
        Ends of the interval with coverage 1 − 2α, so that each side is a test at level α (Schuirmann).
    margin
        Smallest change that matters, same unit; None when nobody has said what would matter.
    """
    if margin is None:
        return OPEN
    if -margin < low and high < margin:
        return TOO_SMALL
    if low > margin or high < -margin:
        return ENOUGH
    return OPEN


def tost_coverage(coverage: float) -> float:
    """Coverage of the interval that carries out two one-sided tests, each at level 1 − `coverage`."""
    return 2 * coverage - 1
