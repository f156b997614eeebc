"""What is said of circuits wherever they are spoken of: what they do not meet by themselves, and what no number may release."""

from __future__ import annotations

from collections.abc import Iterable

from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer
from ohmsworth.report.words import amount, capital, listed


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


def proviso_sentences(uses: Iterable[UseAnswer]) -> list[str]:
    """What follows on any number where no number may be taken for leave, with the names of the uses that it is about."""
    named: dict[str, list[str]] = {}
    for use in uses:
        if use.proviso:
            named.setdefault(use.proviso, []).append(use.name)
    return [f"{capital(listed(names))}: {text[:1].lower()}{text[1:]}" for text, names in named.items()]
