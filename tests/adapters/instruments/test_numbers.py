"""Answers of meters: the digits as sent, or a refusal."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.adapters.instruments.numbers import typed_answer, typed_number
from ohmsworth.units import UNITS
from ohmsworth.work.instruments import BadAnswer, InstrumentFault, MeterProfile, Overloaded

MANTISSAS = st.integers(0, 10**9 - 1)
SIGNS = st.sampled_from(["", "+", "-"])


def back(text: str, unit: str = "V", dimension: str = "voltage") -> Decimal:
    found = typed_number(text, unit, dimension, "here")
    return Decimal(found.text) * Decimal(repr(UNITS[found.unit].factor))


@given(SIGNS, MANTISSAS)
def test_nr1_comes_back_digit_for_digit(sign: str, whole: int) -> None:
    text = f"{sign}{whole}"
    found = typed_number(text, "V", "voltage", "here")
    assert found.text.lstrip("-") == str(whole)
    assert Decimal(found.text) == Decimal(text)


@given(SIGNS, MANTISSAS, st.integers(1, 12))
def test_nr2_comes_back_digit_for_digit(sign: str, digits: int, places: int) -> None:
    plain = format(Decimal(digits).scaleb(-places), "f")
    assert typed_number(sign + plain, "V", "voltage", "here").text == sign.replace("+", "") + plain


@given(
    SIGNS, st.integers(1, 9), st.text("0123456789", max_size=8), st.integers(-12, 3), st.sampled_from("eE")
)
def test_nr3_comes_back_digit_for_digit(sign: str, first: int, rest: str, power: int, letter: str) -> None:
    text = f"{sign}{first}.{rest}{letter}{power:+03d}"
    found = typed_number(text, "V", "voltage", "here")
    assert back(text) == Decimal(text)
    # Trailing zeros are resolution; none is lost, and none is added unless the number is a whole of many volts.
    if power - len(rest) <= 0:
        assert found.text.lstrip("-0.").replace(".", "") == f"{first}{rest}"


@given(st.floats(1e-12, 1e9), st.sampled_from(["{:.6E}", "{:+.8E}", "{!r}", "{:.3f}"]))
def test_any_float_keeps_its_value(number: float, form: str) -> None:
    text = form.format(number)
    if Decimal(text) == 0 or abs(Decimal(text)) > Decimal("1e-15"):
        assert back(text, "Ω", "resistance") == Decimal(text)
        assert typed_number(text, "Ω", "resistance", "here").value == pytest.approx(float(text), rel=1e-14)


@pytest.mark.parametrize(
    ("sent", "text", "unit"),
    [
        ("+2.3510E-04", "0.00023510", "V"),
        (" 1.50\r", "1.50", "V"),
        ("-.5", "-0.5", "V"),
        ("1.20E+3", "1.20", "kV"),
        ("+0.00000000E+00", "0.00000000", "V"),
        ("1.2345678901E-09", "1.2345678901", "nV"),
    ],
)
def test_an_exponent_is_written_out(sent: str, text: str, unit: str) -> None:
    found = typed_number(sent, "V", "voltage", "here")
    assert (found.text, found.unit) == (text, unit)


@pytest.mark.parametrize("sent", ["9.9E37", "+9.90000000E+37", "-9.9E37", "9.9e+38", "INF", "-inf", "NINF"])
def test_an_overload_is_no_number(sent: str) -> None:
    with pytest.raises(Overloaded, match="overload"):
        typed_number(sent, "V", "voltage", "here")


@pytest.mark.parametrize(
    "sent",
    ["", "NAN", "9.91E37", "1,2", "1.2,3.4", "1.2 V", "0x1F", "#H1F", "1.2.3", "E5", "1e", "--1", "1E-30",
     "1" * 31, "１２", "None"],
)  # fmt: skip
def test_what_is_no_single_number_is_refused(sent: str) -> None:
    with pytest.raises(BadAnswer) as caught:
        typed_number(sent, "V", "voltage", "here")
    assert not isinstance(caught.value, Overloaded)
    assert caught.value.fault.mend


@given(st.text(max_size=30))
def test_any_text_is_a_number_or_refused(text: str) -> None:
    try:
        found = typed_number(text, "V", "voltage", "here")
    except InstrumentFault:
        return
    assert found.value == pytest.approx(float(text), rel=1e-14)


def sends(**changes) -> MeterProfile:
    return MeterProfile("meter", "voltage", "", unit_sent=True, **changes)


@pytest.mark.parametrize(
    ("line", "text", "unit"),
    [("1.234 mV", "1.234", "mV"), ("DC 1.234mV", "1.234", "mV"), ("DC  -0.50 V", "-0.50", "V")],
)
def test_a_line_with_its_unit_is_read(line: str, text: str, unit: str) -> None:
    before = "DC" if line.startswith("DC") else ""
    found = typed_answer(sends(before=before), line, "here")
    assert (found.text, found.unit) == (text, unit)


@pytest.mark.parametrize("line", ["1.234 mA", "1.234", "AC 1.234 mV", "mV", "1.234 mV mV", "1 .2 mV"])
def test_a_line_of_something_else_is_refused(line: str) -> None:
    with pytest.raises(BadAnswer):
        typed_answer(sends(before="DC" if line.startswith("AC") else ""), line, "here")


@pytest.mark.parametrize("line", ["O.L mV", "0L mV", "OL mV", "  ovld"])
def test_a_word_for_overload_is_known(line: str) -> None:
    with pytest.raises(Overloaded):
        typed_answer(sends(overload=("OL", "O.L", "0L", "OVLD")), line, "here")
