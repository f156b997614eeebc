"""Headers of SCPI commands: short and long forms, in any case, with nodes that may be left out.

SCPI-99 volume 1, from memory.
"""

from __future__ import annotations

import re


def header_pattern(header: str) -> re.Pattern[str]:
    """What matches a header such as ``[SOURce:]CURRent[:LEVel]?``.

    Examples
    --------
    >>> bool(header_pattern("[SOURce:]CURRent[:LEVel]").fullmatch("curr:lev"))
    True
    """
    pattern = ""
    for piece in re.findall(r"\[|\]|\*|\?|:|[A-Za-z]+", header):
        if piece.isalpha():
            short = "".join(letter for letter in piece if letter.isupper())
            rest = piece[len(short) :]
            pattern += f"{short}(?:{rest})?" if rest else short
        else:
            pattern += {"[": "(?:", "]": ")?"}.get(piece, re.escape(piece))
    return re.compile(f":?{pattern}", re.IGNORECASE)
