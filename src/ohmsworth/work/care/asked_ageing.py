"""How contacts are asked to be told apart: words without a blank, which a command and an address hold without quotes."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.errors import Fault, InputRefused, nearest_name, shorten
from ohmsworth.readings.names import clean_name
from ohmsworth.report.care.ageing_answer import WAYS, By, Chosen

#: What is typed, and what it means.
NAMES: dict[str, By] = {("lot" if way == "supplier lot" else way): way for way in WAYS}


def asked_of(by: str, given: Sequence[str]) -> tuple[By, list[Chosen]]:
    """What contacts are told apart by, and what they must have in common.

    Parameters
    ----------
    by
        One of `NAMES`, or of what they mean.
    given
        Texts such as "plating=gold".

    Raises
    ------
    InputRefused
        With everything that is written otherwise.

    Examples
    --------
    >>> asked_of("lot", ["plating = gold"])
    ('supplier lot', [Chosen(what='plating', value='gold')])
    """
    only, faults = chosen_of(given, "only")
    way = _named(by)
    if way is None:
        near = nearest_name(by, tuple(NAMES))
        mend = f"Did you mean {shorten(near)}?" if near else "Choose one of them."
        faults.insert(0, Fault("by", shorten(by), f"one of {', '.join(NAMES)}", mend))
    if faults or way is None:
        raise InputRefused(tuple(faults))
    return way, only


def chosen_of(given: Sequence[str], where: str) -> tuple[list[Chosen], list[Fault]]:
    """What contacts must have in common, and what is wrong with how that is written.

    Parameters
    ----------
    given
        Texts such as "plating=gold".
    where
        What they are called where they are at fault.
    """
    only, faults = [], []
    for text in given:
        what, equals, value = text.partition("=")
        way = _named(what)
        if way is None or not equals or not clean_name(value):
            some = f"one of {', '.join(NAMES)}, then = and a name"
            faults.append(
                Fault(where, shorten(text), some, f"Write it such as {_written(where)}plating=gold.")
            )
        else:
            only.append(Chosen(way, clean_name(value)))
    return only, faults


def _named(text: str) -> By | None:
    name = clean_name(text).lower()
    return NAMES.get(name) or next((way for way in WAYS if way == name), None)


def _written(where: str) -> str:
    """An option goes before what it says."""
    return f"{where} " if where.startswith("--") else ""
