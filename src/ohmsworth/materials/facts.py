"""Facts in plain words, each with where it comes from, and what is known of one metal."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ohmsworth.materials.span import Span

#: What a statement is about.
Topic = Literal[
    "conductivity",
    "tarnish",
    "fretting",
    "wear",
    "lubricity",
    "galvanic",
    "force",
    "thickness",
    "heat",
    "cost",
    "use",
    "safety",
]


@dataclass(frozen=True, slots=True)
class Statement:
    """One sentence about a metal or a film.

    Parameters
    ----------
    words
        The sentence, as a shop owner may read it.
    source
        A key of SOURCES; its standing says whether it is published, remembered, or common practice.
    topic
        What it is about.
    """

    words: str
    source: str
    topic: Topic


@dataclass(frozen=True, slots=True)
class PlatingFacts:
    """A metal on contacts, or under their plating.

    Parameters
    ----------
    name
        As in HARDNESS and ANODIC_INDEX.
    base
        True for a metal that springs and pins are made of, False for a finish.
    resistivity
        Ohm metre at 20 °C.
    thickness
        Metre, usual for a finish on a signal contact; None for a base metal.
    force
        Newton, usual between the members where this is the finish; None where there is no custom.
    good, bad
        What it is good at, and bad at.
    notes
        What to know beside: where resistivity, thickness and force come from, and cautions (topic "safety").
    """

    name: str
    base: bool
    resistivity: Span
    thickness: Span | None
    force: Span | None
    good: tuple[Statement, ...]
    bad: tuple[Statement, ...]
    notes: tuple[Statement, ...]
