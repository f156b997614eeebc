"""What the shop's own records say of each remedy: how often it helped, and by how much it changed the resistance."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from ohmsworth.advice.remedies import Remedy
from ohmsworth.inference.before_after import before_after, log_ratios, over_jobs
from ohmsworth.inference.outcomes import Outcomes
from ohmsworth.inference.scale import antilog
from ohmsworth.report.care.care_answer import ChangeAnswer, HelpAnswer
from ohmsworth.work.care_ports import OutcomeRow

#: For sign flips where there are too many to count out.
SEED = 20


def outcomes_seen(rows: Sequence[OutcomeRow], name: str, limit: float) -> Outcomes:
    """How many contacts that mattered a remedy left good, of how many."""
    cases = [row for row in rows if row.remedy == name and row.before > limit]
    return Outcomes(sum(row.after <= limit for row in cases), len(cases))


def help_answer(remedy: Remedy, rows: Sequence[OutcomeRow], coverage: float) -> HelpAnswer:
    """What is known of how often a remedy helps."""
    recorded = sum(row.remedy == remedy.name for row in rows)
    low, high = remedy.chance.interval(coverage)
    return HelpAnswer(
        remedy.name,
        remedy.prior.mean,
        remedy.seen.cases,
        remedy.seen.good,
        recorded - remedy.seen.cases,
        remedy.chance.mean,
        low,
        high,
    )


def changes_seen(rows: Sequence[OutcomeRow], coverage: float) -> tuple[ChangeAnswer, ...]:
    """What each remedy that was recorded did to the resistance, in the order of the records."""
    found = (change_seen(rows, name, coverage) for name in dict.fromkeys(row.remedy for row in rows))
    return tuple(one for one in found if one is not None)


def change_seen(rows: Sequence[OutcomeRow], name: str, coverage: float) -> ChangeAnswer | None:
    """What one remedy did to the resistance, over its jobs where they are told apart; None where no contact has a ratio."""
    all_rows = [row for row in rows if row.remedy == name]
    mine = [row for row in all_rows if math.isfinite(row.before) and math.isfinite(row.after)]
    if not mine:
        return None
    before, after = (np.array([getattr(row, key) for row in mine]) for key in ("before", "after"))
    whole = before_after(before, after, SEED)
    jobs = list(dict.fromkeys(row.job for row in mine))
    ratio, (low, high) = whole.ratio, whole.interval(coverage)
    ahead: tuple[float | None, float | None] = (None, None)
    if len(jobs) > 1:
        changes = log_ratios(before, after)
        pooled = over_jobs({job: changes[[row.job == job for row in mine]] for job in jobs}, coverage)
        if pooled is not None:
            ratio = antilog(pooled.mean.value)
            low, high = map(antilog, pooled.mean.interval(coverage))
            assert pooled.next_study is not None
            a, b = pooled.next_study.interval(coverage)
            ahead = antilog(a), antilog(b)
    known = whole.contacts > 1
    return ChangeAnswer(
        name,
        whole.contacts,
        len(jobs),
        ratio,
        low if known else None,
        high if known else None,
        *ahead,
        whole.exact.p_value,
        float(np.exp(np.log(after).mean())),
        len(all_rows) - len(mine),
    )
