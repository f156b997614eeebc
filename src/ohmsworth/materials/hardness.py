"""How hard contact metals are, soft to hard: what sets the size of a contact spot and how fast it wears."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ohmsworth.errors import UnknownName
from ohmsworth.materials.span import Span

#: Pascal of one unit of a Vickers or Knoop number (kilogram-force per square millimetre). Exact.
PASCAL_OF_NUMBER = 9.80665e6


@dataclass(frozen=True, slots=True)
class Hardness:
    """From the softest to the hardest form in which a metal is met on contacts.

    Parameters
    ----------
    pressure
        Pascal. A Vickers or Knoop number stands for it: Vickers counts the slanted faces, so the mean pressure is
        some 8 % more, which is little beside the range.
    words
        What lies at the two ends.
    source
        A key of SOURCES.
    """

    name: str
    pressure: Span
    words: str
    source: str


def _of(name: str, low: float, high: float, words: str, source: str = "plating-handbooks") -> Hardness:
    return Hardness(name, Span(low, high).times(PASCAL_OF_NUMBER), words, source)


_LIST = (
    _of("gold", 20, 200, "pure soft gold (20 to 90 HK) to hard gold with cobalt or nickel (130 to 200 HK)", "gold-hardness"),
    _of("silver", 25, 140, "annealed metal to bright hard plating"),
    _of("tin", 4, 20, "matt to bright plating"),
    _of("nickel", 100, 550, "annealed metal to bright plating"),
    _of("copper", 40, 130, "annealed to hard drawn"),
    _of("brass", 60, 200, "annealed to spring hard"),
    _of("phosphor bronze", 75, 250, "annealed to spring hard"),
    _of("beryllium copper", 90, 420, "annealed to fully age-hardened"),
)  # fmt: skip
#: Hardness by metal.
HARDNESS: Mapping[str, Hardness] = MappingProxyType({one.name: one for one in _LIST})


def hardness_of(name: str) -> Hardness:
    """Look up the hardness of a metal by its `name` (any case).

    Raises
    ------
    UnknownName
        When it is not in HARDNESS.
    """
    try:
        return HARDNESS[name.strip().lower()]
    except KeyError:
        raise UnknownName("metal", name, tuple(HARDNESS)) from None
