"""Answers made by hand, with only what a sentence needs."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.report.answer import (
    FORMAT,
    STATED_MARGIN,
    Answer,
    Bound,
    ComparisonAnswer,
    ConditionAnswer,
    Interval,
    NeededAnswer,
    SpecimenAnswer,
    WarningAnswer,
)
from ohmsworth.report.use_answers import EffectAnswer, ThresholdAnswer, UseAnswer

LIMIT = Bound(3e-3, "the datasheet")
STATED = Bound(1e-3, STATED_MARGIN)
FROM_USE = Bound(1.9, "vocal microphone: hum rejection at 50 Hz falls to 60 dB")


def specimen(
    name: str,
    verdict: str | None,
    condition: str = "all",
    resistance: float = 2.5e-3,
    known: bool = True,
    latest: bool = True,
) -> SpecimenAnswer:
    chance = {"within": 0.99, "over": 0.01, "too close to call": 0.6}.get(verdict or "")
    low, high = (0.95 * resistance, 1.05 * resistance) if known else (None, None)
    return SpecimenAnswer(
        name, condition, resistance, 1e-4 if known else None, low, high, 5.0, 2, chance if known else None,
        verdict, "settled", latest,
    )  # fmt: skip


def condition(
    name: str = "all", value: float = 2.5e-3, low: float | None = 2.2e-3, high: float | None = 2.9e-3
) -> ConditionAnswer:
    return ConditionAnswer(
        name, 4, 8, "median", value, 1e-4, low, high, 3.0, 3.4e-3, 0.95, 0.99, 0.02, "within"
    )


def comparison(
    verdict: str,
    difference: tuple[float, float, float],
    of: str = "worn",
    p: float = 0.001,
    settle: Sequence[tuple[int, int]] = (),
    margin: float | None = 1e-3,
    read_last: str | None = None,
) -> ComparisonAnswer:
    ratio = 1 + difference[0] / 2.5e-3
    return ComparisonAnswer(
        of, "new", read_last is not None, 0, Interval(*difference), Interval(ratio, 0.9 * ratio, 1.1 * ratio), 6.0, p, 0.03, 0.01,
        True, margin, verdict, tuple(NeededAnswer(n, n, m, 0.8) for n, m in settle), read_last=read_last,
    )  # fmt: skip


def answer(
    specimens: Sequence[SpecimenAnswer] = (),
    conditions: Sequence[ConditionAnswer] | None = None,
    comparisons: Sequence[ComparisonAnswer] = (),
    limit: Bound | None = LIMIT,
    margin: Bound | None = None,
    warnings: Sequence[WarningAnswer] = (),
    reference: str | None = None,
    coverage: float = 0.95,
    current: float | None = 0.1,
    uses: Sequence[UseAnswer] = (),
) -> Answer:
    return Answer(
        format=FORMAT,
        question="Are they good enough?",
        sentence="",
        findings=(),
        scale="log",
        coverage=coverage,
        reference="new" if comparisons else reference,
        limit=limit,
        margin=margin,
        ambient=293.15,
        rows=8,
        rows_used=8,
        resistances=4,
        specimens=tuple(specimens),
        conditions=tuple(conditions if conditions is not None else [condition()]),
        comparisons=tuple(comparisons),
        scatter=(),
        budget_of="all",
        budget=(),
        equivalent_length=(),
        uses=tuple(uses),
        warnings=tuple(warnings),
        actions=(),
        method=(),
        sources=(),
        largest_current=current,
    )


def falling_short() -> UseAnswer:
    """A circuit that does not give what is asked of it, with ideal contacts already."""
    hum = "rejection of hum at 50 Hz"
    return UseAnswer(
        "balanced line",
        "tie line",
        {},
        (EffectAnswer("hum", hum, "dB", 50.0, "one leg", "all", 74.9, 74.8, 74.7, 74.9, 80.0),),
        (
            ThresholdAnswer(
                "hum", f"{hum} falls to 80 dB", "one leg", None, "already passed with ideal contacts", "", ""
            ),
            ThresholdAnswer("level", "level at 1 kHz falls by 0.1 dB", "both legs", 58.0, "", "", ""),
        ),
        (),
        (),
    )


def before_and_after(
    verdict: str,
    were: str = "over",
    are: str = "within",
    difference: float = 2e-3,
    margin: Bound | None = STATED,
) -> Answer:
    """The same three contacts, worn and then new."""
    worn = [specimen(f"N{i}", were, "worn", 3.7e-3, latest=False) for i in range(3)]
    new = [specimen(f"N{i}", are, "new", 2.5e-3 if are == "within" else 5e-3) for i in range(3)]
    found = comparison(verdict, (difference, difference - 0.4e-3, difference + 0.4e-3), read_last="new")
    return answer(
        [*worn, *new], [condition("worn", 3.7e-3, 3.3e-3, 4.1e-3), condition("new")], [found], margin=margin
    )
