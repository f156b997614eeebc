"""What must hold of contact spots, films, wear and pairings, whatever their size."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.materials import (
    ANODIC_INDEX,
    ENVIRONMENTS,
    HARDNESS,
    METALS,
    SLIDING,
    Span,
    clean_resistance,
    cluster_resistance,
    film_distortion,
    film_growth,
    film_resistance,
    fritting,
    pairing,
    spot_resistance,
    spot_state,
    tarnish,
    third_harmonic,
    unwiped_resistance,
    voltage_after_fritting,
    wear_life,
)

metals = st.sampled_from(sorted(METALS))
forces = st.floats(0.02, 200)
times = st.floats(3600.0, 9e8)


@given(metals, metals, forces)
def test_four_times_the_force_halves_a_clean_contact(one: str, two: str, force: float) -> None:
    once, four = clean_resistance(one, force, two), clean_resistance(one, 4 * force, two)
    assert four.low == pytest.approx(once.low / 2, rel=1e-12)
    assert four.high == pytest.approx(once.high / 2, rel=1e-12)
    assert clean_resistance(two, force, one) == once


@given(st.floats(1e-8, 1e-6), st.floats(1e-8, 1e-6), st.floats(1e-7, 1e-3))
def test_each_member_gives_its_half(one: float, two: float, radius: float) -> None:
    halves = (spot_resistance(one, radius) + spot_resistance(two, radius)) / 2
    assert spot_resistance(one, radius, two) == pytest.approx(float(halves), rel=1e-12)


@given(st.integers(2, 500), st.floats(1e-7, 1e-5), st.floats(1.01, 1e3))
def test_a_cluster_lies_between_its_spots_and_its_own_area(spots: int, radius: float, wide: float) -> None:
    cluster = wide * radius * math.sqrt(spots)
    together = cluster_resistance(1e-7, radius, spots, cluster)
    assert together > float(spot_resistance(1e-7, radius)) / spots
    assert together > float(spot_resistance(1e-7, cluster))
    assert cluster_resistance(1e-7, radius, spots, 1e6 * cluster) == pytest.approx(
        float(spot_resistance(1e-7, radius)) / spots, rel=1e-3
    )


@pytest.mark.parametrize(
    ("rings", "gap", "within"),
    [(1, 4.0, 0.25), (1, 10.0, 0.25), (2, 4.0, 0.15), (5, 3.0, 0.15), (8, 10.0, 0.15)],
)
def test_a_cluster_agrees_with_discs_worked_out_one_by_one(rings: int, gap: float, within: float) -> None:
    """Discs at one potential on a half space, each felt by the others as a point."""
    steps = range(-rings, rings + 1)
    grid = [(x + y / 2, y * math.sqrt(3) / 2) for x in steps for y in steps if abs(x + y) <= rings]
    places, radius, resistivity = gap * np.array(grid), 1.0, 1.0
    apart = np.hypot(*(places[:, None, :] - places[None, :, :]).T)
    np.fill_diagonal(apart, np.inf)
    potentials = resistivity / (2 * math.pi * apart) + np.eye(len(grid)) * resistivity / (4 * radius)
    exact = 2 / np.linalg.solve(potentials, np.ones(len(grid))).sum()
    cluster = float(np.hypot(*places.T).max()) + gap / 2
    assert cluster_resistance(resistivity, radius, len(grid), cluster) == pytest.approx(exact, rel=within)


@given(st.floats(0, 1e-8), st.floats(1e-14, 1e-6))
def test_a_film_is_worth_less_on_a_larger_spot(film: float, area: float) -> None:
    assert film_resistance(film, 3 * area) * 3 == pytest.approx(float(film_resistance(film, area)), rel=1e-12)


@given(metals, st.floats(-0.8, 0.8), st.floats(-0.8, 0.8))
def test_more_voltage_never_cools(name: str, one: float, two: float) -> None:
    order = ["cold", "softens", "may melt", "melts"]
    less, more = sorted((spot_state(name, one), spot_state(name, two)), key=lambda state: state.voltage)
    assert order.index(less.state) <= order.index(more.state)
    assert less.margin >= more.margin
    assert (less.margin > 0) == (less.state == "cold")
    if less.temperature is not None and more.temperature is not None:
        assert 293.15 <= less.temperature <= more.temperature


def harmonics(law: str, u: float) -> np.ndarray:
    """Amplitudes of the contact voltage over R I, for V0 = 1 and R I = u, by a Fourier analysis of the exact law."""
    current = u * np.sin(2 * np.pi * np.arange(2048) / 2048)
    if law == "cubic":  # v + v³ = i, Cardano in its hyperbolic form
        voltage = 2 / math.sqrt(3) * np.sinh(np.arcsinh(1.5 * math.sqrt(3) * current) / 3)
        np.testing.assert_allclose(voltage * (1 + voltage**2), current, rtol=1e-9, atol=1e-15)
    else:  # i = sinh(√6 v)/√6
        voltage = np.arcsinh(math.sqrt(6) * current) / math.sqrt(6)
    return np.abs(np.fft.rfft(voltage))[: 1024 // 2] / 1024 / u


@given(st.sampled_from(["cubic", "sinh"]), st.floats(0.01, 30))
def test_the_third_harmonic_lies_between_its_bounds(law: str, u: float) -> None:
    amplitudes = harmonics(law, u)
    span = third_harmonic(u, 1.0)
    slack = 1e-9
    # Over the contact's own fundamental, and over R I, which the ratio to the signal rests on.
    assert span.low - slack <= amplitudes[3] / amplitudes[1] <= span.high + slack
    assert span.low - slack <= amplitudes[3] <= span.high + slack
    # All orders together stay below the whole voltage of the contact.
    assert math.sqrt(float((amplitudes[2:] ** 2).sum())) < 1


@pytest.mark.parametrize("law", ["cubic", "sinh"])
def test_the_bounds_meet_at_a_small_signal(law: str) -> None:
    amplitudes = harmonics(law, 0.02)
    span = third_harmonic(0.02, 1.0)
    assert amplitudes[3] / amplitudes[1] == pytest.approx(0.02**2 / 4, rel=0.002)
    assert span.low == pytest.approx(span.high, rel=0.002)


@given(st.floats(1e-4, 10), st.floats(1e-7, 10), st.floats(11, 1e6))
def test_distortion_of_the_signal(resistance: float, current: float, more: float) -> None:
    impedance = more * resistance
    found = film_distortion(resistance, current, impedance)
    assert found.signal.low <= found.signal.high <= found.ceiling / 3 + 1e-15
    assert found.ceiling == pytest.approx(1 / more)
    assert film_distortion(resistance, -current, impedance) == found


@given(st.sampled_from(["cubic", "sinh"]), st.floats(0.03, 0.5), st.floats(1e-3, 10))
def test_any_film_of_the_range_lies_in_the_range(law: str, film_voltage: float, voltage: float) -> None:
    amplitudes = harmonics(law, voltage / film_voltage)
    found = film_distortion(1.0, voltage, 1e3)
    slack = 1e-9
    assert found.own.low - slack <= amplitudes[3] / amplitudes[1] <= found.own.high + slack
    assert found.signal.low - slack <= amplitudes[3] * found.ceiling <= found.signal.high + slack


@given(st.floats(1e-11, 1e-6))
def test_twenty_millivolts_stay_below_all_but_a_layer_of_atoms(thickness: float) -> None:
    film = fritting(thickness)
    assert film.dry_is_below == (film.voltage.low > 0.02)
    assert film.dry_is_below or thickness <= 0.4e-9 * (1 + 1e-12)
    assert film.voltage.high / film.voltage.low == pytest.approx(10)


@given(metals)
def test_a_broken_film_leaves_more_than_a_dry_circuit(name: str) -> None:
    left = voltage_after_fritting(name)
    assert 0.02 < left.low < left.high < 1


@given(
    st.sampled_from(sorted(HARDNESS)),
    st.floats(1e-8, 1e-4),
    forces,
    st.floats(1e-5, 0.1),
    st.floats(1e-9, 1e-4),
)
def test_wear(name: str, thickness: float, force: float, path: float, area: float) -> None:
    lives = [
        wear_life(name, thickness, force, path, area, way).matings for way in ("severe", "mild", "lubricated")
    ]
    assert lives[0].low < lives[1].low < lives[2].low
    assert all(life.high >= 100 * life.low for life in lives)
    twice = wear_life(name, 2 * thickness, 2 * force, path / 2, 2 * area).matings
    assert twice.low == pytest.approx(4 * lives[1].low, rel=1e-9)
    assert twice.high == pytest.approx(4 * lives[1].high, rel=1e-9)
    assert set(SLIDING) == {"severe", "mild", "lubricated"}


@given(st.floats(1e-10, 1e-6), times)
def test_growth_holds_both_laws(month: float, time: float) -> None:
    span = film_growth(Span(month, month), time)
    periods = time / (30 * 86400)
    for law in (month * periods, month * math.sqrt(periods)):
        assert span.low * (1 - 1e-12) <= law <= span.high * (1 + 1e-12)


@given(st.sampled_from(["silver", "copper"]), times, st.floats(1, 3))
def test_tarnish_grows_with_time_and_with_dirtier_air(name: str, time: float, later: float) -> None:
    later_on = min(time * later, 9e8)
    films = [tarnish(name, air, time) for air in ENVIRONMENTS]
    for cleaner, dirtier in pairwise(films):
        assert cleaner.thickness.low < dirtier.thickness.low
        assert cleaner.thickness.high <= dirtier.thickness.high
    for air in ENVIRONMENTS:
        now, then = tarnish(name, air, time), tarnish(name, air, later_on)
        assert now.thickness.low <= then.thickness.low
        assert now.thickness.high <= then.thickness.high
        if now.unwiped is not None and then.unwiped is not None:
            assert now.unwiped.low <= then.unwiped.low
            assert now.unwiped.high <= then.unwiped.high


@given(st.floats(0, 1e-6), st.floats(0, 1e-6))
def test_thicker_adds_no_less(one: float, two: float) -> None:
    thin, thick = sorted((one, two))
    less, more = unwiped_resistance(Span(thin, thin)), unwiped_resistance(Span(thick, thick))
    both = unwiped_resistance(Span(thin, thick))
    assert less.low <= more.low
    assert less.high <= more.high
    assert (both.low, both.high) == (less.low, more.high)


@given(st.sampled_from(sorted(ANODIC_INDEX)), st.sampled_from(sorted(ANODIC_INDEX)))
def test_a_pairing_has_no_order(one: str, two: str) -> None:
    there, back = pairing(one, two), pairing(two, one)
    assert there.difference == back.difference
    assert there.places == back.places
    assert there.eaten == back.eaten
    assert (there.eaten is None) == (there.difference.low == 0)
