import math

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.materials import (
    Span,
    clean_resistance,
    cluster_resistance,
    film_resistance,
    hardness_of,
    spot_radius,
    spot_resistance,
)


def test_forces_may_be_an_array() -> None:
    radius = spot_radius([1.0, 4.0], 1e9)
    np.testing.assert_allclose(radius[1], 2 * radius[0])
    np.testing.assert_allclose(spot_resistance(2e-8, radius), 1e-8 / radius)


def test_the_softer_member_sets_the_spot() -> None:
    radius = float(spot_radius(1.0, hardness_of("tin").pressure.low))
    by_hand = (10.9e-8 + 2.44e-8) / (4 * radius)
    assert clean_resistance("gold", 1.0, "tin").low == pytest.approx(by_hand)
    assert clean_resistance("tin", 1.0).low == pytest.approx(10.9e-8 / (2 * radius))


def test_film_over_area() -> None:
    """17 Ω·m of sulfide, 50 nm of it, on a spot of 10 µm radius: 2.7 kΩ if it conducted as its bulk does."""
    assert film_resistance(17 * 50e-9, math.pi * 1e-10) == pytest.approx(2706, rel=1e-3)


def test_a_span_goes_from_low_to_high() -> None:
    assert Span(1, 2).times(2) == Span(2, 4)
    for low, high in ((2, 1), (math.nan, 1), (1, math.nan), (math.inf, math.inf), (-math.inf, 1)):
        with pytest.raises(ArgumentFault):
            Span(low, high)


def test_out_of_range_is_refused() -> None:
    for call in (
        lambda: spot_radius(0.0, 1e9),
        lambda: spot_radius(1.0, -1.0),
        lambda: spot_radius([1.0, math.nan], 1e9),
        lambda: spot_resistance(0.0, 1e-5),
        lambda: spot_resistance(1e-8, 0.0),
        lambda: spot_resistance(1e-8, 1e-5, math.inf),
        lambda: cluster_resistance(1e-8, 1e-6, 1, 1e-5),
        lambda: cluster_resistance(1e-8, 1e-6, 100, 9e-6),  # they do not fit in
        lambda: cluster_resistance(1e-8, 1e-6, 9, math.nan),
        lambda: film_resistance(-1e-12, 1e-9),
        lambda: film_resistance(1e-12, 0.0),
        lambda: clean_resistance("gold", 0.0),
        lambda: clean_resistance("gold", 2000.0),
        lambda: clean_resistance("gold", math.nan),
    ):
        with pytest.raises(ArgumentFault):
            call()
    with pytest.raises(UnknownName, match="gold"):
        clean_resistance("golt", 1.0)
    with pytest.raises(UnknownName, match="brass"):
        hardness_of("bras")
