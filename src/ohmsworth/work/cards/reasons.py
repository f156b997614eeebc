"""The reason that a change of the records has to give."""

from __future__ import annotations

from ohmsworth.errors import Fault
from ohmsworth.work.cards.typed import clean_text

LONGEST_REASON = 500


def reason_faults(reason: str, expected: str) -> list[Fault]:
    """What is wrong with a reason that has to be given; `expected` says for what."""
    if not clean_text(reason):
        return [Fault("reason", "nothing", expected, "Say it in a few words: it stands in the history.")]
    return long_reason_faults(reason)


def long_reason_faults(reason: str) -> list[Fault]:
    """The same of one that may be left out."""
    if len(reason) <= LONGEST_REASON:
        return []
    found = f"a text of {len(reason)} characters"
    return [Fault("reason", found, f"at most {LONGEST_REASON}", "Shorten it, or write a note.")]
