"""The values of a circuit as people write them: what stands there can be typed again."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.consequence import USE_KINDS, make_use, settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.report.use_answers import UseAnswer
from ohmsworth.report.use_settings import setting_value, settings_table
from ohmsworth.units import parse_quantity

DIMENSIONS = sorted({s.dimension for kind in USE_KINDS for s in settings_of(kind)} - {"text", "number"})


def answer(kind: str, **values: float | str) -> UseAnswer:
    use = make_use(kind, "mine", values)
    return UseAnswer(kind, "mine", dict(use.settings), (), ())


def setting(dimension: str) -> Setting:
    return Setting("key", "k", dimension, 1.0, "words", "practice")


@pytest.mark.parametrize("kind", USE_KINDS)
def test_every_default_and_every_end_of_a_range_can_be_typed_as_it_is_told(kind: str) -> None:
    for s in settings_of(kind):
        for value in (s.default, s.lowest, s.highest):
            if isinstance(value, str) or s.dimension == "text":
                assert setting_value(s, s.default) == s.default
            elif s.dimension == "number":
                assert float(setting_value(s, value)) == value
            else:
                found = parse_quantity(setting_value(s, value), s.dimension)
                assert found == pytest.approx(value, rel=1e-3 if s.dimension == "temperature" else 1e-5)


@pytest.mark.parametrize("dimension", DIMENSIONS)
@given(power=st.floats(-9, 5))
def test_any_size_is_told_with_a_unit_of_its_dimension(dimension: str, power: float) -> None:
    value = float(f"{10**power:.4g}") + (250.0 if dimension == "temperature" else 0.0)
    told = setting_value(setting(dimension), value)
    scale = 1e-3 * abs(value - 273.15) + 1e-2 if dimension == "temperature" else 0.0
    assert parse_quantity(told, dimension) == pytest.approx(value, rel=1e-3, abs=scale)


@pytest.mark.parametrize(
    ("dimension", "value", "told"),
    [
        ("resistance", 1500.0, "1.5 kΩ"),
        ("current", 1000.0, "1000 A"),
        ("current", 2.0, "2 A"),
        ("time", 3e-9, "3 ns"),
        ("capacitance per length", 1e-6, "1000 nF/m"),
        ("inductance", 2.4, "2.4 H"),
        ("inductance per length", 0.6e-6, "0.6 µH/m"),
        ("capacitance per length", 100e-12, "100 pF/m"),
        ("temperature", 293.15, "20 °C"),
        ("temperature", 223.15, "−50 °C"),
        ("ratio", 0.05, "5 %"),
        ("level difference", 0.1, "0.1 dB"),
        ("number", 3.0, "3"),
        ("voltage", 0.0, "0 V"),
    ],
)
def test_as_people_write_it(dimension: str, value: float, told: str) -> None:
    assert setting_value(setting(dimension), value) == told


def test_the_table_has_a_row_for_every_value_that_is_there() -> None:
    table = settings_table(answer("balanced line", length=50.0))
    rows = {row[1]: row for row in table.rows}
    assert table.caption == "mine: the circuit"
    assert rows["length"] == ("length of the cable", "length", "50\u00a0m")
    assert "cable" not in rows  # none is named
    assert len(rows) == len(settings_of("balanced line")) - 1
    named = settings_table(answer("balanced line", cable="star quad 4 × 0.20 mm²"))
    assert any(row[1:] == ("cable", "star quad 4 × 0.20 mm²") for row in named.rows)


@pytest.mark.parametrize("kind", USE_KINDS)
def test_no_value_of_any_use_is_left_out_but_empty_texts(kind: str) -> None:
    found = answer(kind)
    told = {row[1] for row in settings_table(found).rows}
    assert told == {key for key, value in found.settings.items() if value != ""}
    assert np.all([row[2] for row in settings_table(found).rows])
