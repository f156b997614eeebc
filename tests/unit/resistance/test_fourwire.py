"""Volts and amperes to ohms: what cancels, and how the meters' accuracy arrives."""

import numpy as np
import pytest
from tests.tables import reading_table

from ohmsworth.readings import Accuracy, Bench, ReadingTable
from ohmsworth.resistance import DIRECT, REVERSAL, SINGLE, THREE, ZERO, Resistances, reduce_readings

R = 2.61e-3


def reduced(table: ReadingTable, **bench: object) -> Resistances:
    return reduce_readings(table, Bench(**bench), np.arange(len(table)))


def readings(polarity: str, emf: list[float], current: float = 0.1) -> ReadingTable:
    """A contact of R ohm with a thermal EMF that may change from row to row."""
    amperes = [{"+": current, "-": -current, "0": 0.0, "?": current}[p] for p in polarity]
    volts = [R * i + e for i, e in zip(amperes, emf, strict=True)]
    return reading_table(polarity, voltage=volts, current=amperes)


@pytest.mark.parametrize(
    ("polarity", "emf", "form"),
    [
        ("+-", [7e-6, 7e-6], REVERSAL),
        ("-+", [7e-6, 7e-6], REVERSAL),
        ("0+", [7e-6, 7e-6], ZERO),
        ("+-+", [7e-6, 9e-6, 11e-6], THREE),  # a steady drift cancels too
        ("+", [0.0], SINGLE),
    ],
)
def test_the_offset_cancels_as_the_form_says(polarity: str, emf: list[float], form: int) -> None:
    found = reduced(readings(polarity, emf))
    assert found.form.tolist() == [form]
    assert found.value[0] == pytest.approx(R, rel=1e-12)


def test_reversal_alone_does_not_cancel_a_drift_but_three_readings_do() -> None:
    assert reduced(readings("+-", [7e-6, 9e-6])).value[0] == pytest.approx(R - 2e-6 / 0.2, rel=1e-12)


def test_an_unequal_reversal_is_weighted_by_its_currents() -> None:
    table = reading_table("+-", voltage=[R * 0.1 + 5e-6, -R * 0.07 + 5e-6], current=[0.1, -0.07])
    assert reduced(table).value[0] == pytest.approx(R, rel=1e-12)


def test_the_ammeters_own_zero_stays_out_of_a_zero_reading() -> None:
    table = reading_table("0+", voltage=[5e-6, R * 0.1 + 5e-6], current=[1e-4, 0.1])
    assert reduced(table).value[0] == pytest.approx(R, rel=1e-12)


@pytest.mark.parametrize("polarity", ["+", "+-", "+-+", "0+"])
def test_a_gain_error_is_whole_however_the_reading_was_made(polarity: str) -> None:
    """Both polarities carry the same gain error: reversal does not average it down (GUM 5.2, full correlation)."""
    found = reduced(
        readings(polarity, [0.0] * len(polarity)), voltmeter=Accuracy(gain=0.01), ammeter=Accuracy(gain=0.02)
    )
    assert found.shared["voltmeter gain"][0] == pytest.approx(R * 0.01 / np.sqrt(3), rel=1e-9)
    assert found.shared["ammeter gain"][0] == pytest.approx(R * 0.02 / np.sqrt(3), rel=1e-9)
    assert found.independent[0] == pytest.approx(0, abs=1e-15)


@pytest.mark.parametrize(
    ("polarity", "factor"), [("+", 1.0), ("+-", np.sqrt(2) / 2), ("0+", np.sqrt(2)), ("+-+", np.sqrt(6) / 4)]
)
def test_counts_average_down_as_the_form_weights_them(polarity: str, factor: float) -> None:
    found = reduced(readings(polarity, [0.0] * len(polarity)), voltmeter=Accuracy(counts=2, resolution=1e-6))
    assert found.independent[0] == pytest.approx(factor * 2e-6 / np.sqrt(3) / 0.1, rel=1e-9)
    assert found.shared == {}


def test_one_polarity_carries_an_allowance_for_the_emf_and_others_do_not() -> None:
    single = reduced(readings("+", [0.0]), emf_allowance=3e-6)
    assert single.emf[0] == pytest.approx(3e-6 / np.sqrt(3) / 0.1)
    for polarity in ("+-", "+-+", "0+"):
        assert reduced(readings(polarity, [0.0] * len(polarity)), emf_allowance=3e-6).emf[0] == 0


def test_a_meter_that_says_nothing_contributes_nothing() -> None:
    found = reduced(readings("+-", [0.0, 0.0]))
    assert found.shared == {}
    assert found.independent.tolist() == [0.0]


@pytest.mark.parametrize(
    ("polarity", "resistance", "value", "form"),
    [
        ("+-", [2.60e-3, 2.64e-3], 2.62e-3, REVERSAL),
        ("+-+", [2.60e-3, 2.64e-3, 2.68e-3], 2.64e-3, THREE),
        ("?", [2.6e-3], 2.6e-3, DIRECT),
        ("+", [2.6e-3], 2.6e-3, DIRECT),
        ("0+", [0.2e-3, 2.8e-3], 2.6e-3, ZERO),  # leads together, then the contact
    ],
)
def test_ohmmeter_readings(polarity: str, resistance: list[float], value: float, form: int) -> None:
    found = reduced(reading_table(polarity, resistance=resistance), ohmmeter=Accuracy(gain=0.01))
    assert found.value[0] == pytest.approx(value, rel=1e-12)
    assert found.form.tolist() == [form]
    assert found.shared["ohmmeter gain"][0] == pytest.approx(value * 0.01 / np.sqrt(3), rel=1e-9)
    assert found.emf[0] == 0


def test_only_the_rows_asked_for_take_part_and_keep_their_numbers() -> None:
    table = reading_table(
        "+-+-", voltage=[1e-4, -1e-4, 3e-4, -3e-4], current=[0.1, -0.1] * 2, specimen=["a", "a", "b", "b"]
    )
    found = reduce_readings(table, Bench(), np.array([2, 3]))
    assert found.rows.tolist() == [[2, 3, -1]]
    assert [found.specimen.names[c] for c in found.specimen.codes] == ["b"]
    assert found.value[0] == pytest.approx(3e-3)


def test_take_keeps_every_column_in_step() -> None:
    table = reading_table(
        "+-+-", voltage=[1e-4, -1e-4, 3e-4, -3e-4], current=[0.1, -0.1] * 2, specimen="aabb", mating="1122"
    )
    both = reduced(table, voltmeter=Accuracy(gain=0.01, resolution=1e-7))
    second = both.take(np.array([1]))
    assert len(both) == 2
    assert len(second) == 1
    assert second.value == both.value[1:]
    assert second.shared["voltmeter gain"] == both.shared["voltmeter gain"][1:]
    assert second.mating is not None
    assert second.mating.codes.tolist() == [1]
    assert second.contact is None
