"""The numbers of instruments against the open standards of their language."""

from decimal import Decimal

import pytest

from ohmsworth.adapters.instruments.numbers import typed_number
from ohmsworth.adapters.simulated.scpi_words import header_pattern
from ohmsworth.work.instruments import BadAnswer, Overloaded


@pytest.mark.parametrize(
    ("form", "sent"),
    [
        # IEEE 488.2, 8.7.2 to 8.7.4, from memory: what a device may answer with.
        ("NR1", "123"), ("NR1", "+123"), ("NR1", "-12345"),
        ("NR2", "12.3"), ("NR2", "+1.234"), ("NR2", "-0.123"),
        ("NR3", "1.23E+4"), ("NR3", "-12.3E-2"), ("NR3", "+1.234E+00"),
    ],
)  # fmt: skip
def test_each_form_of_number_is_read(form: str, sent: str) -> None:
    found = typed_number(sent, "V", "voltage", form)
    assert Decimal(found.text) * {"V": 1, "kV": 1000}[found.unit] == Decimal(sent)


@pytest.mark.parametrize(
    ("sent", "refused"),
    [
        # SCPI-99 volume 1, 7.2.1.4 and 7.2.1.5, from memory: infinity, its negative, and not a number.
        ("9.9E37", Overloaded),
        ("-9.9E37", Overloaded),
        ("9.91E37", BadAnswer),
    ],
)
def test_the_numbers_that_stand_for_none_are_refused(sent: str, refused: type) -> None:
    with pytest.raises(refused) as caught:
        typed_number(sent, "V", "voltage", "here")
    assert type(caught.value) is refused


@pytest.mark.parametrize(
    ("sent", "same"),
    [
        # SCPI-99 volume 1, 6.2.1, from memory: the short form is the capitals, the long one the whole word, no other.
        ("MEAS:VOLT:DC?", True), ("MEASURE:VOLTAGE:DC?", True), ("meas:volt?", True), (":MEAS:VOLT?", True),
        ("MEASU:VOLT?", False), ("MEAS:VOLT", False), ("MEAS:VOLT:AC?", False),
    ],
)  # fmt: skip
def test_headers_have_a_short_and_a_long_form(sent: str, same: bool) -> None:
    assert bool(header_pattern("MEASure:VOLTage[:DC]?").fullmatch(sent)) is same
