"""The contacts of a study's conditions, as they are put into circuits."""

from __future__ import annotations

from functools import partial

import numpy as np

from ohmsworth.consequence.effects import LARGEST_RESISTANCE
from ohmsworth.inference.conditions import ConditionResult, future_of
from ohmsworth.inference.draws import future_draws
from ohmsworth.inference.future import Future
from ohmsworth.readings.study import Scale
from ohmsworth.readings.table import Array
from ohmsworth.work.results import Results
from ohmsworth.work.tone_results import OverTones, impedance_of
from ohmsworth.work.use_answers import Case


def study_cases(results: Results, over: OverTones | None = None) -> list[Case]:
    """Every condition of a study, in its order, with its impedance where `over` has it."""
    return [_case(condition, results, over) for condition in results.conditions]


def _case(condition: ConditionResult, results: Results, over: OverTones | None) -> Case:
    """The contacts of one condition, with no population where the study cannot tell how far fresh ones scatter."""
    name, scale = results.table.condition.names[condition.condition], results.study.scale
    known = condition.specimens > 1 and condition.low is not None
    future = future_of(results.measured, condition.condition) if known else None
    drawn = None if future is None else partial(_fresh_contacts, future, scale)
    impedance = None if over is None else impedance_of(over, name)
    return Case(name, condition.value, condition.low, condition.high, drawn, impedance)


def _fresh_contacts(future: Future, scale: Scale, contacts: int) -> Array:
    drawn = future_draws(future, contacts)
    # No further than an open contact, so that the power of e stays a number.
    return np.asarray(np.exp(np.minimum(drawn, np.log(LARGEST_RESISTANCE))) if scale == "log" else drawn)
