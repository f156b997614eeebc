"""Circuits as they are asked for to circuits with all their values."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ohmsworth.consequence import Use, make_use
from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.study import UseRequest

#: A kind with all its defaults, a circuit as a study asks for it, or one that is made already.
AskedUse = str | UseRequest | Use


def made_uses(asked: Sequence[AskedUse]) -> tuple[Use, ...]:
    """Each use of `asked` with a name of its own: a second "balanced line" becomes "balanced line 2".

    Raises
    ------
    UnknownName, ArgumentFault
        As `make_use`, or for what is no use.
    """
    if isinstance(asked, str):
        raise ArgumentFault("uses", asked, "a list of uses")
    uses: list[Use] = []
    for one in asked:
        use = _made(one)
        taken = {other.name for other in uses}
        name, number = use.name, 1
        while name in taken:
            number += 1
            name = f"{use.name} {number}"
        uses.append(replace(use, name=name))
    return tuple(uses)


def _made(asked: AskedUse) -> Use:
    if isinstance(asked, Use):
        return asked
    if isinstance(asked, str):
        return make_use(asked)
    if not isinstance(asked, UseRequest):
        raise ArgumentFault("uses", asked, "a kind as text, a UseRequest, or what make_use made, each")
    return make_use(asked.kind, asked.name, asked.values, asked.cables, asked.lead)
