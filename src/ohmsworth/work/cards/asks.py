"""What a card or a step on it asks for: one field each, with its words and its form."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ohmsworth.work.records import CardKind

AskForm = Literal["line", "lines", "day", "quantity", "choice", "card", "ranges", "accuracy"]

#: A limit, a range or a standard outside of this (SI) is a slip of the unit.
BELIEVED = (1e-9, 1e9)


@dataclass(frozen=True, slots=True)
class Ask:
    """One field.

    Parameters
    ----------
    key
        Its name in the log and in a form.
    label, hint
        What stands beside it.
    form
        What is typed: a line of text, several lines, a day, a quantity with its unit, one of a few words, another card,
        the ranges of a meter, an accuracy such as "0.5 % + 3 counts".
    needed
        Whether it may stay empty.
    dimension
        Of a quantity.
    options
        Of a choice; of a line they are suggestions.
    of
        The kind of the other card.
    most
        The longest text.
    later
        Whether the form of a new card leaves it out.
    """

    key: str
    label: str
    form: AskForm = "line"
    hint: str = ""
    needed: bool = False
    dimension: str = ""
    options: tuple[str, ...] = ()
    of: CardKind | None = None
    most: int = 200
    later: bool = False
