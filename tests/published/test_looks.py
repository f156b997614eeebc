"""Bounds for looking several times, against tables that statisticians have published."""

import pytest
from tests.published.printed import assert_printed

from ohmsworth.inference.boundaries import crossing_chance, even_spending, late_spending, spent_bounds

#: Jennison & Turnbull 2000, Group Sequential Methods, tables 2.1 and 2.3, alpha = 0.05 two-sided. From memory.
POCOCK = {2: "2.178", 3: "2.289", 4: "2.361", 5: "2.413", 10: "2.555"}
O_BRIEN_FLEMING = {2: "1.977", 3: "2.004", 4: "2.024", 5: "2.040", 10: "2.087"}
#: Lan & DeMets' spending, five equal looks, alpha = 0.05 two-sided: bounds as printed in many places (from memory).
LATE = ("4.88", "3.36", "2.68", "2.29", "2.03")
EVEN = ("2.44", "2.43", "2.41", "2.40", "2.39")


def looks(number: int) -> list[float]:
    return [k / number for k in range(1, number + 1)]


@pytest.mark.parametrize(("number", "printed"), POCOCK.items())
def test_level_bounds(number: int, printed: str) -> None:
    """The constant spends 5 %: a half of its last digit either side brackets it."""
    c = float(printed)
    low, high = ([bound] * number for bound in (c - 0.0005, c + 0.0005))
    assert crossing_chance(looks(number), high, True) < 0.05 < crossing_chance(looks(number), low, True)


@pytest.mark.parametrize(("number", "printed"), O_BRIEN_FLEMING.items())
def test_bounds_that_fall(number: int, printed: str) -> None:
    c = float(printed)
    low, high = ([bound / share**0.5 for share in looks(number)] for bound in (c - 0.0005, c + 0.0005))
    assert crossing_chance(looks(number), high, True) < 0.05 < crossing_chance(looks(number), low, True)


def test_spending() -> None:
    for printed, amounts in (
        (LATE, late_spending(looks(5), 0.05, True)),
        (EVEN, even_spending(looks(5), 0.05)),
    ):
        found = spent_bounds(looks(5), amounts, True)
        for text, bound in zip(printed, found, strict=True):
            assert_printed(text, bound)
        assert crossing_chance(looks(5), found, True) == pytest.approx(0.05, abs=1e-9)


def test_repeated_ordinary_tests() -> None:
    """Armitage, McPherson & Rowe 1969, table 2: two-sided 5 % tests at 2, 3, 5 and 10 equal looks. From memory."""
    for number, printed in ((2, "0.083"), (3, "0.107"), (5, "0.142"), (10, "0.193")):
        assert_printed(printed, crossing_chance(looks(number), [1.959964] * number, True))
