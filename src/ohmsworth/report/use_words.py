"""What is said of circuits wherever they are spoken of: what they do not meet by themselves, and what no number may release."""

from __future__ import annotations

from collections.abc import Iterable

from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer
from ohmsworth.report.words import amount


def unmet(use: UseAnswer) -> list[ThresholdAnswer]:
    """Thresholds that the circuit passes with ideal contacts already."""
    return [t for t in use.thresholds if t.resistance is None and "with ideal contacts" in t.note]


def unmet_words(use: UseAnswer, threshold: ThresholdAnswer) -> str:
    """What of a threshold the circuit itself does not meet."""
    found = next((e for e in use.effects if e.effect == threshold.effect and e.threshold is not None), None)
    if found is None or found.threshold is None:
        return f"with ideal contacts already {threshold.words}"
    asked, ideal = amount(found.threshold, found.unit), amount(found.ideal, found.unit)
    return f"the circuit itself does not meet {asked} of {found.words} (ideal contacts give {ideal})"


def provisos(uses: Iterable[UseAnswer], said: str = "") -> list[str]:
    """What follows on any number where no number may be taken for leave, each once, but for what is `said` already."""
    return [text for text in dict.fromkeys(use.proviso for use in uses) if text and text not in said]
