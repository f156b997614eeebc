"""A meter's statement split into what all readings share and what is new in each."""

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.meters import Accuracy, half_width, independent_uncertainty, shared_uncertainties

METER = Accuracy(gain=0.005, counts=3, resolution=1e-5)


@pytest.mark.parametrize("reading", [0.0, 1e-5, 2.6e-3, -2.6e-3, 1.0])
def test_the_two_parts_give_back_the_rectangle(reading: float) -> None:
    x = np.array([reading])
    whole = half_width(METER, x) / np.sqrt(3)
    parts = np.hypot(shared_uncertainties(METER, x)["gain"], independent_uncertainty(METER, x))
    assert parts == pytest.approx(whole, rel=1e-14)


def test_gain_alone_is_all_shared_and_counts_alone_all_new() -> None:
    x = np.array([0.1])
    assert independent_uncertainty(Accuracy(gain=0.01), x) == pytest.approx(0, abs=1e-18)
    assert shared_uncertainties(Accuracy(counts=5, resolution=1e-4), x) == {}
    assert independent_uncertainty(Accuracy(counts=5, resolution=1e-4), x) == pytest.approx(5e-4 / np.sqrt(3))


def test_a_digit_is_never_known_better_than_half_its_step() -> None:
    assert half_width(Accuracy(resolution=1e-5), np.array([1.0])) == pytest.approx(0.5e-5)


def test_a_standard_uncertainty_is_shared() -> None:
    meter = Accuracy(gain=0.003, standard=4e-6)
    parts = shared_uncertainties(meter, np.array([1e-3]))
    assert parts["gain"] == pytest.approx(3e-6 / np.sqrt(3))
    assert parts["calibration"] == pytest.approx(4e-6)


@pytest.mark.parametrize(
    "wrong",
    [
        {"gain": -0.1},
        {"gain": np.nan},
        {"counts": np.inf},
        {"resolution": -1.0},
        {"standard": 0.0},
        {"standard": np.nan},
    ],
)
def test_an_impossible_statement_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(ArgumentFault, match=next(iter(wrong))):
        Accuracy(**wrong)
