"""What single specimens and parts do to the answer, as records: who carries a verdict, which plug or socket is high."""

from __future__ import annotations

import math

from ohmsworth.inference.parts import PartEffect, part_effects
from ohmsworth.inference.sensitivity import sensitivity
from ohmsworth.report.answer import ChangeAnswer, Interval, PartAnswer, SensitivityAnswer
from ohmsworth.units import LARGEST
from ohmsworth.work.results import Results


def sensitivity_answers(results: Results) -> tuple[SensitivityAnswer, ...]:
    """Every verdict with the specimens without which it would be another; of what does not settle no average has one."""
    names = results.table.condition.names
    study, margin = results.study, results.margin
    pairs = [(c.of, c.against) for c in results.comparisons]
    found = sensitivity(
        results.resistances, results.measured, study, margin.resistance if margin else None, pairs
    )
    moving = {one.condition for one in results.unsettled}
    return tuple(
        SensitivityAnswer(
            names[s.of],
            None if s.against is None else names[s.against],
            s.verdict,
            s.dropped,
            s.kept,
            tuple(ChangeAnswer(c.kind, c.name, c.verdict) for c in s.changes),
        )
        for s in found
        if moving.isdisjoint((s.of, s.against))
    )


def part_answers(results: Results) -> tuple[PartAnswer, ...]:
    """Every plug and socket against the middle of its kind, where these are re-paired."""
    study, names = results.study, results.table.condition.names
    return tuple(
        PartAnswer(
            part.kind,
            part.name,
            tuple(names[c] for c in part.conditions),
            _interval(part, study.scale == "log"),
            part.partners,
            part.above,
            part.readings,
            _stands_out(part),
        )
        for part in part_effects(results.resistances, results.measured, study.coverage)
    )


def _interval(part: PartEffect, relative: bool) -> Interval:
    ends = [part.value, part.low, part.high]
    if relative:
        ends = [None if end is None else math.exp(min(end, 700.0)) for end in ends]
    if any(end is None or abs(end) > LARGEST for end in ends):
        return Interval(ends[0], None, None)
    return Interval(*ends)


def _stands_out(part: PartEffect) -> str | None:
    """Whether its interval leaves out the middle of its kind; with a single partner it cannot be told from the pair."""
    if part.low is None or part.high is None or part.partners < 2:
        return None
    return "high" if part.low > 0 else "low" if part.high < 0 else None
