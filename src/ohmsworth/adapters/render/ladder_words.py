"""What the ladder says of a mark, in the picture, in its tips, and in a terminal."""

from __future__ import annotations

import math

from ohmsworth.adapters.render.scales import interval_words, plain, readable, unbroken
from ohmsworth.report.document import ASKED, LadderMark

_MILLION = 1e6
#: What stands after a number of times where there is room.
OF_LARGEST = "times the largest contact"


def value_words(mark: LadderMark) -> str:
    """The resistance of a mark, with its interval when there is one.

    A limit is exact as given, and so is what is asked about; wires and thresholds are computed, and two digits say
    all that they support.
    """
    low, high = mark.low, mark.high
    if mark.kind == "limit" or mark.group == ASKED:
        return unbroken(plain(mark.value, "Ω"))
    if low is None or high is None:
        return readable(mark.value, "Ω", 3 if mark.kind == "contact" else 2)
    interval = unbroken(interval_words(low, high, "Ω"))
    return f"{readable(mark.value, 'Ω', _digits(mark.value, low, high))} ({interval})"


def _digits(value: float, low: float, high: float) -> int:
    """Digits of `value` that reach the place to which its interval is written; two to six."""
    if value <= 0 or not 0 < high - low < math.inf:
        return 3
    return min(max(math.floor(math.log10(value)) - math.floor(math.log10((high - low) / 2)) + 2, 2), 6)


def times_words(ratio: float) -> str:
    r"""How many times, to two digits.

    Examples
    --------
    >>> times_words(1.234), times_words(212.0), times_words(4630.0), times_words(5.2e6)
    ('×\xa01.2', '×\xa0210', '×\xa04\xa0600', '×\xa05.2\xa0million')
    """
    if ratio >= _MILLION * 0.995:
        return f"×\u00a0{_two_digits(ratio / _MILLION)}\u00a0million"
    return f"×\u00a0{_two_digits(ratio)}"


def _two_digits(value: float) -> str:
    rounded = float(f"{value:.1e}")
    text = f"{rounded:.1f}" if rounded < 10 else f"{rounded:,.0f}"
    return text.replace(",", "\u00a0")


def tip_of(mark: LadderMark) -> str:
    """Everything known of a mark, in one line."""
    if mark.kind == "threshold":
        where = f" ({mark.position})" if mark.position else ""
        parts = [f"{value_words(mark)}: {mark.label}{where}", mark.note]
    elif mark.kind == "wire":
        parts = [f"{mark.label}{f' of {mark.group}' if mark.group else ''}: {value_words(mark)}", mark.note]
    else:
        parts = [f"{mark.label}: {value_words(mark)}", mark.group, mark.note]
    return ", ".join(part for part in parts if part)


def far_words(contacts: list[LadderMark], threshold: LadderMark) -> str:
    """How many times the largest of the `contacts` a threshold is, or which of them reach it; or ""."""
    reached = [
        value_words(mark) if mark.group == ASKED else mark.label
        for mark in contacts
        if mark.value >= threshold.value
    ]
    if reached:
        return f"reached by {', '.join(reached)}"
    largest = max((mark.value for mark in contacts), default=0.0)
    if largest <= 0 or not math.isfinite(threshold.value):
        return ""
    return times_words(threshold.value / largest)
