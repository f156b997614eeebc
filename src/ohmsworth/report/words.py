"""Small pieces of wording that sentences and tables share."""

from __future__ import annotations

import re

from ohmsworth.units import decimals_for, scale_for, show, show_interval, show_stated

#: Ends that are this many times apart are given to digits of their own.
_FAR_APART = 50
#: A ratio below this is as good as none.
_SMALLEST_RATIO = 0.001
#: An effect below this is not told to its digits; one below the next is what is left of rounding.
_SMALLEST_EFFECT = 0.001
_NOTHING = 1e-9
#: Volts and watts below which nobody could tell a difference, and percent beyond which more of them say no more.
_LEAST_TOLD = {"V": 1e-9, "W": 1e-9, "A": 1e-9}
_MOST_PERCENT = 1000


def estimate(value: float, low: float | None, high: float | None, unit: str = "Ω") -> str:
    """``2.61 mΩ (2.41 to 2.88 mΩ)``: the value no finer than its interval allows.

    Examples
    --------
    >>> estimate(0.0026149, 0.00241, 0.00288)
    '2.61 mΩ (2.41 to 2.88 mΩ)'
    >>> estimate(0.0026149, None, None)
    '2.61 mΩ (interval not known)'
    """
    if low is None or high is None:
        return f"{show(value, unit)} (interval not known)"
    return f"{like(value, low, high, unit)} ({show_interval(low, high, unit)})"


def like(value: float, low: float, high: float, unit: str = "Ω") -> str:
    """`value` to two digits of the half-width of its interval, in a unit of the size of the larger of the two.

    Examples
    --------
    >>> like(12.3456, 11.9, 12.8, "Ω")
    '12.35 Ω'
    >>> like(0.063, -0.002, 1200, "Ω")
    '63 mΩ'
    """
    small, large = sorted((abs(low), abs(high)))
    if value and _FAR_APART * small <= large:
        return show(value, unit, 2)
    factor, label = scale_for(max(abs(value), (high - low) / 2), unit)
    half = (high - low) / 2 / factor
    decimals = decimals_for(half, 2) if half > 0 else 3
    if abs(value) >= half * factor:
        decimals = min(max(decimals, decimals_for(value / factor, 2)), 6)
    text = f"{round(value / factor, decimals):.{max(decimals, 0)}f}"
    return f"{text.replace('-', '−')} {label}"


def times(value: float | None, low: float | None, high: float | None) -> str:
    """A ratio with its interval: ``3.1 times (2.5 to 3.9)``.

    Examples
    --------
    >>> times(3.1234, 2.51, 3.92)
    '3.12 times (2.51 to 3.92)'
    >>> times(32, 0.0017, 581871)
    '32 times (0.0017 to 580 000)'
    """
    if value is None:
        return "a ratio that the data cannot give"
    if low is None or high is None:
        return f"{_digits(value, 3)} times (interval not known)"
    small, large = sorted((abs(low), abs(high)))
    if _FAR_APART * small <= large or 0 <= low < _SMALLEST_RATIO:
        return f"{_digits(value)} times ({_digits(low)} to {_digits(high)})"
    wanted = max(decimals_for((high - low) / 2, 2), decimals_for(small, 1), 0) if high > low else 3
    decimals = min(wanted, 4)
    return f"{value:.{decimals}f} times ({low:.{decimals}f} to {high:.{decimals}f})".replace("-", "−")


def _digits(value: float, digits: int = 2) -> str:
    """A ratio to so many significant digits, never as zero."""
    if 0 <= value < _SMALLEST_RATIO:
        return f"less than {_SMALLEST_RATIO}"
    decimals = decimals_for(value, digits)
    return f"{round(value, decimals):,.{max(decimals, 0)}f}".replace(",", " ").replace("-", "−")


def amount(value: float, unit: str) -> str:
    """An effect's size, in decibel and the like to a thousandth at most; what is smaller is no zero.

    Examples
    --------
    >>> amount(-0.1234, "dB"), amount(0.0002, "dB"), amount(0.0, "dB")
    ('−0.123 dB', 'under 0.001 dB', '0 dB')
    >>> amount(1e-23, "W"), amount(3.1e11, "%")
    ('under 1 nW', 'over 1000 %')
    """
    least = _LEAST_TOLD.get(unit, 0.0)
    if 0 < abs(value) < least:
        return f"under {show_stated(least, unit)}"
    if unit not in ("dB", "%"):
        return show(value, unit, 3) if value else f"0 {unit}"
    if unit == "%" and value > _MOST_PERCENT:
        return f"over {_MOST_PERCENT} %"
    if abs(value) < _NOTHING:
        return f"0 {unit}"
    if abs(value) < _SMALLEST_EFFECT:
        return f"under {_SMALLEST_EFFECT} {unit}"
    text = f"{value:.3f}" if abs(value) < 1 else f"{value:.2f}" if abs(value) < 10 else f"{value:.1f}"
    return f"{text.replace('-', '−')} {unit}"


def p_value(p: float | None) -> str:
    """A p-value to two digits, never zero.

    Examples
    --------
    >>> p_value(0.0312), p_value(2e-7), p_value(None)
    ('0.031', '< 0.0001', '–')
    """
    if p is None:
        return "–"
    return "< 0.0001" if p < 1e-4 else f"{p:.{decimals_for(p, 2)}f}" if p < 0.995 else "1.0"


def by_chance(p: float) -> str:
    """How often chance alone does what has this p-value.

    Examples
    --------
    >>> by_chance(0.0312), by_chance(0.004), by_chance(2e-7), by_chance(1.0)
    ('about 3 of 100', 'about 4 of 1000', 'fewer than 1 of 1000', 'nearly all')
    """
    if p < 0.001:
        return "fewer than 1 of 1000"
    of = 100 if p >= 0.0095 else 1000
    return f"about {round(of * p)} of {of}" if p < 0.995 else "nearly all"


def typical(statistic: str, what: str = "resistance") -> str:
    """The statistic in plain words, with its own name beside them.

    Examples
    --------
    >>> typical("median"), typical("mean", "one")
    ('typical resistance (median)', 'average one (mean)')
    """
    return " ".join(
        word for word in ({"median": "typical"}.get(statistic, "average"), what, f"({statistic})") if word
    )


def count(number: int, noun: str) -> str:
    """``1 specimen``, ``3 specimens``."""
    return f"{number} {noun}" if number == 1 else f"{number:,} {noun}s".replace(",", " ")


def listed(names: list[str], most: int = 6) -> str:
    """``a, b and c``, or ``a, b … and 7 more``."""
    if len(names) > most:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def natural(name: str) -> list[tuple[int, int | str]]:
    """Sorts "ch 2" before "ch 10"."""
    return [(0, int(part)) if part.isdecimal() else (1, part) for part in re.split(r"([0-9]{1,9})", name)]


def in_quotes(condition: str) -> str:
    """A condition as it stands in a sentence; the only one has no name of its own."""
    return "the contacts" if condition == "all" else f"'{condition}'"


def capital(text: str) -> str:
    """`text` as a sentence begins: its first letter large, the others as they are."""
    return text[:1].upper() + text[1:]
