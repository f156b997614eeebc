import math

import pytest

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.materials import (
    Span,
    film_distortion,
    film_growth,
    fritting,
    tarnish,
    third_harmonic,
    unwiped_resistance,
    voltage_after_fritting,
    wear_life,
    wiped_resistance,
    worn_volume,
)

DAY = 86400.0


def test_growth_before_and_after_the_month() -> None:
    month = Span(100e-10, 200e-10)
    half = film_growth(month, 7.5 * DAY)
    assert (half.low, half.high) == pytest.approx((25e-10, 100e-10))
    year = film_growth(month, 270 * DAY)
    assert (year.low, year.high) == pytest.approx((300e-10, 1800e-10))


def test_beyond_what_was_measured_no_upper_value_is_known() -> None:
    for low, high, least, most in (
        (0.0, 250e-10, 0.0, 0.5),
        (1000e-10, 2001e-10, 0.2, math.inf),
        (5000e-10, math.inf, 0.4, math.inf),
    ):
        added = unwiped_resistance(Span(low, high))
        assert (added.low, added.high) == pytest.approx((least, most))


def test_copper_has_no_range_of_resistance() -> None:
    assert tarnish("Copper", "g2", 30 * DAY).unwiped is None
    assert tarnish("silver", "GX", 30 * DAY).thickness.high == math.inf


def test_wiped_is_clean_to_twice() -> None:
    assert wiped_resistance(Span(1e-3, 2e-3)) == Span(1e-3, 4e-3)


def test_a_film_breaks_at_its_field() -> None:
    assert fritting(10e-9).voltage.low == pytest.approx(0.5)
    assert fritting(10e-9).voltage.high == pytest.approx(5.0)
    assert not fritting(0.3e-9).dry_is_below
    assert voltage_after_fritting("gold") == Span(0.08, 0.43)


def test_distortion_in_a_line() -> None:
    """By hand: R I = 0.1 V over V0 = 0.5 V gives a hundredth, times R/Z = 1/1000."""
    found = film_distortion(1.0, 0.1, 1000.0, Span(0.5, 0.5))
    assert found.voltage == pytest.approx(0.1)
    assert found.own.high == pytest.approx(0.01)
    assert found.signal.high == pytest.approx(1e-5)
    assert found.signal.low == pytest.approx(0.85e-5)
    assert found.ceiling == pytest.approx(1e-3)


def test_no_film_gives_more_than_a_square_wave() -> None:
    assert third_harmonic(100.0, 0.1).low == 0.0
    assert third_harmonic(100.0, 0.1).high == pytest.approx(1 / 3)
    assert third_harmonic(0.0, 0.1) == Span(0.0, 0.0)


def test_worn_volume_by_hand() -> None:
    assert worn_volume(1e-4, 2.0, 5.0, 1e9) == pytest.approx(1e-12)


def test_out_of_range_is_refused() -> None:
    for call in (
        lambda: film_growth(Span(0, 1e-8), 60.0),
        lambda: film_growth(Span(0, 1e-8), 1e10),
        lambda: film_growth(Span(0, 1e-8), math.nan),
        lambda: unwiped_resistance(Span(-1e-9, 1e-9)),
        lambda: wiped_resistance(Span(0.0, 1e-3)),
        lambda: fritting(0.0),
        lambda: fritting(2e-6),
        lambda: fritting(math.nan),
        lambda: third_harmonic(math.inf, 0.1),
        lambda: third_harmonic(0.1, 0.0),
        lambda: film_distortion(1.0, 1e-3, 9.0),  # the contact would set the current
        lambda: film_distortion(0.0, 1e-3, 9.0),
        lambda: film_distortion(1.0, math.nan, 100.0),
        lambda: film_distortion(1.0, 1e-3, math.nan),
        lambda: film_distortion(1.0, 1e-3, 100.0, Span(0.0, 0.1)),
        lambda: film_distortion(1.0, 1e-3, 100.0, Span(0.01, 0.3)),
        lambda: wear_life("gold", 0.0, 1.0, 1e-3, 1e-7),
        lambda: wear_life("gold", 1e-6, 1.0, 1e-3, -1e-7),
        lambda: wear_life("gold", 1e-6, 0.0, 1e-3, 1e-7),
        lambda: worn_volume(0.0, 1.0, 1.0, 1e9),
        lambda: worn_volume(1e-4, 1.0, math.inf, 1e9),
        lambda: worn_volume(1e-4, 1.0, 1.0, 0.0),
    ):
        with pytest.raises(ArgumentFault):
            call()
    for call in (
        lambda: tarnish("silver", "G4", DAY),
        lambda: tarnish("gold", "G1", DAY),
        lambda: voltage_after_fritting("rust"),
        lambda: wear_life("gold", 1e-6, 1.0, 1e-3, 1e-7, "greasy"),
    ):
        with pytest.raises(UnknownName):
            call()
