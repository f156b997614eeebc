"""Plans at their edges, the record of past lots, and what is refused."""

import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.lots import (
    DoublePlan,
    SinglePlan,
    VariablesPlan,
    accept_double,
    accept_single,
    accept_variables,
    acceptability_constant,
    average_sample,
    design_double,
    design_single,
    design_variables,
    inspection_after,
    largest_accepted,
    published_plan,
    share_bounds,
    share_estimate,
    share_upper_bound,
    stepped,
)

SHARES, RISKS = (0.01, 0.06), (0.05, 0.10)


def test_a_small_lot_needs_fewer_than_a_supply_without_end() -> None:
    sizes = [design_single(SHARES, RISKS, size).sample for size in (12, 50, 200, 1000)]
    assert sizes == sorted(sizes)
    assert sizes[-1] < design_single(SHARES, RISKS, None).sample == 110


def test_a_tiny_lot_is_looked_at_whole() -> None:
    assert design_single((0.01, 0.02), RISKS, 5) == SinglePlan(5, 0)
    assert design_single((0.2, 0.4), (1e-9, 1e-9), 5) == SinglePlan(5, 1)


def test_a_double_plan_draws_less_from_good_lots() -> None:
    plan = design_double(SHARES, RISKS, None)
    assert plan.second == plan.sample
    assert float(average_sample(plan, 0.01)) < design_single(SHARES, RISKS, None).sample
    assert float(average_sample(plan, 0.0)) == plan.sample


def test_a_double_plan_that_never_needs_its_second_sample_is_a_single_one() -> None:
    double, single = DoublePlan(40, 1, 2, 40, 1), SinglePlan(40, 1)
    for size in (None, 100):
        assert accept_double(double, SHARES, size) == pytest.approx(accept_single(single, SHARES, size))
        assert average_sample(double, SHARES, size) == pytest.approx([40, 40])


def test_a_double_plan_counted_out() -> None:
    """Two bad among six; two and two drawn: by counting, 14 of 15 pairs ... accept when at most one in all."""
    plan = DoublePlan(2, 0, 2, 2, 1)
    none, one = 6 / 15, 8 / 15  # bad ones in the first pair
    assert float(accept_double(plan, 2 / 6, 6)) == pytest.approx(none + one * 3 / 6)
    assert float(average_sample(plan, 2 / 6, 6)) == pytest.approx(2 + 2 * one)


def test_the_acceptance_number_of_another_sample() -> None:
    assert largest_accepted(89, 0.06, 0.10, None) == 2
    assert largest_accepted(10, 0.06, 0.10, None) == -1
    assert largest_accepted(200, 0.06, 0.10, 200) == 11


def test_variables_need_fewer_than_counting() -> None:
    plan = design_variables(SHARES, RISKS)
    assert plan.sample < design_single(SHARES, RISKS, None).sample / 2
    assert acceptability_constant(plan.sample - 1, SHARES, RISKS) is None
    assert acceptability_constant(plan.sample, SHARES, RISKS) == plan.k
    assert accept_variables(plan, [0.0, 1.0]) == pytest.approx([1.0, 0.0])


def test_share_over_from_values() -> None:
    assert share_estimate(1.0, 2) == pytest.approx(0.1587, abs=1e-4)
    assert share_estimate(9.0, 5) == 0.0
    assert share_estimate(2.0, 1000) < share_upper_bound(2.0, 1000, 0.95) < share_upper_bound(2.0, 10, 0.95)
    assert accept_variables(VariablesPlan(10, 2.0), share_upper_bound(2.0, 10, 0.95)) == pytest.approx(0.05)
    assert share_upper_bound(500.0, 3, 0.95) == pytest.approx(0.0, abs=1e-9)
    assert share_upper_bound(-1e6, 2, 0.95) == pytest.approx(1.0)
    assert share_upper_bound(1e9, 2, 0.95) < 1e-9
    assert share_bounds(0, 10, 0.95)[0] == 0.0
    assert share_bounds(10, 10, 0.95)[1] == 1.0


@pytest.mark.parametrize(
    ("record", "state"),
    [
        ("", "normal"),
        ("x", "normal"),
        ("xaaax", "tightened"),
        ("xaaaax", "normal"),
        ("xx", "tightened"),
        ("xxaaaaa", "normal"),
        ("xxaaaa", "tightened"),
        ("xxaaaaxaaaa", "tightened"),
        ("xxaaaaax", "normal"),
        ("xxxxxxx", "discontinued"),
        ("xxxxxx" + "x" + "a" * 20, "discontinued"),
        ("a" * 9, "normal"),
        ("a" * 10, "reduced"),
        ("a" * 30, "reduced"),
        ("a" * 10 + "x", "normal"),
        ("a" * 10 + "xax", "normal"),
        ("a" * 10 + "xxx", "tightened"),
    ],
)
def test_inspection_by_the_record(record: str, state: str) -> None:
    assert inspection_after([letter == "a" for letter in record]) == state


def test_tightened_asks_for_more_and_reduced_for_less() -> None:
    drawn = [
        design_single(stepped(SHARES, state), RISKS, None).sample
        for state in ("tightened", "normal", "reduced")
    ]
    assert drawn == sorted(drawn, reverse=True)
    assert drawn[0] / drawn[1] == pytest.approx(10**0.2, rel=0.05)


@pytest.mark.parametrize("shares", [(0.06, 0.01), (0.01, 0.01), (-0.1, 0.1), (0.5, 1.0)])
def test_shares_out_of_order_are_refused(shares: tuple[float, float]) -> None:
    for design in (design_single, design_double, design_variables):
        with pytest.raises(ArgumentFault):
            design(shares, RISKS, None)


def test_what_no_plan_can_hold_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="5000"):
        design_single((0.01, 0.0101), RISKS, None)
    with pytest.raises(ArgumentFault, match="10 pieces"):
        design_variables(SHARES, RISKS, 10)
    with pytest.raises(ArgumentFault, match="above zero"):
        design_variables((0.0, 0.06), RISKS)
    with pytest.raises(ArgumentFault):
        design_single(SHARES, (0.0, 0.1), None)


@pytest.mark.parametrize(
    ("size", "limit", "inspection"), [(1, 0.01, "normal"), (50, 0.012, "normal"), (50, 0.01, "discontinued")]
)
def test_what_no_table_holds_is_refused(size: int, limit: float, inspection: str) -> None:
    with pytest.raises(ArgumentFault):
        published_plan(size, limit, inspection)  # type: ignore[arg-type]
