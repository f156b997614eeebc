"""The choice of tones keeps what it promises, or says that it cannot."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.tones import MAINS_CLEARANCE, RATES, choose_cycles, third_order


def distortion(cycles: list[int], order: int) -> set[int]:
    """All sums of `order` tones, each added or taken away, by brute force."""
    signed = [*cycles, *(-c for c in cycles)]
    return {abs(sum(some)) for some in product(signed, repeat=order)}


def new_products(cycles: list[int]) -> set[int]:
    """Third order without what any tone makes of itself beside another: a + b − b is a, always."""
    signed = [*cycles, *(-c for c in cycles)]
    return {abs(sum(some)) for some in product(signed, repeat=3) if not any(-one in some for one in some)}


@pytest.mark.parametrize("rate", RATES)
def test_tones_are_clear_of_mains_and_distortion(rate: int) -> None:
    cycles = choose_cycles(rate, rate, 20.0, 20e3, 11).tolist()
    assert len(cycles) == 11
    assert not distortion(cycles, 2) & set(cycles)
    assert not new_products(cycles) & set(cycles)
    assert min(cycles) >= 20
    assert max(cycles) <= 20_000
    for mains in (50, 60):
        assert min(abs(c - mains * round(c / mains)) for c in cycles) >= MAINS_CLEARANCE


def test_as_many_as_there_may_be() -> None:
    cycles = choose_cycles(96_000, 192_000, 20.0, 20e3, 31).tolist()
    assert len(cycles) == 31
    assert not new_products(cycles) & set(cycles)


@settings(max_examples=25, deadline=None)
@given(st.floats(15, 200), st.floats(1500, 20e3), st.integers(1, 13), st.sampled_from(RATES))
def test_tones_are_where_they_were_wished(low: float, high: float, tones: int, rate: int) -> None:
    cycles = choose_cycles(rate, 4 * rate, low, high, tones)
    frequencies = cycles / 4
    places = np.geomspace(low, high, tones)
    step = (high / low) ** (1 / max(tones - 1, 1)) if tones > 1 else 2.0
    assert (np.abs(np.log(frequencies / places)) <= 0.5001 * np.log(step)).all()
    assert frequencies[0] >= low - 1e-9
    assert (cycles % 2 == 1).all()
    assert (cycles == choose_cycles(rate, 4 * rate, low, high, tones)).all()


def test_products_are_those_of_the_new_tone() -> None:
    assert third_order((), 5) == {15}
    assert third_order((1,), 5) == {15, 7, 3, 11, 9}
    assert {1 + 3 + 11, 1 + 3 - 11 + 14} <= third_order((1, 3), 11)


def test_a_period_that_is_too_short_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="longer period") as refused:
        choose_cycles(48_000, 24_000, 20.0, 20e3, 31)
    assert refused.value.name == "tones"


@pytest.mark.parametrize(
    ("name", "low", "high", "tones"),
    [("high", 20.0, 22e3, 5), ("low", 0.0, 1e3, 5), ("low", 1e3, 20.0, 5), ("low", 1e3, 1e3, 2), ("tones", 20.0, 1e3, 32)],
)  # fmt: skip
def test_a_range_that_cannot_be_is_refused(name: str, low: float, high: float, tones: int) -> None:
    with pytest.raises(ArgumentFault) as refused:
        choose_cycles(48_000, 48_000, low, high, tones)
    assert refused.value.name == name
