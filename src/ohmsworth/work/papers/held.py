"""What the shop's records hold of a paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class HeldPaper:
    """A paper as the records hold it.

    Parameters
    ----------
    card, kind
        Number of the card that holds it, and what that is: "cable", or "study" for the paper of a lot.
    digest
        Of the paper that was issued under this number.
    later, why
        Number of the paper that takes its place, and the reason; "" where none does.
    now
        The texts of the card's folder as they are now, by the names of their files.
    """

    card: int
    kind: str
    digest: str
    later: str
    why: str
    now: Mapping[str, str]
