"""Resistances and a spread as they are typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.errors import Fault
from ohmsworth.work.asked import asked_ohms, asked_spread


@pytest.mark.parametrize(
    ("text", "ohms"),
    [
        ("", ()),
        ("3 mΩ", (0.003,)),
        ("2.6 mΩ, 30 mΩ", (0.0026, 0.03)),
        ("2,6 mΩ, 30 mΩ", (0.0026, 0.03)),
        ("2,6mΩ,30mΩ", (0.0026, 0.03)),
        ("2.6 mohm 30 mohm", (0.0026, 0.03)),
        ("1 Ω;2 Ω\n3 Ω,", (1.0, 2.0, 3.0)),
        ("3 mΩ; 0.003 Ω", (0.003,)),
    ],
)
def test_what_is_typed_is_read(text: str, ohms: tuple[float, ...]) -> None:
    faults: list[Fault] = []
    assert asked_ohms(text, "here", faults) == ohms
    assert not faults


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("3", "no unit in '3'"),
        ("2, 6 mΩ", "no unit in '2'"),  # never taken for 2.6 or for two of them
        ("3 mm", "the unit 'mm'"),
        ("0 Ω", "'0 Ω'"),
        ("1e10 Ω", "'1e10 Ω'"),
        ("1 Ω; 2 Ω; 3 Ω; 4 Ω; 5 Ω; 6 Ω; 7 Ω", "7 of them"),
    ],
)
def test_what_cannot_be_meant_is_said(text: str, found: str) -> None:
    faults: list[Fault] = []
    asked_ohms(text, "here", faults)
    assert [(fault.where, fault.found) for fault in faults] == [("here", found)]


def test_a_spread() -> None:
    faults: list[Fault] = []
    assert asked_spread("20 %", "here", faults) == pytest.approx(0.2)
    assert asked_spread(" ", "here", faults) is None
    assert not faults
    for text in ("0 %", "231 %", "20 mΩ", "much"):
        assert asked_spread(text, "here", faults) is None
    assert len(faults) == 4


@given(st.text(max_size=60))
def test_any_text_is_read_or_said_to_be_at_fault(text: str) -> None:
    faults: list[Fault] = []
    ohms = asked_ohms(text, "here", faults)
    assert all(1e-7 <= ohm <= 1e9 for ohm in ohms)
    assert ohms or faults or not any(letter.isalnum() for letter in text)
