"""The workshop's lists as texts that the records keep: read by the readers of their files, and reels written again."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from ohmsworth.adapters.files.decode import decode
from ohmsworth.adapters.files.formulas import as_text
from ohmsworth.adapters.files.memory import laid_down
from ohmsworth.adapters.files.workshop.prices_toml import read_prices
from ohmsworth.adapters.files.workshop.reels_csv import read_reels
from ohmsworth.cables.workshop.cutting import Reel
from ohmsworth.cables.workshop.estimate import Prices
from ohmsworth.errors import InputRefused
from ohmsworth.work.workshop_ports import PRICES, REELS, ReadReels


def reels_in(text: str) -> ReadReels:
    """The reels in the text of a reels.csv.

    Raises
    ------
    InputRefused
        With every fault of it, by its lines.
    """
    with laid_down({REELS: text.encode("utf-8", "replace")}) as folder:
        reels, unused, faults = read_reels(folder / REELS)
    if faults:
        raise InputRefused(tuple(faults))
    return ReadReels(reels, unused)


def prices_in(text: str) -> Prices:
    """The prices in the text of a prices.toml.

    Raises
    ------
    InputRefused
        With every fault of it.
    """
    with laid_down({PRICES: text.encode("utf-8", "replace")}) as folder:
        prices, faults = read_prices(folder / PRICES)
    if faults or prices is None:
        raise InputRefused(tuple(faults))
    return prices


def text_of_file(data: bytes, name: str) -> str:
    """The text of a file as spreadsheets and editors write it.

    Raises
    ------
    InputRefused
        For what is no text.
    """
    text, faults = decode(data, name)
    if text is None:
        raise InputRefused(tuple(faults))
    return text


def reels_csv(reels: Sequence[Reel]) -> str:
    """The text of a reels.csv with these reels; :func:`reels_in` gives them back."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("wire", "reel", "length [m]", "useful [m]"))
    for reel in reels:
        useful = "" if reel.useful is None else _metres(reel.useful)
        writer.writerow((as_text(reel.stock), as_text(reel.name), _metres(reel.millimetres), useful))
    return out.getvalue()


def _metres(millimetres: int) -> str:
    """Every digit, and none that says nothing.

    Examples
    --------
    >>> _metres(31200), _metres(5), _metres(100000)
    ('31.2', '0.005', '100')
    """
    whole, rest = divmod(millimetres, 1000)
    return f"{whole}.{rest:03d}".rstrip("0") if rest else str(whole)
