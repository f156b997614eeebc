"""Accept, reject, or not yet, counted and measured, at each edge."""

import numpy as np
import pytest

from ohmsworth.inference.lots import DoublePlan, SinglePlan, VariablesPlan
from ohmsworth.inference.lots.verdicts import (
    ACCEPT,
    NOT_YET,
    REJECT,
    Counted,
    LotVerdict,
    Values,
    judge_counts,
    judge_values,
)

SHARES, RISKS = (0.01, 0.06), (0.05, 0.10)
SINGLE, DOUBLE = SinglePlan(89, 2), DoublePlan(42, 0, 3, 42, 2)
MEASURING = VariablesPlan(42, 1.9)


@pytest.mark.parametrize(
    ("within", "over", "close", "expected"),
    [
        (89, 0, 0, LotVerdict(ACCEPT, 0, 2)),
        (87, 2, 0, LotVerdict(ACCEPT, 0, 2)),
        (87, 1, 1, LotVerdict(ACCEPT, 0, 2)),
        (86, 1, 2, LotVerdict(NOT_YET, 0, 2, "close")),
        (86, 3, 0, LotVerdict(REJECT, 0, 2)),
        (10, 3, 0, LotVerdict(REJECT, 0, 2)),
        (80, 1, 2, LotVerdict(NOT_YET, 6, 2, "sample")),
        (196, 4, 0, LotVerdict(ACCEPT, 0, 7)),
        (192, 8, 0, LotVerdict(REJECT, 0, 7)),
    ],
)
def test_counting(within: int, over: int, close: int, expected: LotVerdict) -> None:
    assert judge_counts(Counted(within, over, close), SINGLE, SHARES, RISKS, None) == expected


@pytest.mark.parametrize(
    ("within", "over", "close", "verdict", "more"),
    [
        (42, 0, 0, ACCEPT, 0),
        (41, 0, 1, NOT_YET, 0),
        (41, 1, 0, NOT_YET, 42),
        (39, 3, 0, REJECT, 0),
        (59, 1, 0, NOT_YET, 24),
        (57, 3, 0, REJECT, 0),
        (82, 2, 0, ACCEPT, 0),
        (81, 3, 0, REJECT, 0),
        (20, 0, 0, NOT_YET, 22),
    ],
)
def test_two_samples(within: int, over: int, close: int, verdict: str, more: int) -> None:
    found = judge_counts(Counted(within, over, close), DOUBLE, SHARES, RISKS, 200)
    assert (found.verdict, found.more) == (verdict, more)


@pytest.mark.parametrize(
    ("mean", "shared", "noise", "verdict", "why"),
    [
        (-2.0, 0.0, 0.0, ACCEPT, ""),
        (-1.8, 0.0, 0.0, REJECT, ""),
        (-2.0, 0.2, 0.0, NOT_YET, "meter"),
        (-1.8, 0.2, 0.0, NOT_YET, "scatter"),
        (-1.8, 0.0, 0.6, NOT_YET, "scatter"),
        (-2.2, 0.2, 0.6, ACCEPT, ""),
        (-1.0, 0.1, 0.5, REJECT, ""),
    ],
)
def test_measuring(mean: float, shared: float, noise: float, verdict: str, why: str) -> None:
    found = judge_values(Values(mean, 1.0, 42, shared, noise), MEASURING, 0.0, SHARES, RISKS)
    assert (found.verdict, found.why) == (verdict, why)


def test_too_few_values_and_values_all_alike() -> None:
    few = judge_values(Values(-3.0, 1.0, 40, 0.0, 0.0), MEASURING, 0.0, SHARES, RISKS)
    assert few == LotVerdict(NOT_YET, 2, 1.9, "sample")
    alike = Values(-1.0, 0.0, 42, 0.0, 0.0)
    assert alike.ends(0.0) == (np.inf, np.inf)
    assert judge_values(alike, MEASURING, 0.0, SHARES, RISKS).verdict == ACCEPT
    assert Values(0.0, 0.0, 42, 0.0, 0.0).distance(0.0) == 0.0
