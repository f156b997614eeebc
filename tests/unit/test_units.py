"""Text to SI and back: what people type, what is refused, and how numbers are rounded."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.errors import QuantityFault
from ohmsworth.units import (
    EXAMPLES,
    UNITS,
    parse_number,
    parse_quantity,
    parse_unit,
    scale_for,
    show,
    show_interval,
    show_percent,
    show_pm,
)


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("2,61 mΩ", "resistance", 2.61e-3),
        ("2.61 m\u03a9", "resistance", 2.61e-3),  # Greek capital omega
        ("2.61mΩ", "resistance", 2.61e-3),
        ("2.61 m\u2126", "resistance", 2.61e-3),  # ohm sign
        ("250 \u00b5Ω", "resistance", 250e-6),  # micro sign
        ("250 \u03bcΩ", "resistance", 250e-6),  # Greek mu
        ("250 uohm", "resistance", 250e-6),
        ("3 MΩ", "resistance", 3e6),
        ("−18 mV", "voltage", -18e-3),  # minus sign U+2212
        ("-18 mV", "voltage", -18e-3),
        ("+18\u00a0mV", "voltage", 18e-3),  # no-break space
        ("18\u202fmV", "voltage", 18e-3),  # narrow no-break space
        ("18\u2009mV", "voltage", 18e-3),  # thin space
        ("1.5e-3 V", "voltage", 1.5e-3),
        (".5 A", "current", 0.5),
        ("5. A", "current", 5.0),
        ("0 V", "voltage", 0.0),
        ("1,2345 V", "voltage", 1.2345),  # four digits cannot be thousands
        ("0,234 V", "voltage", 0.234),  # nobody writes thousands after a zero
        ("21 °C", "temperature", 294.15),
        ("−40 °F", "temperature", 233.15),
        ("0.5 %", "ratio", 0.005),
        ("50 ppm", "ratio", 50e-6),
        ("0.22 mm²", "area", 0.22e-6),
        ("12 ft", "length", 3.6576),
        ("85 mΩ/m", "resistance per length", 0.085),
        ("3 µV/K", "voltage per kelvin", 3e-6),
        ("0,66", "plain ratio", 0.66),
        ("66 %", "plain ratio", 0.66),
        ("3e-4", "plain ratio", 3e-4),
        ("60 nF/km", "capacitance per length", 60e-12),
        ("0.7 mH/km", "inductance per length", 0.7e-6),
        ("25.67 Ω/1000 ft", "resistance per length", 25.67 / 304.8),
    ],
)
def test_what_people_type_is_read(text: str, dimension: str, si: float) -> None:
    assert parse_quantity(text, dimension) == pytest.approx(si, rel=1e-15, abs=0)


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        ("0.5", "ratio"),  # per cent, or a fraction?
        ("0.66 Ω", "plain ratio"),
        ("", "plain ratio"),
        ("", "voltage"),
        ("   ", "voltage"),
        ("V", "voltage"),
        ("1,234 V", "voltage"),  # one and a bit, or a thousand and more?
        ("−1,234 V", "voltage"),
        ("1,234,567 V", "voltage"),
        ("1 234 V", "voltage"),
        ("1'234 V", "voltage"),
        ("9**9**9 V", "voltage"),
        ("1+1 V", "voltage"),
        ("0x10 V", "voltage"),
        ("1_000 V", "voltage"),
        ("6² A", "current"),  # a general reader makes 62 A of it
        ("6 a", "current"),
        ("٣ V", "voltage"),  # a digit of another script
        ("nan V", "voltage"),
        ("NaN", "voltage"),
        ("inf V", "voltage"),
        ("-infinity V", "voltage"),
        ("1e999 V", "voltage"),
        ("5e-324 V", "voltage"),
        ("1e16 V", "voltage"),
        ("9" * 30 + " V", "voltage"),
        ("1 V; import os", "voltage"),
        ("3", "resistance"),
        ("3 V", "resistance"),
        ("3 Ω Ω", "resistance"),
        ("3 mmΩ", "resistance"),
        ("1.2.3 V", "voltage"),
        ("--1 V", "voltage"),
        ("−300 °C", "temperature"),
        ("−1 K", "temperature"),
    ],
)
def test_anything_else_is_refused_in_words(text: str, dimension: str) -> None:
    with pytest.raises(QuantityFault) as caught:
        parse_quantity(text, dimension)
    words = str(caught.value)
    assert "expected" in words
    assert len(words) < 300


def test_a_file_that_has_shown_its_decimal_mark_settles_the_thousand() -> None:
    assert parse_number("1,234", "comma") == 1.234
    assert parse_number("1.234", "point") == 1.234
    with pytest.raises(QuantityFault, match="decimal comma"):
        parse_number("1.234", "comma")
    with pytest.raises(QuantityFault, match="decimal point"):
        parse_number("1,234", "point")


def test_a_unit_of_another_kind_is_refused_with_those_that_would_do() -> None:
    with pytest.raises(QuantityFault, match="mΩ"):
        parse_unit("mV", "resistance")


@pytest.mark.parametrize("name", UNITS)
def test_every_unit_reads_one_of_itself(name: str) -> None:
    unit = UNITS[name]
    assert parse_quantity(f"1 {name}", unit.dimension) == pytest.approx(unit.factor + unit.offset, rel=1e-14)


def test_every_dimension_has_an_example_that_is_read() -> None:
    assert {unit.dimension for unit in UNITS.values()} == set(EXAMPLES)
    for dimension, example in EXAMPLES.items():
        parse_quantity(example, dimension)


@given(st.text(max_size=60))
def test_no_text_gets_anything_but_a_number_or_a_refusal(text: str) -> None:
    for decimal in ("point", "comma", "either"):
        try:
            value = parse_quantity(text + " V", "voltage", decimal)
        except QuantityFault:
            continue
        assert math.isfinite(value)
        assert value == 0 or 1e-15 <= abs(value) <= 1e15


@given(
    st.floats(1e-9, 1e9),
    st.sampled_from(["Ω", "V", "A", "m", "s", "F", "H", "Hz"]),
    st.sampled_from([1, -1]),
    st.integers(2, 6),
)
def test_what_is_shown_reads_back_to_the_digits_shown(size: float, unit: str, sign: int, digits: int) -> None:
    text = show(sign * size, unit, digits).replace("−", "-")
    number, label = text.split(" ")
    factor = scale_for(float(f"{size:.{digits - 1}e}"), unit)[0]
    assert float(number) * factor == pytest.approx(sign * size, rel=0.5000001 * 10 ** (1 - digits))
    assert label.endswith(unit)


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0.0026149, 3, "2.61 mΩ"),
        (0.9994, 3, "999 mΩ"),
        (0.9996, 3, "1.00 Ω"),
        (0.9996, 4, "0.9996 Ω"),
        (0.996, 2, "1.0 Ω"),
        (0.00999, 2, "10 mΩ"),
        (9.996, 3, "10.0 Ω"),
        (99.96, 3, "100 Ω"),
        (999.6e3, 3, "1.00 MΩ"),
        (-0.0026149, 3, "−2.61 mΩ"),
        (-1e-9, 1, "−1 nΩ"),
        (0.0, 3, "0.000 Ω"),
        (-0.0, 3, "0.000 Ω"),
        (1234.0, 2, "1.2 kΩ"),
        (1.014e304, 3, "1.01e+304 Ω"),
        (1e-20, 2, "1.0e−20 Ω"),
        (math.inf, 3, "inf Ω"),
        (math.nan, 3, "nan Ω"),
    ],
)
def test_show_keeps_the_digits_through_every_carry(value: float, digits: int, text: str) -> None:
    assert show(value, "Ω", digits) == text


def test_some_units_take_no_prefix() -> None:
    assert show(0.001234, "dB") == "0.00123 dB"
    assert show(2.5e6, "m") == "2500 km"


@pytest.mark.parametrize(
    ("value", "uncertainty", "text"),
    [
        (0.00261493, 0.0000134, "2.615 ± 0.013 mΩ"),
        (0.00261493, 0.00000999, "2.615 ± 0.010 mΩ"),
        (0.00261493, 0.0000996, "2.61 ± 0.10 mΩ"),
        (-0.00261493, 0.0000134, "−2.615 ± 0.013 mΩ"),
        (0.0, 0.0000134, "0 ± 13 µΩ"),
        (-1e-9, 0.0000134, "0 ± 13 µΩ"),  # no minus before a zero
        (0.002, 0.13, "0 ± 130 mΩ"),
        (0.00261, 0.0, "2.61 ± 0.00 mΩ"),
        (0.0026, math.nan, "2.60 ± nan mΩ"),
    ],
)
def test_show_pm_rounds_both_to_one_place(value: float, uncertainty: float, text: str) -> None:
    assert show_pm(value, uncertainty, "Ω") == text


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        (0.00241, 0.00288, "2.41 to 2.88 mΩ"),
        (0.0009996, 0.00288, "1.00 to 2.88 mΩ"),
        (-0.0003, 0.0012, "−0.30 to 1.20 mΩ"),
        (-0.0012, 0.0003, "−1.20 to 0.30 mΩ"),
        (0.0, 0.0012, "0.00 to 1.20 mΩ"),
        (0.0025, 0.0025, "2.500 to 2.500 mΩ"),
        (0.0024, 1.2, "2.4 mΩ to 1.2 Ω"),
        (1e-5, 1e6, "10 µΩ to 1.0 MΩ"),
        (-3e-8, 0.002, "−30 nΩ to 2.0 mΩ"),
        (-0.002, 3e-8, "−2.0 mΩ to 30 nΩ"),
        (0.0024, 1e304, "2.4 mΩ to 1.0e+304 Ω"),
        (0.0024, math.inf, "2.4 mΩ or more"),
        (-math.inf, 0.0024, "2.4 mΩ or less"),
        (-math.inf, math.inf, "any value"),
    ],
)
def test_show_interval_is_readable_however_wide(low: float, high: float, text: str) -> None:
    assert show_interval(low, high, "Ω") == text


@pytest.mark.parametrize(
    ("probability", "text"),
    [
        (1.0, "more than 99.9 %"),
        (0.9996, "more than 99.9 %"),
        (0.999, "99.9 %"),
        (0.9951, "99.5 %"),
        (0.99, "99 %"),
        (0.946, "95 %"),
        (0.5, "50 %"),
        (0.0996, "10.0 %"),
        (0.049, "4.9 %"),
        (0.001, "0.1 %"),
        (0.0004, "less than 0.1 %"),
        (0.0, "less than 0.1 %"),
    ],
)
def test_show_percent_never_claims_certainty(probability: float, text: str) -> None:
    assert show_percent(probability) == text
