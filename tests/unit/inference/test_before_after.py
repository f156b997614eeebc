"""The same contacts before and after a treatment, in one job and over several."""

import math

import numpy as np
import pytest
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.before_after import before_after, log_ratios, over_jobs

BEFORE = np.array([5.1e-3, 7.7e-3, 4.2e-3, 9.9e-3, 6.0e-3])
AFTER = np.array([3.0e-3, 3.9e-3, 3.1e-3, 3.6e-3, 3.3e-3])


def test_one_job_is_the_paired_t_of_logarithms() -> None:
    found = before_after(BEFORE, AFTER, 1)
    peer = stats.ttest_rel(np.log(AFTER), np.log(BEFORE))
    assert found.mean.p_value() == pytest.approx(float(peer.pvalue))
    low, high = peer.confidence_interval(0.95)
    assert found.interval(0.95) == pytest.approx((math.exp(low), math.exp(high)))
    assert found.ratio == pytest.approx(float(stats.gmean(AFTER / BEFORE)))
    # All five fell: 2 of 32 ways to turn the signs are as extreme.
    assert found.exact.p_value == 2 / 32


def test_turned_about_it_is_the_inverse() -> None:
    one, other = before_after(BEFORE, AFTER, 1), before_after(AFTER, BEFORE, 1)
    assert one.ratio * other.ratio == pytest.approx(1)
    assert other.interval(0.9) == pytest.approx(tuple(1 / end for end in reversed(one.interval(0.9))))


def test_one_contact_shows_no_scatter() -> None:
    found = before_after(BEFORE[:1], AFTER[:1], 1)
    assert found.interval(0.95) == (0.0, math.inf)
    assert found.exact.p_value == 1


def test_jobs_alike_in_size_are_the_t_over_their_means() -> None:
    """Closed form: equal uncertainties, jobs that differ: the t interval of the jobs' means."""
    rng = np.random.default_rng(2)
    jobs = {f"J{i}": rng.normal(-0.5 + rng.normal(0, 0.5), 0.1, 4) for i in range(6)}
    found = over_jobs(jobs)
    assert found is not None
    means = [row.mean() for row in jobs.values()]
    assert found.mean.interval(0.95) == pytest.approx(
        stats.t.interval(0.95, 5, np.mean(means), stats.sem(means))
    )
    assert found.between is not None
    assert found.between.share > 0.8


def test_a_single_contact_leans_on_the_scatter_in_other_jobs() -> None:
    found = over_jobs({"one": np.array([-0.2]), "many": np.array([-0.1, -0.3, -0.5])})
    assert found is not None
    assert found.weights[0] < found.weights[1]
    assert over_jobs({"one": np.array([-0.2]), "two": np.array([-0.4])}) is None


def test_what_has_no_ratio_is_refused() -> None:
    for before, after in [
        (BEFORE, AFTER[:3]),
        (np.array([0.0]), np.array([1.0])),
        (np.array([]), np.array([])),
    ]:
        with pytest.raises(ArgumentFault):
            log_ratios(before, after)
    with pytest.raises(ArgumentFault):
        over_jobs({"empty": np.array([])})
