"""What the shop's records hold of a paper."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HeldPaper:
    """A paper as the records hold it.

    Parameters
    ----------
    cable
        Number of the cable's card.
    digest
        Of the paper that was issued under this number.
    later, why
        Number of the paper that takes its place, and the reason; "" where none does.
    now
        The texts of cable.toml and test.csv as they are now.
    """

    cable: int
    digest: str
    later: str
    why: str
    now: tuple[str, str]
