"""Platings and base metals: what each is good and bad at, looked up by name."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from ohmsworth.errors import UnknownName
from ohmsworth.materials import base_metal_facts as base
from ohmsworth.materials import finish_facts as finish
from ohmsworth.materials.facts import PlatingFacts

_LIST = (
    finish.GOLD,
    finish.SILVER,
    finish.TIN,
    finish.NICKEL,
    base.COPPER,
    base.BRASS,
    base.PHOSPHOR_BRONZE,
    base.BERYLLIUM_COPPER,
)
#: Facts by metal: finishes first, then base metals.
PLATING_FACTS: Mapping[str, PlatingFacts] = MappingProxyType({facts.name: facts for facts in _LIST})


def plating_facts(name: str) -> PlatingFacts:
    """Look up what is known of a plating or base metal by its `name` (any case).

    Examples
    --------
    >>> plating_facts("Silver").bad[0].topic
    'tarnish'

    Raises
    ------
    UnknownName
        When it is not in PLATING_FACTS.
    """
    try:
        return PLATING_FACTS[name.strip().lower()]
    except KeyError:
        raise UnknownName("plating or base metal", name, tuple(PLATING_FACTS)) from None
