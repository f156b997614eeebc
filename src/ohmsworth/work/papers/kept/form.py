"""What a person states for a paper."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ohmsworth.report.papers.kinds import Paper


@dataclass(frozen=True, slots=True)
class PaperForm:
    """Answers as text, by the keys of the table [certificate]; "" where nothing is stated."""

    number: str = ""
    tested_by: str = ""
    date: str = ""
    customer: str = ""
    supersedes: str = ""
    reason: str = ""
    shop: str = ""
    address: str = ""

    def tidy(self) -> PaperForm:
        """Each answer on one line, without outer blanks."""
        return PaperForm(*(" ".join(getattr(self, one.name).split()) for one in fields(self)))

    def following(self, holding: Mapping[int, Paper], outdated: Container[int]) -> PaperForm:
        """The same after earlier papers, by their lines, the last first.

        The customer stays who it was, and a paper that no longer says what the records do is proposed to be superseded.
        """
        if not holding:
            return self
        line, last = next(iter(holding.items()))
        supersedes = last.number if line in outdated else self.supersedes
        return replace(self, customer=self.customer or last.customer, supersedes=supersedes)
