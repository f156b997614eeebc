"""Whether the check standard lets the day begin: told alike by the bench's fitness and beside a study's answer."""

from __future__ import annotations

import math

from ohmsworth.inference.control import FIT, LOOK, ControlResult
from ohmsworth.inference.control.calibrated import agrees
from ohmsworth.inference.control.charts import EWMA_WIDTH
from ohmsworth.inference.control.verdict import FEWEST, run_lengths
from ohmsworth.readings.study import Study
from ohmsworth.report.answer import Interval
from ohmsworth.report.fitness import CheckAnswer, ControlAnswer, RunLengthAnswer
from ohmsworth.report.fitness_figures import precise
from ohmsworth.report.fitness_sentences import rule_words
from ohmsworth.units import show_stated
from ohmsworth.work.checks import Checks

_SHIFTS = (0.0, 0.5, 1.0, 1.5, 2.0, 3.0)


def day_verdict(
    study: Study, checks: Checks | None, charted: ControlResult | None
) -> tuple[str, tuple[str, ...]]:
    """Whether the day may begin, and every reason why not."""
    if checks is None:
        return LOOK, ("no check standard has been read, so nothing shows that the bench is as it was",)
    if charted is None:
        have = len(checks.value)
        if have < FEWEST:
            many = "is 1 check" if have == 1 else f"are {have} checks"
            return LOOK, (f"there {many} so far, and limits need {FEWEST} at the very least",)
        return LOOK, ("the checks that set the limits are all alike, so that they show no scatter",)
    reasons = rule_words(checks.name[-1], charted, len(checks.value) - 1)
    off = _off_calibration(study, checks, charted)
    reasons = (*reasons, off) if off else reasons
    return (LOOK if reasons else FIT), reasons


def _off_calibration(study: Study, checks: Checks, charted: ControlResult) -> str:
    """In words how the weighted average of the checks differs from the calibration; "" where it does not."""
    check = study.check
    if check.value is None or check.standard_uncertainty is None:
        return ""
    average = float(charted.average.value[-1])
    spread = float(charted.average.upper[-1] - charted.limits.centre) / EWMA_WIDTH
    shared = [float(part.mean()) for part in checks.resistances.shared.values()]
    uncertainty = math.hypot(spread, *shared, float(checks.resistances.emf.mean()))
    if agrees(average, uncertainty, (check.value, check.standard_uncertainty)):
        return ""
    read = precise(average, uncertainty)
    return f"the check standard reads {read}, and its calibration says {show_stated(check.value, 'Ω')}"


def control_answer(
    study: Study, checks: Checks | None, charted: ControlResult | None
) -> ControlAnswer | None:
    """The charts written down; None where there are none."""
    if charted is None or checks is None:
        return None
    average, sums = charted.average, charted.sums
    told = tuple(
        CheckAnswer(
            checks.name[i],
            float(checks.value[i]),
            None if i == 0 else float(charted.step.value[i]),
            float(average.value[i]),
            float(average.lower[i]),
            float(average.upper[i]),
            float(sums.above[i]),
            float(sums.below[i]),
            charted.rules[i],
        )
        for i in range(len(checks.value))
    )
    return ControlAnswer(
        study.check.called,
        charted.limits.centre,
        charted.limits.deviation,
        charted.single.lower,
        charted.single.upper,
        charted.limits.range,
        charted.step.upper,
        sums.decision,
        charted.limits.first,
        _calibrated(study),
        told,
        tuple(RunLengthAnswer(shift, *run_lengths(shift)) for shift in _SHIFTS),
    )


def _calibrated(study: Study) -> Interval | None:
    check, k = study.check, 1.959964
    if check.value is None or check.standard_uncertainty is None:
        return None
    reach = k * check.standard_uncertainty
    return Interval(check.value, check.value - reach, check.value + reach)
