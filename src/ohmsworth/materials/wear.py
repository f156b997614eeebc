"""Wear: how many matings a plating lasts, in orders of magnitude."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ohmsworth.errors import UnknownName
from ohmsworth.materials.facts import Statement
from ohmsworth.materials.hardness import hardness_of
from ohmsworth.materials.span import Span, positive


@dataclass(frozen=True, slots=True)
class Sliding:
    """How two surfaces slide on one another, with Archard's coefficient.

    Parameters
    ----------
    coefficient
        k, a pure number.
    words
        When it is met.
    source
        A key of SOURCES.
    """

    name: str
    coefficient: Span
    words: str
    source: str


_LIST = (
    Sliding("severe", Span(1e-4, 1e-2), "clean and dry, like metal on like: it sticks and tears", "wear-tables"),
    Sliding("mild", Span(1e-6, 1e-4), "dry, but with a thin film between, or hard on smooth", "wear-tables"),
    Sliding("lubricated", Span(1e-8, 1e-6), "with a contact lubricant that stays", "wear-memory"),
)  # fmt: skip
#: Ways of sliding by name. The boundaries between them are a matter of judgement.
SLIDING: Mapping[str, Sliding] = MappingProxyType({one.name: one for one in _LIST})


@dataclass(frozen=True, slots=True)
class WearLife:
    """Matings until a plating is through, on average over its track.

    Parameters
    ----------
    plating
        The metal that wears.
    sliding
        The way of sliding, a key of SLIDING.
    matings
        Insertions with their withdrawals, fewest to most.
    """

    plating: str
    sliding: str
    matings: Span


def worn_volume(coefficient: float, force: float, path: float, hardness: float) -> float:
    """Volume in cubic metre that sliding takes off: Archard, V = k F s/H.

    Parameters
    ----------
    coefficient
        k, a pure number (see SLIDING).
    force
        Newton.
    path
        Metre slid in all.
    hardness
        Pascal, of the softer member.

    Notes
    -----
    Valid in order of magnitude, for steady wear in one way of sliding. Source: "Archard".
    """
    positive("coefficient", coefficient, "number")
    positive("force", force, "newton")
    positive("path", path, "metre")
    positive("hardness", hardness, "pascal")
    return coefficient * force * path / hardness


def wear_life(
    plating: str, thickness: float, force: float, path: float, area: float, sliding: str = "mild"
) -> WearLife:
    """Matings after which a plating is worn through, as a range over orders of magnitude.

    N = h A H/(k F s).

    Parameters
    ----------
    plating
        A metal of HARDNESS.
    thickness
        h, metre.
    force
        Newton between the members.
    path
        Metre slid in one insertion and its withdrawal: twice the length of the wipe.
    area
        Square metre of the track, length times width. Wear is taken as even over it; the deepest place is through
        earlier.
    sliding
        A key of SLIDING.

    Notes
    -----
    The range is that of k and of the hardness together. It orders finishes and lubrication; it is no life to
    promise. A hard underplate carries a thin plating and makes it last longer (source "Antler"). Source: "Archard".

    Examples
    --------
    >>> life = wear_life("gold", 0.76e-6, force=1.0, path=6e-3, area=3e-7)
    >>> round(life.matings.low), round(life.matings.high, -3)
    (75, 75000.0)
    """
    try:
        way = SLIDING[sliding.strip().lower()]
    except KeyError:
        raise UnknownName("way of sliding", sliding, tuple(SLIDING)) from None
    positive("thickness", thickness, "metre")
    positive("area", area, "square metre")
    one, volume = hardness_of(plating), thickness * area
    fewest = volume / worn_volume(way.coefficient.high, force, path, one.pressure.low)
    most = volume / worn_volume(way.coefficient.low, force, path, one.pressure.high)
    return WearLife(one.name, way.name, Span(fewest, most))


#: What the formula does not tell.
WEAR_FACTS: tuple[Statement, ...] = (
    Statement(
        "Fretting is wear by movements too small to see (vibration, warming and cooling). The crumbs oxidise: tin, "
        "nickel and copper then rise from milliohms to ohms within thousands of movements, with no mating at all.",
        "fretting-memory",
        "fretting",
    ),
    Statement(
        "Gold slides badly on gold without a lubricant: it sticks and piles up, and wears through far sooner than "
        "with a film of lubricant.",
        "Antler",
        "lubricity",
    ),
    Statement(
        "A hard layer beneath, as a rule nickel, makes a thin plating wear much less.", "Antler", "wear"
    ),
)
