"""Galvanic pairing: which of two metals that touch is eaten where it is damp, and whether it matters."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ohmsworth.errors import UnknownName
from ohmsworth.materials.facts import Statement
from ohmsworth.materials.span import Span

#: Anodic index in volt: how far a metal lies below gold. Source: "anodic-index" (beryllium copper, which the tables
#: do not name: "plating-handbooks").
ANODIC_INDEX: Mapping[str, Span] = MappingProxyType(
    {
        "gold": Span(0.0, 0.0),
        "silver": Span(0.15, 0.15),
        "nickel": Span(0.30, 0.30),
        "copper": Span(0.35, 0.35),
        "beryllium copper": Span(0.35, 0.40),
        "phosphor bronze": Span(0.40, 0.45),
        "brass": Span(0.40, 0.45),
        "tin": Span(0.60, 0.65),
    }
)
#: Largest difference in volt that is taken as safe, by place. Source: "anodic-index".
SAFE_DIFFERENCE: Mapping[str, float] = MappingProxyType(
    {"outdoors, damp or salt": 0.15, "indoors, not heated": 0.25, "dry, heated rooms": 0.50}
)


@dataclass(frozen=True, slots=True)
class Pairing:
    """Two metals in contact.

    Parameters
    ----------
    first, second
        Their names.
    difference
        Volts between them, without sign.
    eaten
        The one that corrodes where it is damp; None where they lie too near to say.
    places
        Where the pair is taken as safe: keys of SAFE_DIFFERENCE, for the larger end of the difference.
    words
        The same in a sentence or two.
    advice
        What is known of this pair beyond its voltage.
    """

    first: str
    second: str
    difference: Span
    eaten: str | None
    places: tuple[str, ...]
    words: str
    advice: tuple[Statement, ...]


_ON_TIN = (
    Statement("Tin against gold is not recommended.", "tin-rules", "galvanic"),
    Statement("Tin rubs off onto the gold, oxidises there and frets.", "fretting-memory", "fretting"),
)
_SAME = Statement(
    "Alike on alike is the usual choice: buy plug and socket with one finish.", "practice", "galvanic"
)


def pairing(first: str, second: str) -> Pairing:
    """Say how two metals get on.

    Parameters
    ----------
    first, second
        Metals of ANODIC_INDEX, any case, in any order.

    Notes
    -----
    The difference of the anodic indices, a rule of thumb for large surfaces in damp air. Dry, nothing is eaten: then
    oxide, tarnish and fretting decide. Source: "anodic-index".

    Examples
    --------
    >>> pairing("gold", "silver").places[0]
    'outdoors, damp or salt'
    >>> pairing("tin", "gold").eaten, pairing("tin", "gold").places
    ('tin', ())
    """
    one, two = _known(first), _known(second)
    difference = Span(0.0, 0.0) if one == two else _difference(ANODIC_INDEX[one], ANODIC_INDEX[two])
    eaten = None
    if difference.low > 0:
        eaten = max(one, two, key=lambda name: ANODIC_INDEX[name].high)
    places = tuple(place for place, most in SAFE_DIFFERENCE.items() if difference.high <= most)
    advice = _ON_TIN if {one, two} == {"tin", "gold"} else (_SAME,) if one == two else ()
    return Pairing(one, two, difference, eaten, places, _words(one, two, eaten, places), advice)


def _known(name: str) -> str:
    clean = name.strip().lower()
    if clean not in ANODIC_INDEX:
        raise UnknownName("metal", name, tuple(ANODIC_INDEX))
    return clean


def _difference(one: Span, two: Span) -> Span:
    """Least and largest distance of two ranges, without the crumbs that decimals leave in floats."""
    lower, upper = sorted((one, two), key=lambda index: (index.high, index.low))
    return Span(max(0.0, round(upper.low - lower.high, 6)), round(upper.high - lower.low, 6))


def _words(one: str, two: str, eaten: str | None, places: tuple[str, ...]) -> str:
    if eaten is None:
        return f"{one.capitalize()} on {two}: too near for one to eat the other."
    who = f"{one.capitalize()} on {two}: where it is damp the {eaten} is eaten away"
    if not places:
        return f"{who}; taken as too far apart even for dry, heated rooms."
    if len(places) == len(SAFE_DIFFERENCE):
        return f"{who}, but the two are near enough for any place."
    return f"{who}; taken as safe {' and '.join(_where(place) for place in places)} only."


def _where(place: str) -> str:
    return f"in {place}" if place.startswith("dry") else place
