"""How wide text comes out, before it is drawn: enough to wrap labels and keep them apart."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

Measure = Callable[[str], float]

#: Advance of the characters from space to tilde in the regular face, in thousandths of the size.
_ADVANCES = (
    281, 278, 403, 631, 638, 812, 639, 222, 362, 362, 500, 659, 280, 460, 276, 357, 625, 464, 605, 636,
    642, 608, 624, 571, 616, 624, 276, 280, 659, 659, 659, 507, 936, 676, 651, 727, 719, 598, 587, 743,
    740, 264, 543, 652, 562, 889, 753, 761, 635, 761, 639, 638, 642, 741, 676, 949, 642, 665, 625, 362,
    357, 362, 469, 452, 497, 564, 621, 558, 621, 582, 361, 609, 591, 237, 237, 544, 237, 869, 585, 597,
    609, 609, 372, 523, 364, 581, 557, 812, 540, 557, 541, 362, 327, 362, 659,
)  # fmt: skip
_BLANKS = "\u00a0\u202f"
#: Letters with accents, Greek and Cyrillic; and signs and letters that another face may have to lend.
_LATIN_GREEK_CYRILLIC, _OTHER = 700, 1000
_SMALL = 450
_BOLD = 1.06


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Estimated width of one line of `text` set in `size`."""
    return sum(_advance(letter) for letter in text) / 1000 * size * (_BOLD if bold else 1.0)


def _advance(letter: str) -> int:
    if " " <= letter <= "~":
        return _ADVANCES[ord(letter) - 32]
    if letter in _BLANKS:
        return _ADVANCES[0]
    if letter in "°²³":
        return _SMALL
    if columns(letter) == 0:
        return 0
    base = unicodedata.normalize("NFD", letter)[0]
    if base != letter:
        return _advance(base)
    return _LATIN_GREEK_CYRILLIC if letter < "\u0500" else _OTHER


def columns(text: str) -> int:
    """How many terminal columns `text` takes: wide characters take two, combining ones none."""
    return sum(_columns_of(letter) for letter in text)


def _columns_of(letter: str) -> int:
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Cf", "Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1


def wrap_pixels(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Break `text` into lines no wider than `width`; a word too long for a line is cut."""
    return _wrap(text, width, lambda part: text_width(part, size, bold))


def cut_pixels(text: str, width: float, size: float, bold: bool = False) -> str:
    """`text`, or as much of it as stays within `width` with an ellipsis in the middle: both ends tell names apart."""
    kept = len(text)
    shown = text
    while kept > 2 and text_width(shown, size, bold) > width:
        kept -= 1
        shown = f"{text[: (kept + 1) // 2].rstrip()}…{text[len(text) - kept // 2 :].lstrip()}"
    return shown


def wrap_columns(text: str, width: int) -> list[str]:
    """Break `text` into lines of at most `width` terminal columns."""
    return _wrap(text, float(max(width, 1)), lambda part: float(columns(part)))


def _wrap(text: str, width: float, measure: Measure) -> list[str]:
    lines: list[str] = []
    current = ""
    for word in text.split(" "):
        if not word:
            continue
        joined = f"{current} {word}" if current else word
        if measure(joined) <= width:
            current = joined
            continue
        if current:
            lines.append(current)
        *whole, current = _pieces(word, width, measure)
        lines.extend(whole)
    return [*lines, current] if current or not lines else lines


def _pieces(word: str, width: float, measure: Measure) -> list[str]:
    if measure(word) <= width:
        return [word]
    pieces, current = [], ""
    for letter in word:
        if current and measure(current + letter) > width:
            pieces.append(current)
            current = letter
        else:
            current += letter
    return [*pieces, current]


def pad(text: str, width: int, right: bool = False) -> str:
    """`text` filled with blanks to `width` terminal columns; set flush right when `right`."""
    blanks = " " * max(width - columns(text), 0)
    return blanks + text if right else text + blanks
