import numpy as np
import pytest

from ohmsworth.consequence import dbu, noise_rise, phantom_volts, volts


def test_equal_noises_add_three_decibel() -> None:
    assert noise_rise(1e-6, 1e-6) == pytest.approx(3.0103, abs=1e-4)


def test_level_and_volts_are_inverse() -> None:
    level = np.array([-130.0, 0.0, 4.0, 24.0])
    np.testing.assert_allclose(dbu(volts(level)), level, atol=1e-12)


def test_legs_share_the_current() -> None:
    """One leg open: all current flows through the other."""
    assert phantom_volts(48.0, 6800.0, 2e-3, plus=1e12) == pytest.approx(48 - 2e-3 * 6800, abs=1e-3)


def test_a_supply_that_cannot_drive_the_current_leaves_nothing() -> None:
    assert phantom_volts(48.0, 6800.0, 20e-3) == 0.0
