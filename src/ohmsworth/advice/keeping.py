"""How to keep a contact until it is used, from what is known of its plating."""

from __future__ import annotations

import re

from ohmsworth.materials.finish_facts import GOLD, NICKEL, TIN
from ohmsworth.materials.tarnish_facts import KEEP_SILVER

#: For contacts of any plating. Source: "practice".
KEEP_DRY = "Keep it dry and free of dust, mated or under its cap."
#: For finished cables. Source: "practice".
KEEP_COILED = "Coil it loosely, without kinks and without a pull on its ends."
#: For silver, whose film gives way to rubbing; softer finishes are spared it. Sources: "Bresgen", "practice".
EXERCISE = "Mate and unmate it fully, some five times, before it is used."
#: By plating: what to know of it while it lies, in the words of the materials.
_KNOWN = {
    "silver": (KEEP_SILVER.words, EXERCISE),
    **{
        finish.name: tuple(
            f"{finish.name.capitalize()} – {one.words[:1].lower()}{one.words[1:]}"
            for one in finish.bad
            if one.topic == topic
        )[:1]
        for finish, topic in ((GOLD, "tarnish"), (TIN, "fretting"), (NICKEL, "tarnish"))
    },
}


def keeping_words(plating: str) -> tuple[str, ...]:
    """Two or three sentences on how to keep it.

    Parameters
    ----------
    plating
        As its card says, such as "silver" or "hard gold"; "" where nobody said.

    Examples
    --------
    >>> keeping_words("hard gold")[0]
    'Gold – thin coats have pores: what lies beneath corrodes and creeps out.'
    """
    named = next((name for name in _KNOWN if plated_with(plating, name)), "")
    if named:
        return (*_KNOWN[named], KEEP_DRY)
    return (KEEP_DRY,) if plating else (f"Its plating is not stated. {KEEP_SILVER.words}", KEEP_DRY)


def plated_with(plating: str, metal: str) -> bool:
    """Whether the words of a card name this metal."""
    return re.search(rf"\b{metal}", plating.casefold()) is not None
