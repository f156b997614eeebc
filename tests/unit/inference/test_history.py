"""A history narrows what it fits and leaves alone what it does not; its arithmetic against independent computations."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from scipy import integrate, stats

from ohmsworth.inference.design import build_design
from ohmsworth.inference.engine import contrast, make_engine
from ohmsworth.inference.history import (
    FAR,
    USUAL_SPREAD,
    Against,
    equivalent,
    lean,
    pooled_expectation,
    speaks,
    weight_of,
)
from ohmsworth.inference.rebuilt import History, PastScatter, inside_of, lean_on
from ohmsworth.readings import Labels

READING = 0.12
INSIDE = (Against(1.0, 12, 1.0, 0.25), Against(1.0, 18, 1.0, 0.22))


def test_half_width_is_that_of_the_posterior_by_quadrature() -> None:
    """One level only: prior and likelihood integrated over ln r by adaptive quadrature (scipy), nothing shared with the code."""
    x2, nu, spread, coverage = 1.7**2, 2.0, 0.3, 0.95
    leant = lean(Against(x2, nu, 1.0, spread), ())
    assert leant is not None
    weight = leant.weight
    width = np.log(30.0)

    def prior(log_r: float) -> float:
        near = 0.5 * stats.norm.pdf(log_r, scale=np.hypot(spread, USUAL_SPREAD))
        reach = stats.norm.cdf((log_r + width) / spread) - stats.norm.cdf((log_r - width) / spread)
        return float(weight * (near + 0.5 * reach / (2 * width)) + (1 - weight) / (2 * np.log(FAR)))

    def posterior(log_r: float) -> float:
        scaled = nu * x2 * np.exp(-2 * log_r)
        return float(prior(log_r) * scaled ** (nu / 2) * np.exp(-scaled / 2))

    cuts = np.linspace(np.log(1e-3), np.log(2e4), 40)
    half = leant.half_width(coverage)

    def held(log_r: float) -> float:
        return posterior(log_r) * float(2 * stats.norm.cdf(half / np.exp(log_r)) - 1)

    def total(f) -> float:  # type: ignore[no-untyped-def]
        return sum(integrate.quad(f, a, b)[0] for a, b in itertools.pairwise(cuts))

    assert total(held) / total(posterior) == pytest.approx(coverage, abs=2e-3)


@pytest.mark.parametrize("nu", [1.0, 2.0, 4.0])
def test_far_off_it_is_the_study_s_own_t_interval(nu: float) -> None:
    """Student's t from scipy; the history expects an eighth of the standard deviation, while the levels inside fit it."""
    leant = lean(Against(8.0**2, nu, 1.0, 0.3), INSIDE)
    assert leant is not None
    assert leant.half_width(0.95) == pytest.approx(8 * stats.t.ppf(0.975, nu), rel=0.02)
    assert speaks(leant) == "does not fit"
    assert lean(Against(30.0**2, nu, 1.0, 0.3), INSIDE) is None


def test_what_fits_is_narrower_and_what_is_off_as_a_whole_keeps_its_proportions() -> None:
    own = float(stats.t.ppf(0.975, 2))
    fits = lean(Against(1.0, 2, 1.0, 0.25), INSIDE)
    tripled = tuple(Against(9 * one.variance, one.freedom, one.expected, one.spread) for one in INSIDE)
    off = lean(Against(9.0, 2, 1.0, 0.25), tripled)
    assert fits is not None
    assert off is not None
    assert (speaks(fits), speaks(off)) == ("fits", "in proportion")
    assert fits.half_width(0.95) < 0.67 * own
    assert off.half_width(0.95) < 0.75 * 3 * own
    assert off.fits < 0.15 < off.proportion


@pytest.mark.parametrize("x", [0.3, 1.0, 2.5])
def test_the_stand_in_has_both_widths(x: float) -> None:
    leant = lean(Against(x**2, 2, 1.0, 0.3), INSIDE)
    assert leant is not None
    variance, freedom = equivalent(leant, 0.95)
    for coverage in (0.95, 0.90):
        half = stats.t.ppf((1 + coverage) / 2, freedom) * np.sqrt(variance)
        assert half == pytest.approx(leant.half_width(coverage), rel=1e-5)


@pytest.mark.parametrize(("nu", "at_975", "at_99"), [(1.0, 0.20, 0.45), (2.0, 0.05, 0.15), (4.0, 0.03, 0.08)])
@pytest.mark.parametrize("x", [0.5, 1.0, 2.0, 4.0])
def test_at_other_coverages_the_stand_in_is_as_near_as_the_decision_says(
    nu: float, at_975: float, at_99: float, x: float
) -> None:
    leant = lean(Against(x**2, nu, 1.0, 0.3), INSIDE)
    assert leant is not None
    variance, freedom = equivalent(leant, 0.95)
    for coverage, near in ((0.975, at_975), (0.99, at_99)):
        half = stats.t.ppf((1 + coverage) / 2, freedom) * np.sqrt(variance)
        assert half == pytest.approx(leant.half_width(coverage), rel=near)


def test_weight_is_less_where_little_can_contradict() -> None:
    assert [weight_of(nu, INSIDE) for nu in (1.0, 2.0, 9.0)] == [0.25, 0.5, 0.5]
    assert weight_of(4.0, ()) == 0.25
    assert weight_of(0.5, INSIDE) == 0.25


def test_spread_of_past_studies_is_seen() -> None:
    """Chi-squared draws of one variance show no spread between studies; the standard deviation of ln s is 1/sqrt(2 ν)."""
    alike, spread = pooled_expectation(np.full(4, 2.0), np.full(4, 10.0))
    assert alike == pytest.approx(2.0)
    assert 1 / np.sqrt(2 * 40) < spread < np.hypot(USUAL_SPREAD * np.sqrt(1.25), 1 / np.sqrt(2 * 40)) + 1e-12
    _, apart = pooled_expectation(np.array([1.0, 9.0, 81.0, 729.0]), np.full(4, 10.0))
    assert apart > 3 * spread


def past_of(**deviations: float) -> PastScatter:
    return PastScatter({k: v**2 for k, v in deviations.items()}, dict.fromkeys(deviations, 12.0))


def nested(rng: np.random.Generator, paired: bool, scale: float = 1.0):  # type: ignore[no-untyped-def]
    rows = []
    for condition in "AB":
        for number in range(3):
            for mating in range(3):
                rows += [(f"{'S' if paired else condition}{number}", condition, str(mating))] * 2
    specimen, condition, mating = (list(column) for column in zip(*rows, strict=True))
    columns = np.array(rows)
    y = READING * rng.standard_normal(len(rows))
    for deviation, parts in ((0.2, [0]), (0.15 if paired else 0.0, [0, 1]), (0.1, [0, 1, 2])):
        number = np.unique(columns[:, parts], axis=0, return_inverse=True)[1].ravel()
        y = y + deviation * rng.standard_normal(number.max() + 1)[number]
    return build_design(scale * y, Labels.of(condition), Labels.of(specimen), None, Labels.of(mating))


@pytest.mark.parametrize("paired", [False, True])
def test_expected_variances_are_those_of_drawn_studies(paired: bool) -> None:
    """400 drawn studies: the mean of squares of each estimate, and mean squares inside, against what history expects."""
    past = past_of(specimen=0.2, mating=0.1, reading=READING, **({"response": 0.15} if paired else {}))
    history = History(((past,), (past,)), 0.95)
    rng = np.random.default_rng(4)
    designs = [nested(rng, paired) for _ in range(400)]
    means = np.array([[d.y[d.condition == c].mean() for c in (0, 1)] for d in designs])
    first = lean_on(history, designs[0], 0.01, 2, (0,))
    between = lean_on(history, designs[0], 0.01, 2, (0, 1))
    assert first is not None
    assert between is not None
    assert first.expected == pytest.approx(means[:, 0].var(), rel=0.15)
    assert between.expected == pytest.approx((means[:, 0] - means[:, 1]).var(), rel=0.15)
    inside = [inside_of(history, d) for d in designs]
    assert len(inside[0]) == 4
    for place in range(4):
        found = np.mean([each[place].variance for each in inside])
        assert inside[0][place].expected == pytest.approx(found, rel=0.1)


@pytest.mark.parametrize("paired", [False, True])
def test_a_comparison_keeps_the_geometry_of_its_three_estimates(paired: bool) -> None:
    """Ends in ohm are put together from all three, by their correlation: it must stay what the study found."""
    past = past_of(specimen=0.2, response=0.15, mating=0.1, reading=READING)
    engine = make_engine(nested(np.random.default_rng(6), paired), "auto")
    alone = contrast(engine, 1, 0)
    told = contrast(replace(engine, history=History(((past,), (past,)), 0.95)), 1, 0)
    assert told[2].variance != pytest.approx(alone[2].variance, rel=0.02)
    factors = [a.variance / b.variance for a, b in zip(told, alone, strict=True)]
    assert factors == pytest.approx([factors[0]] * 3)
    assert len({e.freedom for e in told}) == 1
    assert [e.value for e in told] == [e.value for e in alone]


def test_without_a_response_a_paired_comparison_does_not_lean() -> None:
    design = nested(np.random.default_rng(1), True)
    past = past_of(specimen=0.2, mating=0.1, reading=READING)
    history = History(((past,), (past,)), 0.95)
    assert lean_on(history, design, 0.01, 2, (0, 1)) is None
    assert lean_on(history, design, 0.01, 2, (0,)) is not None


def test_units_do_not_matter() -> None:
    """Ten times the unit, ten times the interval; no number in the code has a unit of its own."""
    past = past_of(specimen=0.2, mating=0.1, reading=READING)
    large = past_of(specimen=2.0, mating=1.0, reading=10 * READING)
    halves = []
    for scale, scatter in ((1.0, past), (10.0, large)):
        design = nested(np.random.default_rng(3), False, scale)
        engine = make_engine(design, "auto")
        leant = lean_on(History(((scatter,), (scatter,)), 0.95), engine.design, 0.02 * scale**2, 2, (0,))
        assert leant is not None
        halves.append(leant.half_width(0.95))
    assert halves[1] == pytest.approx(10 * halves[0], rel=1e-6)
