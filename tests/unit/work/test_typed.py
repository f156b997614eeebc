"""What a field accepts, how it is read, and what it says when it is not a quantity."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Typed
from ohmsworth.units import Decimal
from ohmsworth.work.typed import read_typed


@pytest.mark.parametrize(
    ("text", "digits", "unit"),
    [
        ("0,2513", "0.2513", "mV"),
        ("0.2510", "0.2510", "mV"),  # the zero is the meter's resolution
        ("0.2513 mV", "0.2513", "mV"),
        (",25", "0.25", "mV"),
        (".25", "0.25", "mV"),
        ("5.", "5", "mV"),
        ("−18", "-18", "mV"),
        ("+0.2513", "0.2513", "mV"),
        ("251,3µV", "251.3", "µV"),
        ("2.513mV\r", "2.513", "mV"),
        ("2.513 mV\r\n", "2.513", "mV"),
        ("+1.2345E-03 V", "0.0012345", "V"),
        ("+1.2300E-03VDC", "0.0012300", "V"),
        ("-1e2 µV", "-100", "µV"),
        ("-0.0000", "0.0000", "mV"),
        ("+1.23456789E-06V", "0.00000123456789", "V"),
    ],
)
def test_what_a_field_accepts(text: str, digits: str, unit: str) -> None:
    assert read_typed(text, "voltage", "voltage", "mV").typed == Typed(digits, unit, "voltage")


def test_an_exponent_counts_in_the_remembered_unit_and_is_told() -> None:
    read = read_typed("+1.2345E-03", "voltage", "voltage", "V", "comma")
    assert read.typed.value == 1.2345e-3
    assert read.said == "Read as 0.0012345 V."
    assert read.mark is None


def test_a_comma_that_may_part_thousands_is_read_as_the_shop_writes() -> None:
    read = read_typed("1,234", "voltage", "voltage", "mV", "comma")
    assert read.typed.text == "1.234"
    assert read.said == "Read as 1.234 mV."


def test_it_is_decimal_where_the_mark_is_not_known_and_that_is_said() -> None:
    read = read_typed("-1,888", "voltage", "voltage", "mV", "either")
    assert read.typed.text == "-1.888"
    assert read.said == "Read as −1.888 mV: the comma is the decimal mark."
    assert read.mark is None  # it shows the mark for likely, not for certain


def test_it_is_refused_where_points_are_written_with_all_ways_out() -> None:
    with pytest.raises(InputRefused) as refused:
        read_typed("1,234", "voltage", "voltage", "mV", "point")
    (fault,) = refused.value.faults
    assert fault.where == "voltage"
    assert "1.234" in fault.mend
    assert "1234" in fault.mend
    assert "to the comma under Settings" in fault.mend


@pytest.mark.parametrize(
    ("text", "mark", "said", "shown"),
    [
        ("0,25", "either", "", "comma"),
        ("0,25", "point", "Read as 0.25 mV.", "comma"),
        ("0.25", "comma", "Read as 0.25 mV.", "point"),
        ("25", "comma", "", None),
        ("-0,25", "point", "Read as −0.25 mV.", "comma"),
    ],
)
def test_the_other_mark_is_told_and_remembered(
    text: str, mark: Decimal, said: str, shown: str | None
) -> None:
    read = read_typed(text, "voltage", "voltage", "mV", mark)
    assert (read.said, read.mark) == (said, shown)


@pytest.mark.parametrize(
    ("text", "found", "mend"),
    [
        ("", "nothing", "Type"),
        ("  \r\n", "nothing", "Type"),
        ("about 3", "'about 3'", "Type"),
        ("nan", "range is exceeded", "range"),
        ("inf", "range is exceeded", "range"),
        ("OL", "range is exceeded", "range"),
        ("+9.9E37", "range is exceeded", "range"),
        ("9.9e+37 V", "range is exceeded", "range"),
        ("1.2.3", "unit", "units"),
        ("1 200", "unit", "units"),
        ("25 mA", "unit", "units"),
        ("25 parsec", "unit", "units"),
        ("5e8", "'5e8'", "Check"),
        ("1e-40", "'1e-40'", "exponent"),
        ("1e999", "'1e999'", "exponent"),
        ("12345678901234567890", "unit", "units"),
        ("١٢", "'١٢'", "Type"),
    ],
)
def test_what_a_field_refuses(text: str, found: str, mend: str) -> None:
    with pytest.raises(InputRefused) as refused:
        read_typed(text, "voltage", "voltage", "mV")
    (fault,) = refused.value.faults
    assert fault.where == "voltage"
    assert found in fault.found
    assert fault.expected
    assert mend in fault.mend


def test_temperature_keeps_its_own_zero() -> None:
    assert read_typed("21,5", "temperature", "temperature", "°C").typed.value == pytest.approx(294.65)
    with pytest.raises(InputRefused, match="absolute zero"):
        read_typed("-300", "temperature", "temperature", "°C")


@given(
    whole=st.integers(0, 99999),
    digits=st.text("0123456789", min_size=1, max_size=8),
    negative=st.booleans(),
    comma=st.booleans(),
    unit=st.sampled_from(["V", "mV", "µV"]),
)
def test_what_is_typed_is_what_is_kept(
    whole: int, digits: str, negative: bool, comma: bool, unit: str
) -> None:
    sign = "-" if negative else ""
    plain = f"{sign}{whole}.{digits}"
    if abs(float(plain)) * {"V": 1, "mV": 1e-3, "µV": 1e-6}[unit] > 1000:
        return
    text = plain.replace(".", ",") if comma else plain
    typed = read_typed(f"{text} {unit}", "voltage", "voltage", "mV", "comma").typed
    assert typed.text == (plain if float(plain) else plain.lstrip("-"))
    assert typed.unit == unit
    assert typed.value == Typed(plain, unit, "voltage").value


@given(text=st.text(max_size=30), mark=st.sampled_from(["point", "comma", "either"]))
def test_any_text_is_read_or_refused(text: str, mark: Decimal) -> None:
    try:
        size = abs(read_typed(text, "current", "current", "mA", mark).typed.value)
    except InputRefused as refused:
        size = 0.0 if refused.faults[0].where == "current" else float("nan")
    assert size <= 1e4
