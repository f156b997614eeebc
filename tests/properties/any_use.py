"""What must hold for a use of any kind, whatever its values."""

from collections.abc import Iterable

import numpy as np
import pytest

from ohmsworth.consequence import Use, effects, thresholds


def a_threshold_inverts_its_effect(use: Use) -> None:
    """At the resistance of a threshold the effect has its value."""
    for threshold in thresholds(use):
        if threshold.resistance is None:
            continue
        found = effects(use, threshold.resistance)
        effect = next(e for e in found if (e.key, e.position) == (threshold.effect, threshold.position))
        assert effect.threshold is not None
        assert float(effect.value) == pytest.approx(effect.threshold, rel=1e-6, abs=1e-9)


def every_effect_is_finite(use: Use, ohms: Iterable[float] = (0.0, 1e9)) -> None:
    """From ideal contacts to open ones, and of the shape asked for."""
    for shape in ((), (0,), (2, 3)):
        for ohm in ohms:
            for effect in effects(use, np.full(shape, ohm)):
                assert effect.value.shape == shape
                assert np.all(np.isfinite(effect.value))
