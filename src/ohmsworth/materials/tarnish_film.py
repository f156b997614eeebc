"""Tarnish: how thick a film grows in an environment, and what it adds unwiped and wiped."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.materials.span import Span, positive

#: Seconds of the 30 days that the environment classes are defined over.
CLASS_PERIOD = 30 * 86400.0
_ANGSTROM = 1e-10
#: Times in second for which growth is told: an hour to 30 years.
SHORTEST, LONGEST = 3600.0, 30 * 365.25 * 86400.0


@dataclass(frozen=True, slots=True)
class Environment:
    """A class of air by what it does to bare metal in its first 30 days.

    Parameters
    ----------
    words
        The name of the class in words. Source: "ISA71.04".
    film
        Metre of film after 30 days, by metal: "silver", "copper". Source: "ISA71.04".
    """

    name: str
    words: str
    film: Mapping[str, Span]


def _class(name: str, words: str, copper: tuple[float, float], silver: tuple[float, float]) -> Environment:
    film = {"copper": Span(*copper).times(_ANGSTROM), "silver": Span(*silver).times(_ANGSTROM)}
    return Environment(name, words, MappingProxyType(film))


_LIST = (
    _class("G1", "mild", (0, 300), (0, 200)),
    _class("G2", "moderate", (300, 1000), (200, 1000)),
    _class("G3", "harsh", (1000, 2000), (1000, 2000)),
    _class("GX", "severe", (2000, math.inf), (2000, math.inf)),
)
#: Environments by the name of their class, the cleanest first.
ENVIRONMENTS: Mapping[str, Environment] = MappingProxyType({one.name: one for one in _LIST})

#: The thickness in metre, and the ohms that it added at low force, unwiped. Source: "TamaiKuranaga".
KNOWN_FILM, KNOWN_RESISTANCE = 500 * _ANGSTROM, Span(0.1, 1.0)
#: Thickest film in metre to which the published range is scaled: four times the one measured.
THICKEST_SCALED = 4 * KNOWN_FILM
#: A wiped contact over a clean one. "Only slightly higher" is published ("Bresgen"); twice is common practice.
WIPED_OVER_CLEAN = Span(1.0, 2.0)


@dataclass(frozen=True, slots=True)
class Tarnish:
    """A film after some time, and what it adds.

    Parameters
    ----------
    metal
        "silver" or "copper".
    environment
        The class of the air.
    time
        Seconds of exposure.
    thickness
        Metre.
    unwiped
        Ohms added at low force where nothing rubs the film through, silver only; None for copper, for which no
        range is known here. An infinite end says that no upper value is known.
    """

    metal: str
    environment: str
    time: float
    thickness: Span
    unwiped: Span | None


def film_growth(first: Span, time: float) -> Span:
    """Thickness in metre after `time` of a film that is `first` after 30 days.

    From x √(t/30 d), as where the film slows its own growth, to x t/30 d, as where the air brings too little for the
    film to matter; the smaller of the two for the low end, the larger for the high end.

    Parameters
    ----------
    first
        Metre after 30 days.
    time
        Second, an hour to 30 years.

    Notes
    -----
    Silver in rooms has been found near either law, by gas, moisture and thickness. Alloys of silver slow down more
    (source "alloy-tarnish"). Bare metal in moving air: inside a mated connector or a closed box it is less.
    Source: "tarnish-memory".
    """
    if not SHORTEST <= time <= LONGEST:
        raise ArgumentFault("time", time, "3600 s (an hour) to 30 years, in second")
    periods = time / CLASS_PERIOD
    slow, fast = sorted((periods, math.sqrt(periods)))
    return Span(first.low * slow, first.high * fast)


def unwiped_resistance(thickness: Span) -> Span:
    """Ohms that silver sulfide adds at low force where nothing rubs it through.

    0.1 to 1.0 Ω at 500 Å, in proportion to the thickness.

    Parameters
    ----------
    thickness
        Metre, zero or more. From 2000 Å on no upper value is known.

    Notes
    -----
    One published point, measured on films grown in office air for 3000 hours; proportion to the thickness is our
    assumption, for want of better. Valid for "low force", which the text at hand does not put into newtons: from 5 N
    on the film is crushed through (source "silver-load"). Source: "TamaiKuranaga".
    """
    if thickness.low < 0:
        raise ArgumentFault("thickness", thickness, "zero or more metre")
    least, most = (end / KNOWN_FILM for end in (min(thickness.low, THICKEST_SCALED), thickness.high))
    high = KNOWN_RESISTANCE.high * most if thickness.high <= THICKEST_SCALED else math.inf
    return Span(KNOWN_RESISTANCE.low * least, high)


def wiped_resistance(clean: Span) -> Span:
    """Ohms of a tarnished silver contact that has been wiped, from those of the `clean` one.

    Rubbing pushes silver sulfide aside: 50 µm to and fro at 0.1 N left "only slightly" more than untarnished
    silver. The upper end, twice, is common practice. Valid for silver in a connector that wipes, at its usual
    force; not for nickel, whose oxide is hard. Sources: "Bresgen", "practice".
    """
    positive("clean", clean.low, "ohm")
    return Span(clean.low * WIPED_OVER_CLEAN.low, clean.high * WIPED_OVER_CLEAN.high)


def tarnish(metal: str, environment: str, time: float) -> Tarnish:
    """Film on bare `metal` after `time` in an environment, with what it adds unwiped.

    Parameters
    ----------
    metal
        "silver" or "copper".
    environment
        "G1" (mild), "G2" (moderate), "G3" (harsh) or "GX" (severe).
    time
        Second, an hour to 30 years.

    Examples
    --------
    >>> half_a_year = tarnish("silver", "G1", 182.6 * 86400)
    >>> f"up to {1e9 * half_a_year.thickness.high:.0f} nm"
    'up to 122 nm'
    """
    air = environment_of(environment)
    name = metal.strip().lower()
    if name not in air.film:
        raise UnknownName("metal that tarnishes", metal, tuple(air.film))
    thickness = film_growth(air.film[name], time)
    unwiped = unwiped_resistance(thickness) if name == "silver" else None
    return Tarnish(name, air.name, time, thickness, unwiped)


def environment_of(environment: str) -> Environment:
    """Look up an environment by its class (any case).

    Raises
    ------
    UnknownName
        When it is not in ENVIRONMENTS.
    """
    try:
        return ENVIRONMENTS[environment.strip().upper()]
    except KeyError:
        raise UnknownName("environment class", environment, tuple(ENVIRONMENTS)) from None
