"""Text made fit to be drawn: what cannot be shown, or could act instead of being read, is replaced."""

from __future__ import annotations

import dataclasses
import unicodedata
from collections.abc import Callable
from typing import TypeVar, cast

T = TypeVar("T")

REPLACEMENT = "\ufffd"
BYTE_ORDER_MARK = "\ufeff"
#: Marks that turn the direction of the text after them; a name could use them to read as another.
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c")


def clean(thing: T) -> T:
    """`thing` (a text, or dataclasses and tuples of texts) with every text made drawable.

    Line ends and tabs become blanks; control characters, lone surrogates and marks that turn the writing
    direction become U+FFFD; byte order marks go; letters with loose accents are composed.
    """
    return map_texts(thing, clean_text)


def clean_text(text: str) -> str:
    """One text made drawable."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_letter(letter) for letter in unicodedata.normalize("NFC", text))


def _letter(letter: str) -> str:
    if letter in "\n\r\t\v\f\u2028\u2029\x85":
        return " "
    if letter == BYTE_ORDER_MARK:
        return ""
    bad = unicodedata.category(letter) in ("Cc", "Cs", "Cn", "Co") or letter in _TURNING
    return REPLACEMENT if bad else letter


def map_texts(thing: T, change: Callable[[str], str]) -> T:
    """A copy of `thing` in which `change` was applied to every text, however deep."""
    return cast(T, _map(thing, change))


def _map(thing: object, change: Callable[[str], str]) -> object:
    if isinstance(thing, str):
        return change(thing)
    if isinstance(thing, tuple):
        return tuple(_map(part, change) for part in thing) if _holds_text(thing) else thing
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        parts = {f.name: _map(getattr(thing, f.name), change) for f in dataclasses.fields(thing)}
        return dataclasses.replace(thing, **parts)
    return thing


def _holds_text(parts: tuple[object, ...]) -> bool:
    return bool(parts) and not isinstance(parts[0], int | float)
