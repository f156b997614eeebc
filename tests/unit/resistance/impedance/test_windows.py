import numpy as np
import pytest

from ohmsworth.resistance.impedance.windows import Windows, hann_response, level_response, windows_for


def summed(offset: float, windows: Windows, period: int) -> complex:
    """The mean over the groups, sample by sample."""
    at = (np.arange(windows.periods * period) + 0.5) / period
    total = 0.0
    for group in range(windows.groups):
        inside = 1 - np.abs(at / windows.hop - group - 1)
        weight = np.where(inside > 0, 0.5 - 0.5 * np.cos(np.pi * inside), 0)
        total = total + (weight * np.exp(2j * np.pi * offset * at)).sum() / weight.sum()
    return complex(total / windows.groups)


def test_the_response_of_a_hann_window_is_that_of_its_samples() -> None:
    for offset in (0.0, 0.3, 0.5, 0.75, 1.0, 2.25, 7.5):
        seen = summed(offset, Windows(1, 1), 20_000) * np.exp(-2j * np.pi * offset)
        assert seen == pytest.approx(complex(hann_response(np.array(2 * offset))), abs=1e-7)


@pytest.mark.parametrize("windows", [Windows(1, 3), Windows(3, 7), Windows(2, 1)])
def test_the_response_over_all_groups_is_that_of_its_samples(windows: Windows) -> None:
    for offset in (0.0, 0.01, 0.3, 0.5, 1.0, 4.2, -0.7):
        wanted = summed(offset, windows, 20_000)
        # A tone that lies beside by `offset` turns the other way round than the one asked for.
        assert complex(level_response(np.array(-offset), windows)) == pytest.approx(wanted, abs=1e-6)


def test_a_line_on_another_whole_number_of_cycles_is_not_seen() -> None:
    assert np.abs(level_response(np.array([1.0, 2.0, -5.0]), Windows(3, 7))).max() < 1e-12


@pytest.mark.parametrize("periods", range(2, 200))
def test_few_periods_are_left_over(periods: int) -> None:
    windows = windows_for(periods)
    assert windows.groups >= 1
    assert periods * 0.9 <= windows.periods <= periods
