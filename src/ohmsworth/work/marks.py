"""Words in a card's face that nobody types: they find a name that is exactly so, and every card that links to another."""

from __future__ import annotations

from ohmsworth.readings.names import clean_name, twin_key


def one_line(text: str) -> str:
    """A name with single blanks and without anything that cannot be printed."""
    return clean_name("".join(c for c in clean_name(text) if c.isprintable()))


def name_mark(name: str) -> str:
    """Finds the card of this very name, in any letters and blanks, and none that only begins with it."""
    return f"⟨{one_line(twin_key(one_line(name))).replace(' ', '_')}⟩"


def card_mark(number: int) -> str:
    """Finds the cards that link to card `number`."""
    return f"⟨no.{number}⟩"
