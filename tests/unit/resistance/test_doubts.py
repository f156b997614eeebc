"""What shows once rows are paired."""

import numpy as np
from tests.tables import reading_table

from ohmsworth.readings import Bench, ReadingTable
from ohmsworth.resistance import reduce_readings
from ohmsworth.resistance.doubts import find_pairing_doubts


def codes(table: ReadingTable) -> dict[str, tuple[int, ...]]:
    resistances = reduce_readings(table, Bench(), np.arange(len(table)))
    return {doubt.code: doubt.rows for doubt in find_pairing_doubts(table, resistances)}


def test_a_clean_reversal_raises_nothing() -> None:
    assert codes(reading_table("+-", voltage=[2e-4, -2e-4], current=[0.1, -0.101])) == {}


def test_one_polarity_is_told_with_its_rows() -> None:
    table = reading_table("+-+", voltage=[2e-4, -2e-4, 2e-4], current=[0.1, -0.1, 0.1], specimen="aab")
    assert codes(table) == {"ONE_POLARITY": (4,)}


def test_unequal_currents_are_told_with_their_rows() -> None:
    table = reading_table(
        "+-+-", voltage=[2e-4, -2e-4, 2e-4, -1.8e-4], current=[0.1, -0.1, 0.1, -0.09], specimen="aabb"
    )
    assert codes(table) == {"UNEQUAL_CURRENTS": (4, 5)}


def test_conditions_read_with_other_currents_are_told() -> None:
    table = reading_table(
        "+-+-", voltage=[2e-4, -2e-4, 2e-3, -2e-3], current=[0.1, -0.1, 1.0, -1.0], condition="aabb"
    )
    assert codes(table) == {"CURRENTS_DIFFER": ()}


def test_a_zero_reading_is_no_current() -> None:
    assert codes(reading_table("0+", voltage=[0, 2e-4], current=[0, 0.1])) == {}


def test_readings_in_ohm_have_no_current_to_doubt() -> None:
    assert codes(reading_table("+", resistance=[2e-3])) == {}
