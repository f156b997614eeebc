import numpy as np
import pytest

from ohmsworth.consequence.uses.peak import peak_finder

PLACES = np.linspace(0, 6, 90)


def hill(x: np.ndarray, centre: float, width: float) -> np.ndarray:
    return 3 / (1 + ((x - centre) / width) ** 2)


@pytest.mark.parametrize("centre", [0.7, 2.0, 3.33, 5.2])
@pytest.mark.parametrize("width", [0.25, 1.0])
def test_a_hill_is_found_between_the_places(centre: float, width: float) -> None:
    place, height = peak_finder(PLACES)(hill(PLACES, centre, width))
    assert place == pytest.approx(centre, abs=3e-3 * width)
    assert height == pytest.approx(3, abs=2e-3)


def test_a_parabola_is_found_exactly() -> None:
    place, height = peak_finder(PLACES)(2 - (PLACES - 2.345) ** 2)
    assert place == pytest.approx(2.345, abs=1e-10)
    assert height == pytest.approx(2, abs=1e-10)


def test_it_moves_smoothly_from_sample_to_sample() -> None:
    """By as much as the hill does, also where the highest sample changes."""
    centres = np.linspace(2, 2.2, 401)
    place, height = peak_finder(PLACES)(hill(PLACES, centres[:, None], 0.5))
    np.testing.assert_allclose(np.diff(place), np.diff(centres), rtol=0.02)
    assert np.ptp(height) < 1e-4


def test_without_a_hill_an_end_is_highest() -> None:
    find = peak_finder(PLACES)
    assert find(-PLACES) == (0.0, 0.0)
    place, height = find(PLACES**2)
    assert place == pytest.approx(6)
    assert height == pytest.approx(36)
    place, height = find(np.zeros(90))
    assert 0 <= place <= 6
    assert height == 0


def test_shapes_are_kept() -> None:
    find = peak_finder(PLACES)
    for shape in ((), (3,), (2, 3), (0,)):
        place, height = find(np.broadcast_to(hill(PLACES, 2.0, 0.5), (*shape, 90)))
        assert place.shape == height.shape == shape


def test_of_two_hills_the_higher_one_is_taken() -> None:
    place, _ = peak_finder(PLACES)(hill(PLACES, 1.5, 0.3) + 1.1 * hill(PLACES, 4.5, 0.3))
    assert place == pytest.approx(4.5, abs=0.01)
