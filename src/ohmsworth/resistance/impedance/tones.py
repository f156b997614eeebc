"""Which tones: evenly spaced on a logarithmic scale, on exact bins, clear of the mains and of each other's distortion."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault

#: Samples a second of ordinary interfaces.
RATES = (44_100, 48_000, 88_200, 96_000, 176_400, 192_000)
MOST_TONES = 31
#: Above this share of the rate the filters of converters begin.
PASSED = 0.4545
#: Frequencies of the mains in hertz, and how far from their harmonics a tone stays.
MAINS, MAINS_CLEARANCE = (50.0, 60.0), 3.0
#: A tone strays from its even spacing by less than this share of the step to the next one.
STRAY = 0.5
#: Attempts after which a search gives up.
_ATTEMPTS = 20_000


@dataclass(frozen=True, slots=True)
class _Found:
    """Tones that go together, and everything that distortion makes of them."""

    tones: tuple[int, ...] = ()
    products: frozenset[int] = frozenset()


def choose_cycles(rate: int, period: int, low: float, high: float, tones: int) -> NDArray[np.int64]:
    """Cycles in a period of `tones` tones from `low` to `high`.

    Every tone

    - has an odd number of cycles: distortion of even order then falls on even numbers, never on a tone;
    - is none of the third-order products ``3a``, ``2a ± b``, ``a ± b ± c`` of the tones;
    - keeps `MAINS_CLEARANCE` hertz from every harmonic of 50 and 60 Hz;
    - lies within half a step of its place on the logarithmic scale.

    Of the numbers that are left, the nearest is taken, tone by tone from below; where none is left for a later tone, the
    earlier ones give way. The same wishes give the same tones.

    Parameters
    ----------
    rate
        Samples a second.
    period
        Samples of a period.
    low, high
        Ends of the range in hertz.
    tones
        How many, one to `MOST_TONES`; a single one lies at `low`.

    Returns
    -------
    NDArray
        Shape (tones,), ascending.

    Raises
    ------
    ArgumentFault
        For a range or number outside of what the rate allows, and where no such tones exist: `name` is then "tones".
    """
    _check(rate, period, low, high, tones)
    choices = _choices(rate, period, low, high, tones)
    found, reached = _search(choices)
    if found is None:
        place = np.geomspace(low, high, tones)[min(reached, tones - 1)]
        raise ArgumentFault(
            "tones",
            tones,
            f"fewer tones, or a longer period: near {place:.3g} Hz every {rate / period:.3g} Hz is too coarse "
            "to stay clear of the mains and of distortion",
        )
    return np.array(found.tones, np.int64)


def _check(rate: int, period: int, low: float, high: float, tones: int) -> None:
    if not 1 <= tones <= MOST_TONES:
        raise ArgumentFault("tones", tones, f"1 to {MOST_TONES}")
    if not high <= PASSED * rate:
        raise ArgumentFault("high", high, f"at most {PASSED * rate:.6g} Hz at {rate} samples a second")
    if not 0 < low <= high or (tones > 1 and low == high):
        raise ArgumentFault("low", low, "more than zero and below the highest tone")
    if not 8 <= period <= 20 * rate:
        raise ArgumentFault("period", period, "samples of up to 20 seconds")


def _choices(rate: int, period: int, low: float, high: float, tones: int) -> list[list[int]]:
    """For each tone the numbers of cycles that it may have, the best first."""
    bin_width = rate / period
    places = np.geomspace(low, high, tones)
    step = (high / low) ** (1 / (tones - 1)) if tones > 1 else 2.0
    choices = []
    for place in places:
        first = int(np.ceil(max(place * step**-STRAY, low) / bin_width - 1e-9))
        last = int(np.floor(min(place * step**STRAY, max(high, low * step**STRAY)) / bin_width + 1e-9))
        near = [n for n in range(max(first, 1), last + 1) if n % 2 and _clear_of_mains(n * bin_width)]
        choices.append(sorted(near, key=lambda n: (abs(np.log(n * bin_width / place)), n)))
    return choices


def _clear_of_mains(frequency: float) -> bool:
    return all(abs(frequency - m * round(frequency / m)) >= MAINS_CLEARANCE for m in MAINS)


def _search(choices: list[list[int]]) -> tuple[_Found | None, int]:
    """The first tones that go together, in the order of the choices; and how many were found at most."""
    attempts = 0
    reached = 0
    found = [_Found()]
    waiting = [iter(choices[0])]
    while waiting:
        attempts += 1
        candidate = next(waiting[-1], None)
        if candidate is None:
            waiting.pop()
            found.pop()
            continue
        if attempts > _ATTEMPTS:
            break
        joined = _joined(found[-1], candidate)
        if joined is None:
            continue
        if len(joined.tones) == len(choices):
            return joined, len(choices)
        reached = max(reached, len(joined.tones))
        found.append(joined)
        waiting.append(iter(choices[len(joined.tones)]))
    return None, reached


def _joined(found: _Found, tone: int) -> _Found | None:
    """The tones with one more, or None where a product falls on a tone."""
    if (found.tones and tone <= found.tones[-1]) or tone in found.products:
        return None
    new = third_order(found.tones, tone)
    if tone in new or not new.isdisjoint(found.tones):
        return None
    return _Found((*found.tones, tone), found.products | new)


def third_order(others: tuple[int, ...], tone: int) -> frozenset[int]:
    """Third-order products in which `tone` takes part, by itself and with `others`; ``a + a − b`` and the like alike."""
    made = {3 * tone}
    for a in others:
        made |= {2 * a + tone, abs(2 * a - tone), 2 * tone + a, abs(2 * tone - a)}
    for a, b in combinations(others, 2):
        made |= {a + b + tone, abs(a + b - tone), abs(a - b + tone), abs(b - a + tone)}
    return frozenset(made)
