"""What contact resistances mean in circuits, without a study: the record behind ``ohmsworth meaning``."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import SourceAnswer
from ohmsworth.report.use_answers import UseAnswer

#: Name and version of the format.
FORMAT = "ohmsworth meaning 1"


@dataclass(frozen=True, slots=True)
class ReachedAnswer:
    """A threshold that an asked resistance is past: it begins at `resistance` (ohm), of the contacts at `position`.

    `resistance` is null where that is not between a microohm and a megohm; `by_itself` says whether the circuit is past it
    with ideal contacts already, so that no contact can mend it.
    """

    use: str
    effect: str
    words: str
    position: str
    resistance: float | None
    by_itself: bool


@dataclass(frozen=True, slots=True)
class AskedAnswer:
    """A resistance (ohm) that was asked about, and what it is past, the smallest threshold first.

    `name` is what it is called among the effects of the uses.
    """

    name: str
    resistance: float
    reached: tuple[ReachedAnswer, ...]


@dataclass(frozen=True, slots=True)
class MeaningAnswer:
    """What resistances do in circuits, and how bad they would have to be.

    `spread` is the standard deviation of the logarithm by which contacts scatter about each resistance: null where only
    contacts that are all alike were asked about.
    """

    format: str
    sentence: str
    findings: tuple[str, ...]
    asked: tuple[AskedAnswer, ...]
    spread: float | None
    uses: tuple[UseAnswer, ...]
    sources: tuple[SourceAnswer, ...]
