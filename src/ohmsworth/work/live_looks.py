"""How sure a verdict has to be at this look."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.inference.looks import final_level, level_at, level_within, share_of_contact
from ohmsworth.report.live_answer import AT_END
from ohmsworth.work.live_progress import Progress

#: Beyond the sheet plans reckon with this part of its level.
BEYOND = 4


@dataclass(frozen=True, slots=True)
class Looks:
    """How sure a verdict has to be, by how the answer is looked at and for a study's `coverage`."""

    kind: str
    coverage: float

    def level(self, done: int, planned: int, alpha: float) -> float:
        """Level of a one-sided test at this look; 0.0 where there is no verdict yet."""
        if self.kind == AT_END:
            return alpha if done >= planned else 0.0
        return level_at(done, planned, alpha)

    def confidence(self, done: int, planned: int) -> float | None:
        """Confidence that a verdict needs; None where there is none yet."""
        return _confidence(self.level(done, planned, 1 - self.coverage))

    def of_contact(self, read: Progress, specimen: int, condition: int) -> float | None:
        """The same for one contact, whose scatter the others help to know."""
        done, planned, alpha = read.specimen(specimen, condition), read.planned.matings, 1 - self.coverage
        share = share_of_contact(min(done / planned, 1.0), *read.freedom())
        if self.kind == AT_END or (share >= 1 and done > planned):
            return _confidence(self.level(done, planned, alpha))
        return _confidence(level_within(share, read.total > 1, alpha))

    def at_end(self, planned: int) -> float:
        """Confidence that a verdict needs when the sheet is finished."""
        return self.coverage if self.kind == AT_END else 1 - final_level(planned, 1 - self.coverage)

    def for_plans(self, done: int, planned: int) -> float:
        """Level with which to reckon at a look to come; beyond the sheet a round figure, for there it falls look by look."""
        if done <= planned:
            return self.level(done, planned, 1 - self.coverage)
        return (1 - self.at_end(planned)) / BEYOND


def _confidence(level: float) -> float | None:
    return 1 - level if level > 0 and 1 - level < 1 else None
