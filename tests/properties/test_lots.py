"""What holds for every sampling plan and every guard band."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmsworth.inference.lots import (
    DoublePlan,
    SinglePlan,
    VariablesPlan,
    accept_double,
    accept_single,
    accept_variables,
    average_sample,
    design_double,
    design_single,
    design_variables,
    published_plan,
    share_bounds,
)
from ohmsworth.inference.risk import Population, global_risks

SHARES = st.tuples(st.floats(0.005, 0.1), st.floats(3.0, 12.0)).map(lambda t: (t[0], min(t[0] * t[1], 0.7)))
RISKS = st.tuples(st.floats(0.02, 0.2), st.floats(0.02, 0.2))
SLOW = settings(max_examples=40, deadline=None)


@given(
    st.integers(1, 200),
    st.integers(0, 20),
    st.integers(0, 20),
    st.integers(0, 4),
    st.sampled_from([None, 500]),
)
def test_the_worse_the_lot_the_less_it_is_accepted(
    n: int, accepted: int, more: int, gap: int, size: int | None
) -> None:
    share = np.linspace(0, 1, 101)
    double = DoublePlan(n, accepted, accepted + gap + 1, n, accepted + more)
    curves = [accept_single(SinglePlan(n, accepted), share, size), accept_double(double, share, size)]
    curves.append(accept_variables(VariablesPlan(n + 1, 0.1 * more), share))
    for curve in curves[:: 1 if gap == 0 or more >= gap else 2]:
        assert (np.diff(curve) <= 1e-9).all()
        assert curve[0] == 1.0
    drawn = average_sample(double, share, size)
    assert (drawn >= n).all()
    assert (drawn <= 2 * n + 1e-9).all()


@SLOW
@given(SHARES, RISKS, st.sampled_from([None, 20, 300]))
def test_a_designed_plan_holds_its_risks(
    shares: tuple[float, float], risks: tuple[float, float], size: int | None
) -> None:
    good, bad = shares
    if size is not None:  # whole pieces: the acceptable share rounded down, the rejectable one up
        good, bad = np.floor(good * size + 1e-9) / size, np.ceil(bad * size - 1e-9) / size
    single = design_single(shares, risks, size)
    double = design_double(shares, risks, size)
    assert float(accept_single(single, good, size)) >= 1 - risks[0] - 1e-6
    assert float(accept_single(single, bad, size)) <= risks[1] + 1e-6
    assert float(accept_double(double, good, size)) >= 1 - risks[0] - 1e-6
    assert float(accept_double(double, bad, size)) <= risks[1] + 1e-6
    assert float(average_sample(double, good, size)) <= single.sample
    plan = design_variables(shares, risks)
    assert float(accept_variables(plan, shares[0])) >= 1 - risks[0] - 1e-6
    assert float(accept_variables(plan, shares[1])) <= risks[1] + 1e-6


@given(st.integers(1, 50), st.integers(0, 5), st.floats(0, 1))
def test_a_large_lot_is_as_a_supply_without_end(n: int, accepted: int, share: float) -> None:
    size = 1_000_000
    whole = np.rint(share * size) / size
    plan = SinglePlan(n, min(accepted, n))
    assert abs(accept_single(plan, whole, size) - accept_single(plan, whole)) < 2e-3


@given(st.integers(2, 600_000), st.sampled_from([0.0065, 0.01, 0.025, 0.065]))
def test_published_plans_grow_with_the_lot_and_tighten(size: int, limit: float) -> None:
    normal, rejected = published_plan(size, limit)
    tightened, _ = published_plan(size, limit, "tightened")
    reduced, gap = published_plan(size, limit, "reduced")
    larger, _ = published_plan(2 * size, limit)
    assert larger.sample >= normal.sample
    assert rejected == normal.accepted + 1
    assert gap > reduced.accepted
    assert reduced.sample <= normal.sample
    assert accept_single(tightened, limit) <= accept_single(normal, limit) + 1e-12


@given(st.integers(0, 60), st.integers(1, 60), st.floats(0.6, 0.999))
def test_bounds_of_a_share_hold_it(bad: int, sample: int, confidence: float) -> None:
    bad = min(bad, sample)
    low, high = share_bounds(bad, sample, confidence)
    assert 0 <= low <= bad / sample <= high <= 1


@SLOW
@given(st.floats(0.01, 3), st.floats(0.001, 3), st.floats(-3, 3), st.floats(-2, 2), st.floats(0.01, 1))
def test_a_wider_guard_band_trades_one_risk_for_the_other(
    spread: float, uncertainty: float, limit: float, guard: float, more: float
) -> None:
    population = Population(0.0, spread, uncertainty)
    narrow = global_risks(population, -np.inf, limit, guard)
    wide = global_risks(population, -np.inf, limit, guard + more)
    assert wide.consumer <= narrow.consumer + 1e-9
    assert wide.producer >= narrow.producer - 1e-9
    assert min(wide.consumer, wide.producer) >= 0
