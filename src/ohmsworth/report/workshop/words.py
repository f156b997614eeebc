"""Lengths and money as a workshop writes them."""

from __future__ import annotations

from ohmsworth.report.words import count
from ohmsworth.report.workshop.answer import ReelCutAnswer


def metres(length: float) -> str:
    """To the millimetre, as it is cut.

    Examples
    --------
    >>> metres(40.3), metres(1234.5)
    ('40.300 m', '1234.500 m')
    """
    return f"{length:.3f} m"


def share(part: float) -> str:
    """In percent to a digit.

    Examples
    --------
    >>> share(0.0041), share(0.0001), share(0.0)
    ('0.4 %', 'under 0.1 %', '0 %')
    """
    return "under 0.1 %" if 0 < part < 0.001 else f"{100 * part:.1f} %" if part else "0 %"


def amount(money: str | None, currency: str) -> str:
    """Money with its currency, thousands apart.

    Examples
    --------
    >>> amount("12345.60", "€"), amount(None, "€")
    ('12\u202f345.60 €', 'not stated')
    """
    if money is None:
        return "not stated"
    whole, point, rest = money.partition(".")
    return f"{int(whole):,}".replace(",", "\u202f") + point + rest + f" {currency}"


def piece_words(cut: ReelCutAnswer) -> str:
    """So many pieces, how long, and what for."""
    section = f", section {cut.section}" if cut.section else ""
    return f"{count(cut.number, 'piece')} of {metres(cut.cut)} for {cut.cable} ({cut.what}{section})"
