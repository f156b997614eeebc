"""What the records teach, against published worked examples."""

import math

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.meta_analysis import combine_effects
from tests.published.printed import assert_printed

from ohmsworth.inference.outcomes import Chance, Outcomes, Prior, chance_after, chance_better
from ohmsworth.inference.pooled import StudyEffect, mean_given, pool_studies
from ohmsworth.inference.trend import reached, straight_line

# Source: Colditz1994: cases and others among the vaccinated and the rest, as a published worked example lists them.
TRIALS = [
    (4, 119, 11, 128), (6, 300, 29, 274), (3, 228, 11, 209), (62, 13536, 248, 12619), (33, 5036, 47, 5761),
    (180, 1361, 372, 1079), (8, 2537, 10, 619), (505, 87886, 499, 87892), (29, 7470, 45, 7232), (17, 1699, 65, 1600),
    (186, 50448, 141, 27197), (5, 2493, 3, 2338), (27, 16886, 29, 17825),
]  # fmt: skip


def trials() -> list[StudyEffect]:
    """Log risk ratios with their usual large-sample uncertainties."""
    return [
        StudyEffect(
            str(i),
            math.log(a / (a + b) / (c / (c + d))),
            math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)),
        )
        for i, (a, b, c, d) in enumerate(TRIALS)
    ]


def test_thirteen_trials_pooled_by_reml_with_hartung_and_knapps_interval() -> None:
    """Source: Colditz1994, printed: REML, t with 12 degrees of freedom."""
    found = pool_studies(trials())
    assert found.between is not None
    assert_printed("0.3132", found.between.variance)
    assert_printed("0.5597", found.between.spread)
    assert_printed("92.22", 100 * found.between.share)
    assert_printed("152.2330", found.between.square)
    assert found.between.p_value < 1e-4
    assert_printed("-0.7145", found.mean.value)
    assert_printed("0.1808", found.mean.standard_error)
    assert_printed("-3.9522", found.mean.value / found.mean.standard_error)
    low, high = found.mean.interval(0.95)
    assert_printed("-1.1084", low)
    assert_printed("-0.3206", high)
    assert_printed("0.0019", found.mean.p_value())
    assert not found.guarded


def test_the_printed_prediction_has_one_degree_more_than_ours() -> None:
    """Source: Colditz1994, printed 0.14 to 1.76, with k − 1 degrees of freedom; k − 2 (Higgins2009) is a little wider."""
    found = pool_studies(trials()).next_study
    assert found is not None
    half = float(stats.t.ppf(0.975, 12)) * found.standard_error
    assert_printed("0.14", math.exp(found.value - half))
    assert_printed("1.76", math.exp(found.value + half))
    assert found.freedom == 11
    assert math.exp(found.interval(0.95)[1]) == pytest.approx(1.79, abs=5e-3)


def test_the_interval_between_studies() -> None:
    """From memory: the same trials, 0.1197 to 1.1115."""
    found = pool_studies(trials()).between
    assert found is not None
    assert_printed("0.1197", found.interval[0])
    assert_printed("1.1115", found.interval[1])


@pytest.mark.parametrize("method", ["iterated", "chi2"])
def test_the_mean_at_other_estimates_of_the_variance_between(method: str) -> None:
    """statsmodels: Paule and Mandel's, and DerSimonian and Laird's (0.3088, −0.7141 in the published example)."""
    effects = trials()
    y, u2 = np.array([e.value for e in effects]), np.array([e.uncertainty**2 for e in effects])
    peer = combine_effects(y, u2, method_re=method, use_t=True)
    mean, guarded = mean_given(effects, peer.tau2)
    assert not guarded
    assert mean.value == pytest.approx(peer.mean_effect_re, rel=1e-9)
    assert mean.standard_error == pytest.approx(peer.sd_eff_w_re_hksj, rel=1e-9)
    reml = pool_studies(effects).between
    assert reml is not None
    assert reml.square == pytest.approx(peer.q, rel=1e-9)
    assert reml.variance == pytest.approx(peer.tau2, rel=0.03)
    if method == "chi2":
        assert_printed("0.3088", peer.tau2)
        assert_printed("-0.7141", mean.value)


def test_a_chance_from_many_births() -> None:
    """Source: GelmanBDA (memory): 437 of 980, uniform prior: mean 0.446, deviation 0.016, 0.415 to 0.477."""
    found = chance_after(Prior(0.5, 2), Outcomes(437, 980))
    assert_printed("0.446", found.mean)
    assert_printed("0.016", found.spread)
    low, high = found.interval(0.95)
    assert_printed("0.415", low)
    assert_printed("0.477", high)


@pytest.mark.parametrize(("good", "cases"), [(0, 0), (0, 5), (7, 9)])
def test_the_rule_of_succession(good: int, cases: int) -> None:
    """Source: Bayes-Laplace."""
    found = chance_after(Prior(0.5, 2), Outcomes(good, cases))
    assert found.of_next(1)[1] == pytest.approx((good + 1) / (cases + 2))


@pytest.mark.parametrize("table", [(3, 1, 1, 3), (10, 2, 3, 15), (1, 9, 11, 3), (40, 12, 30, 25)])
def test_better_is_fishers_exact_p_value(table: tuple[int, int, int, int]) -> None:
    """Source: Altham1969: with Beta(a, b + 1) and Beta(c + 1, d) the first is smaller with Fisher's one-sided p.

    The first table is Fisher's lady tasting tea, p = 0.243.
    """
    a, b, c, d = table
    p = float(stats.fisher_exact([[a, b], [c, d]], alternative="greater").pvalue)
    assert 1 - chance_better(Chance(a, b + 1), Chance(c + 1, d)) == pytest.approx(p, abs=1e-9)
    if table == (3, 1, 1, 3):
        assert_printed("0.243", 1 - chance_better(Chance(3, 2), Chance(2, 3)))


def test_inverse_prediction_of_a_thermometer() -> None:
    """Source: GraybillIyer, p. 431: read 104, the true temperature is 103.995, 95 % 103.4 to 104.6; 90 % at 100."""
    true = np.arange(96.0, 111.0, 2.0)
    read = np.array([95.71, 98.16, 99.52, 102.09, 103.79, 106.18, 108.14, 110.21])
    line = straight_line(true, read)
    found = reached(line, 104.0, 90.0)
    assert found.estimate is not None
    assert_printed("103.995", found.estimate)
    assert_printed("103.4", found.soonest)
    assert_printed("104.6", found.latest)
    found = reached(line, 100.0, 90.0, 0.9)
    assert_printed("99.63", found.soonest)
    assert_printed("100.59", found.latest)


def test_inverse_prediction_of_a_line() -> None:
    """Source: GraybillIyer, pp. 433 and 434: a chamber at 400 with 99 %, and a crystal at 5 with 90 %, of the line."""
    chamber = straight_line(
        np.arange(0.0, 101.0, 10.0),
        np.array([206.36, 225.52, 252.18, 289.33, 318.11, 349.49, 383.03, 410.70, 444.40, 469.14, 501.16]),
    )
    found = reached(chamber, 400.0, 0.0, 0.99, further=False)
    assert found.estimate is not None
    assert_printed("66.5", found.estimate)
    assert_printed("65.07", found.soonest)
    assert_printed("68.03", found.latest)
