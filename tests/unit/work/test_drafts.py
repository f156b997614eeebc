"""What is typed for one reading, read as an entry or refused field by field."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.entry import Typed
from ohmsworth.work.drafts import Draft, read_draft

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
LABELS = {"specimen": "N1", "condition": "new"}


def faults_of(draft: Draft) -> dict[str, str]:
    with pytest.raises(InputRefused) as refused:
        read_draft(draft, "either", NOW)
    return {fault.where: fault.found for fault in refused.value.faults}


def test_an_entry_keeps_its_digits() -> None:
    figures = {"voltage": ("0,2510", "mV"), "current": ("100.02", "mA"), "temperature": ("21", "°C")}
    found = read_draft(Draft(LABELS, "+", figures, note=" tight  fit "), "either", NOW)
    assert found.entry.voltage == Typed("0.2510", "mV", "voltage")
    assert found.entry.temperature == Typed("21", "°C", "temperature")
    assert found.entry.note == "tight fit"
    assert found.entry.time == NOW
    assert found.mark is not None


def test_a_unit_in_the_field_comes_before_the_one_beside_it() -> None:
    found = read_draft(Draft(LABELS, "+", {"resistance": ("2.61 mΩ", "Ω")}), "either", NOW)
    assert found.entry.resistance == Typed("2.61", "mΩ", "resistance")


def test_a_current_left_empty_is_the_one_before() -> None:
    before = {"current": Typed("100.02", "mA", "current")}
    found = read_draft(Draft(LABELS, "+", {"voltage": ("0.25", "mV")}, before), "either", NOW)
    assert found.entry.current == before["current"]
    assert found.said["current"] == "100.02 mA, as before."


def test_a_current_that_cannot_be_read_is_not_the_one_before() -> None:
    before = {"current": Typed("100.02", "mA", "current")}
    draft = Draft(LABELS, "+", {"voltage": ("0.25", "mV"), "current": ("1oo", "mA")}, before)
    assert list(faults_of(draft)) == ["current"]


def test_every_field_at_fault_is_told_at_once() -> None:
    draft = Draft({"specimen": " ", "condition": "x" * 300}, "~", {"voltage": ("half", "mV")})
    assert set(faults_of(draft)) == {"specimen", "condition", "polarity", "voltage", "current"}


@pytest.mark.parametrize("missing", ["voltage", "current"])
def test_half_a_reading_is_none(missing: str) -> None:
    figures = {"voltage": ("0.25", "mV"), "current": ("100", "mA")}
    figures.pop(missing)
    assert faults_of(Draft(LABELS, "+", figures)) == {missing: "nothing"}


def test_what_waited_was_read_when_it_was_typed() -> None:
    draft = Draft(LABELS, "+", {"resistance": ("2.6", "mΩ")}, elapsed=90.0)
    assert read_draft(draft, "either", NOW).entry.time == NOW - timedelta(seconds=90)
    draft = Draft(LABELS, "+", {"resistance": ("2.6", "mΩ")}, elapsed=-90.0)
    assert read_draft(draft, "either", NOW).entry.time == NOW


TYPED = st.tuples(st.text(max_size=40), st.sampled_from(["mV", "mA", "mΩ", "", "x"]))


@given(st.dictionaries(st.sampled_from(["voltage", "current", "resistance"]), TYPED), st.text(max_size=3))
def test_nothing_but_a_refusal_comes_of_anything(figures: dict[str, tuple[str, str]], sign: str) -> None:
    faults: tuple[Fault, ...] = ()
    entry = None
    try:
        entry = read_draft(Draft(LABELS, sign, figures), "either", NOW).entry
    except InputRefused as refused:
        faults = refused.faults
    assert all(fault.found and fault.expected and fault.mend for fault in faults)
    assert faults or (entry is not None and (entry.voltage is not None or entry.resistance is not None))


def test_with_the_current_off_no_current_is_asked_for_and_none_is_as_before() -> None:
    before = {"current": Typed("100.02", "mA", "current")}
    entry = read_draft(Draft(LABELS, "0", {"voltage": ("0.0012", "mV")}, before), "either", NOW).entry
    assert entry.current is None
    assert entry.voltage == Typed("0.0012", "mV", "voltage")
