"""What the last digit shows, and what a coarse meter's steps are not."""

import numpy as np
import pytest
from tests.tables import reading_table

from ohmsworth.readings.courses import last_digits, read_courses
from ohmsworth.readings.moving import find_copies, find_moving
from ohmsworth.readings.unsettled import find_unsettled


@pytest.mark.parametrize("digits", range(1, 8))
def test_last_digits_are_those_that_were_written(digits: int) -> None:
    """Against the text of each number, as it is printed to nine digits."""
    rng = np.random.default_rng(digits)
    values = [float(f"{v:.{digits - 1}e}") for v in 10.0 ** rng.uniform(-7, 3, 300)]
    expected = []
    for value in values:
        mantissa, exponent = f"{value:.8e}".split("e")
        expected.append(int(exponent) - len(mantissa.replace(".", "").rstrip("0")) + 1)
    assert last_digits(np.array(values)).tolist() == expected


def coarse(readings: list[list[float]], step: float) -> object:
    """Matings of one specimen each, read to `step`."""
    flat = [round(r / step) * step for one in readings for r in one]
    specimen = [f"S{i}" for i, one in enumerate(readings) for _ in one]
    return reading_table("?" * len(flat), resistance=[float(f"{r:.12g}") for r in flat], specimen=specimen)


def test_the_steps_of_a_coarse_meter_are_no_movement() -> None:
    """0.1 mΩ on 2.4 mΩ: matings that show one and the same number, and one in which the last reading is a step off."""
    still, step = [2.4e-3] * 4, [2.4e-3, 2.4e-3, 2.4e-3, 2.5e-3]
    small = [0.5e-3, 0.5e-3, 0.6e-3, 0.6e-3]
    table = coarse([still] * 6 + [step, small], 0.1e-3)
    assert find_moving(table) == []  # type: ignore[arg-type]
    assert find_unsettled(table) == ()  # type: ignore[arg-type]


def test_movement_over_many_steps_is_still_found() -> None:
    table = coarse([[2.4e-3] * 4] * 6 + [[2.4e-3, 3.1e-3, 3.9e-3, 4.8e-3]], 0.1e-3)
    (doubt,) = find_moving(table)  # type: ignore[arg-type]
    assert doubt.rows == (26, 27, 28, 29)


def test_readings_a_step_apart_are_no_copies() -> None:
    rng = np.random.default_rng(3)
    readings = [list(12.4e-3 + 0.1e-3 * m + 0.02e-3 * rng.standard_normal(6) + 0.05e-3) for m in range(8)]
    table = coarse(readings, 0.1e-3)
    assert table.resistance is not None  # type: ignore[attr-defined]
    assert find_copies(table) == []  # type: ignore[arg-type]


def test_a_mating_filled_down_among_fine_readings_stays_told() -> None:
    rng = np.random.default_rng(3)
    readings = [list(12.4e-3 * np.exp(0.003 * rng.standard_normal(6))) for _ in range(8)]
    readings[2] = [12.413e-3] * 6
    (doubt,) = find_copies(coarse(readings, 1e-6))  # type: ignore[arg-type]
    assert doubt.rows == tuple(range(14, 20))


@pytest.mark.filterwarnings("error")
def test_a_mating_with_the_current_off_has_no_course() -> None:
    table = reading_table(
        "000+-+-", voltage=[1e-6] * 3 + [2.4e-4, -2.4e-4, 2.5e-4, -2.4e-4], current=[0.0] * 3 + [0.1, -0.1] * 2,
        mating="aaabbbb", condition=["off"] * 3 + ["on"] * 4,
    )  # fmt: skip
    course = read_courses(table)
    assert course is not None
    assert (course.count[0], course.drift[0], course.span[0]) == (0, 0, 0)
    assert find_moving(table) == []
    assert find_unsettled(table) == ()


def test_rounding_is_the_standard_deviation_of_a_step() -> None:
    course = read_courses(coarse([[2.4e-3, 2.4e-3, 2.5e-3]], 0.1e-3))  # type: ignore[arg-type]
    assert course is not None
    assert course.rounding[0] == pytest.approx(0.1 / np.sqrt(12) / 2.43, rel=0.01)
