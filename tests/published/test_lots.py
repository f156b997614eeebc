"""Sampling plans against published tables. The standing of each check stands beside it."""

import csv
import math

import numpy as np
import pytest
from scipy import optimize, stats
from tests.published.data_files import FOLDER
from tests.published.printed import assert_printed

from ohmsworth.inference.lots import (
    SinglePlan,
    VariablesPlan,
    accept_single,
    accept_variables,
    design_variables,
    published_plan,
    share_bounds,
    share_estimate,
)


def cells(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


PLANS = cells("milstd105e_levelII_slice.csv")
VARIABLES = cells("z19_s_method_levelII.csv")


@pytest.mark.parametrize("cell", PLANS, ids=lambda cell: f"{cell['type']} {cell['lot']} {cell['AQL']}")
def test_every_cell_of_the_published_tables(cell: dict[str, str]) -> None:
    """MIL-STD-105E, Tables II-A, II-B, II-C, level II: published, from one packaged copy. Both ends of each lot size."""
    for size in cell["lot"].split("-"):
        plan, rejected = published_plan(int(size), float(cell["AQL"]) / 100, cell["type"])  # type: ignore[arg-type]
        assert (plan.sample, plan.accepted, rejected) == (int(cell["n"]), int(cell["Ac"]), int(cell["Re"]))


def test_all_three_inspections_are_checked() -> None:
    assert {cell["type"] for cell in PLANS} == {"normal", "tightened", "reduced"}
    assert len(PLANS) == 165


@pytest.mark.parametrize("cell", VARIABLES, ids=lambda cell: f"{cell['lot']} {cell['AQL']}")
def test_the_two_forms_of_the_s_method_agree(cell: dict[str, str]) -> None:
    """MIL-STD-414, Tables B-1 and B-3, memory: at distance k the estimated share is the largest allowed, M."""
    assert share_estimate(float(cell["k_from_M"]), int(cell["n"])) == pytest.approx(
        float(cell["M_pct"]) / 100, abs=2e-4 * float(cell["M_pct"]) / 10 + 6e-5
    )


# MIL-STD-414, Table B-1, AQL 1.0, memory: n and k as printed; held as the table k that M stands for, within 0.0125.
PRINTED_K = {
    4: 1.45, 5: 1.53, 7: 1.62, 10: 1.72, 15: 1.79, 20: 1.82, 25: 1.85, 35: 1.89, 50: 1.93, 75: 1.98, 100: 2.00,
    150: 2.03,
}  # fmt: skip


@pytest.mark.parametrize(("n", "k"), PRINTED_K.items())
def test_acceptability_constants(n: int, k: float) -> None:
    """The k at which the estimated share reaches M, against the printed k of the same plan."""
    largest = next(float(c["M_pct"]) for c in VARIABLES if int(c["n"]) == n and c["AQL"] == "1.0") / 100
    found = optimize.brentq(lambda q: share_estimate(q, n) - largest, 0.5, (n - 1) / math.sqrt(n) - 1e-9)
    assert found == pytest.approx(k, abs=0.0125)


CURVE = {
    0.005: "0.9897", 0.01: "0.9397", 0.02: "0.7366", 0.03: "0.4985", 0.04: "0.3042", 0.05: "0.1721", 0.06: "0.0919",
    0.07: "0.0468", 0.08: "0.0230", 0.09: "0.0109",
}  # fmt: skip


@pytest.mark.parametrize(("share", "printed"), CURVE.items())
def test_operating_characteristic_of_89_and_2(share: float, printed: str) -> None:
    """Montgomery, Table 15.2, memory; the table cuts rather than rounds, so one unit of the last digit."""
    assert float(accept_single(SinglePlan(89, 2), share)) == pytest.approx(float(printed), abs=1.01e-4)


@pytest.mark.parametrize(
    ("chance", "percent"), [(0.95, "0.256"), (0.50, "3.41"), (0.10, "10.9"), (0.05, "13.9")]
)
def test_points_of_20_and_0(chance: float, percent: str) -> None:
    """MIL-STD-105E, Table X-F, memory."""
    share = optimize.brentq(lambda p: float(accept_single(SinglePlan(20, 0), p)) - chance, 1e-6, 0.5)
    assert_printed(percent, 100 * share)


def test_rule_of_three() -> None:
    """Exact mathematics: n = 32, none accepted, p = 1 − 0.05^(1/32)."""
    assert float(accept_single(SinglePlan(32, 0), 1 - 0.05 ** (1 / 32))) == pytest.approx(0.05)


def test_variables_plan_of_a_nomograph() -> None:
    """Montgomery, chapter 16, memory: n = 40, k = 1.9 for 1 % with 95 % and 6 % with 10 %, read off a nomograph."""
    chance = accept_variables(VariablesPlan(40, 1.9), [0.01, 0.06])
    assert chance == pytest.approx([0.95, 0.10], abs=0.025)
    plan = design_variables((0.01, 0.06), (0.05, 0.10))
    assert plan.sample == pytest.approx(40, abs=2)
    assert plan.k == pytest.approx(1.9, abs=0.005)


@pytest.mark.parametrize(
    ("n", "k", "share"), [(5, 1.6, 0.02), (42, 1.9, 0.06), (150, 2.0, 0.01), (12, 1.0, 0.3)]
)
def test_variables_curve_by_chance(n: int, k: float, share: float) -> None:
    """Planted truth: lots drawn from a normal distribution."""
    rng = np.random.default_rng(n)
    y = rng.standard_normal((40_000, n))
    held = (stats.norm.isf(share) - y.mean(1)) / y.std(1, ddof=1) >= k
    expected = float(accept_variables(VariablesPlan(n, k), share))
    assert held.mean() == pytest.approx(
        expected, abs=4 * math.sqrt(expected * (1 - expected) / 40_000) + 1e-4
    )


def test_seven_of_twenty_one() -> None:
    """Clopper-Pearson, 95 % two-sided, a second computation: 0.1459 to 0.5697."""
    low, high = share_bounds(7, 21, 0.975)
    assert_printed("0.1459", low)
    assert_printed("0.5697", high)
