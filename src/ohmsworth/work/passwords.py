"""What a password has to be, and the port of what makes and checks its hash."""

from __future__ import annotations

import unicodedata
from typing import Protocol

from ohmsworth.errors import Fault, InputRefused

SHORTEST, LONGEST = 12, 1000


class Hasher(Protocol):
    """Makes and checks hashes of passwords; slow on purpose."""

    def hash(self, password: str) -> str:
        """A new hash, with its salt and parameters in it."""

    def matches(self, hash: str, password: str) -> bool:  # noqa: A002
        """Whether `password` is the one of `hash`."""

    def is_old(self, hash: str) -> bool:  # noqa: A002
        """Whether `hash` was made with other parameters than a new one would be."""


def as_typed(password: str) -> str:
    """The password however the keyboard has composed its letters (Unicode NFKC)."""
    return unicodedata.normalize("NFKC", password)


def new_password(password: str, again: str, name: str) -> str:
    """A password that may be set.

    Raises
    ------
    InputRefused
        When it is too short, typed differently the second time, or the name itself.
    """
    typed, expected = as_typed(password), f"{SHORTEST} characters or more"
    if typed != as_typed(again):
        fault = Fault("password", "two that differ", "the same twice", "Type it once more, slowly.")
    elif len(typed) < SHORTEST:
        fault = Fault(
            "password",
            f"{len(typed)} characters",
            expected,
            "Four words that do not belong together are good.",
        )
    elif len(typed) > LONGEST:
        fault = Fault("password", f"{len(typed)} characters", f"{LONGEST} at most", "Take a shorter one.")
    elif typed.casefold().strip() == name.casefold() or len(set(typed)) == 1:
        fault = Fault(
            "password", "the name, or one letter repeated", expected, "Take one that nobody guesses."
        )
    else:
        return typed
    raise InputRefused((fault,))
