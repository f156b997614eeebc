"""Contacts as people write them: one, a run of them, or several ways of several contacts."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import product

from ohmsworth.cables.build import Place
from ohmsworth.errors import QuantityFault, shorten
from ohmsworth.units import tidy

#: More contacts of one text than this are a slip.
MOST = 2000
#: All contacts that the other side does not hold.
REST = "rest"
_RUN = re.compile(r"([0-9]{1,5})\s*[-–−]\s*([0-9]{1,5})")
_MEND = "Write a contact as it stands at its end, a run such as 1-48, or ways and contacts such as 1-48.1-3."


def contacts_from_text(text: str) -> tuple[str, ...]:
    """Contacts that `text` names, in order.

    Examples
    --------
    >>> contacts_from_text("1-3"), contacts_from_text("shell")
    (('1', '2', '3'), ('shell',))
    >>> contacts_from_text("7-8.1-2")
    ('7.1', '7.2', '8.1', '8.2')

    Raises
    ------
    QuantityFault
        For a run that goes down, or holds more than anybody has.
    """
    parts = [_part(part.strip(), text) for part in tidy(text).split(".")]
    size = 1
    for part in parts:
        size *= len(part)
    if size > MOST:
        raise QuantityFault(shorten(text), f"up to {MOST} contacts", _MEND)
    return tuple(".".join(names) for names in product(*parts))


def _part(part: str, text: str) -> tuple[str, ...]:
    match = _RUN.fullmatch(part)
    if match is None:
        if not part or ":" in part:
            raise QuantityFault(shorten(text), "contacts such as 1-48 or shell", _MEND)
        return (part,)
    low, high = int(match[1]), int(match[2])
    if not low < high or high - low >= MOST:
        raise QuantityFault(shorten(text), f"a run that goes up, of at most {MOST} contacts", _MEND)
    return tuple(str(number) for number in range(low, high + 1))


def places_from_text(text: str, ends: Mapping[str, Sequence[str]]) -> tuple[Place, ...]:
    """Contacts that `text` names, each with its end before a colon: ``A:1-48``.

    Parameters
    ----------
    ends
        Contacts of each end by its name; those that are named must be among them.

    Raises
    ------
    QuantityFault
        For anything else.
    """
    end, colon, rest = tidy(text).partition(":")
    end = end.strip()
    if not colon or end not in ends:
        some = " or ".join(f"{name}:{contacts[0]}" for name, contacts in list(ends.items())[:3])
        raise QuantityFault(
            shorten(text), f"an end and its contact, such as {some}", "Write the end, a colon, the contact."
        )
    places = tuple(Place(end, contact) for contact in contacts_from_text(rest))
    known = _as_set(tuple(ends[end]))
    for place in places:
        if place.contact not in known:
            found = f"{shorten(place.contact)}, which end {end} does not have"
            raise QuantityFault(
                found, "a contact of that end", f"Name it in [ends.{end}], or correct it here."
            )
    return places


@lru_cache(maxsize=16)
def _as_set(contacts: tuple[str, ...]) -> frozenset[str]:
    """The contacts of an end, made once for all words of a group."""
    return frozenset(contacts)


def group_from_text(text: str, ends: Mapping[str, Sequence[str]]) -> tuple[Place, ...]:
    """Contacts joined by hand, with blanks, commas or semicolons between them: ``A:1 A:3-5``; an end need not be said again."""
    places: list[Place] = []
    end = ""
    for word in re.split(r"[\s,;+&]+", re.sub(r"\s*([-–−:])\s*", r"\1", tidy(text)).strip()):
        if ":" in word:
            end = word.partition(":")[0]
        elif end:
            word = f"{end}:{word}"  # noqa: PLW2901 - the end as it was said last
        places += places_from_text(word, ends)
    return tuple(dict.fromkeys(places))
