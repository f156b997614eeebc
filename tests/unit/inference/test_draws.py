import numpy as np
import pytest
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.draws import DRAWS, future_draws, stated_draws
from ohmsworth.inference.future import Future, chance_over

FEW = Future(
    mean=1.0, between=0.04, between_freedom=4, specimens=5, inside=0.0, inside_freedom=np.inf, known=0.0
)
NESTED = Future(
    mean=1.0, between=0.04, between_freedom=6, specimens=7, inside=0.02, inside_freedom=12, known=0.001
)


@pytest.mark.parametrize("future", [FEW, NESTED])
@pytest.mark.parametrize("limit", [0.8, 1.0, 1.2, 1.5])
def test_each_contact_is_over_a_limit_as_often_as_predicted(future: Future, limit: float) -> None:
    """The predictive probability comes from closed forms and quadrature: another way."""
    drawn = future_draws(future, 6)
    assert drawn.shape == (DRAWS, 6)
    np.testing.assert_allclose((drawn > limit).mean(0), chance_over(future, limit), atol=0.015)


def test_contacts_of_a_set_share_what_is_not_known_of_the_mean() -> None:
    """Two contacts of one set are correlated as two future values are: what the mean does not say over all."""
    sure = Future(1.0, 0.04, 1e6, 4, 0.0, np.inf, 0.0)
    drawn = future_draws(sure, 2)
    assert np.corrcoef(drawn.T)[0, 1] == pytest.approx((0.04 / 4) / (0.04 / 4 + 0.04), abs=0.03)


def test_a_stated_population_has_its_quantiles() -> None:
    drawn = stated_draws(0.003, 0.2, 4)
    for p in (0.025, 0.5, 0.9):
        wanted = 0.003 * np.exp(0.2 * stats.norm.ppf(p))
        np.testing.assert_allclose(np.quantile(drawn, p, axis=0), wanted, rtol=0.005)
    assert np.abs(np.corrcoef(np.log(drawn).T) - np.eye(4)).max() < 0.03
    assert np.all(stated_draws(0.003, 0.0, 2) == 0.003)


def test_the_same_study_gives_the_same_draws() -> None:
    np.testing.assert_array_equal(future_draws(NESTED, 3), future_draws(NESTED, 3))


def test_what_is_no_population_is_refused() -> None:
    for median, spread, contacts in ((0.0, 0.1, 1), (1.0, -0.1, 1), (1.0, np.nan, 1), (1.0, 0.1, 0)):
        with pytest.raises(ArgumentFault):
            stated_draws(median, spread, contacts)
    with pytest.raises(ArgumentFault):
        future_draws(FEW, 0)
