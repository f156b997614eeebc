"""Sequences with meters of paper."""

from datetime import UTC, datetime

import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.instruments import BadAnswer, MeterProfile
from ohmsworth.work.read_meters import Meters, read_once, read_sequence

NOW = datetime(2026, 1, 5, 9, tzinfo=UTC)
ABOUT = Entry("1", "new")


class Paper:
    """A meter that shows what it is told to."""

    identification = ""

    def __init__(self, quantity: str, unit: str, *texts: str) -> None:
        self.profile = MeterProfile(quantity, quantity, unit)
        self._shown = [Typed(text, unit, quantity) for text in texts]

    def read(self) -> Typed:
        return self._shown.pop(0)

    def close(self) -> None:
        pass


def volts(*texts: str) -> Paper:
    return Paper("voltage", "mV", *texts)


def amperes(*texts: str) -> Paper:
    return Paper("current", "mA", *texts)


@pytest.mark.parametrize(
    "wrong",
    [
        {},
        {"voltmeter": volts()},
        {"ammeter": amperes()},
        {"voltmeter": volts(), "ohmmeter": Paper("resistance", "Ω")},
        {"voltmeter": volts(), "ammeter": amperes(), "set_current": Typed("1", "mA", "current")},
    ],
)
def test_meters_that_make_no_resistance_are_refused(wrong: dict) -> None:
    with pytest.raises(ArgumentFault):
        Meters(**wrong)


@pytest.mark.parametrize(("sign", "text"), [("+", "100.0"), ("-", "-100.0"), ("0", "0")])
def test_a_set_current_takes_the_sign_of_the_polarity(sign: str, text: str) -> None:
    meters = Meters(volts("0.2351"), set_current=Typed("100.0", "mA", "current"))
    assert read_once(meters, ABOUT, sign, lambda: NOW).current.text == text


def test_an_ammeter_in_front_of_the_switch_is_given_the_sign() -> None:
    meters = Meters(volts("-0.2351"), amperes("100.02"), ammeter_turns=False)
    assert read_once(meters, ABOUT, "-", lambda: NOW).current.text == "-100.02"


@pytest.mark.parametrize(("sign", "shown"), [("-", "100.02"), ("+", "-100.02"), ("+", "0.00")])
def test_an_ammeter_of_the_other_sign_is_refused(sign: str, shown: str) -> None:
    with pytest.raises(BadAnswer, match="Was the current turned"):
        read_once(Meters(volts("0.2"), amperes(shown)), ABOUT, sign, lambda: NOW)


def test_a_temperature_is_read_too() -> None:
    meters = Meters(volts("0.2"), amperes("100"), thermometer=Paper("temperature", "°C", "21.4"))
    entry = read_once(meters, ABOUT, "+", lambda: NOW)
    assert entry.temperature == Typed("21.4", "°C", "temperature")
    assert entry.time == NOW


def test_turning_waiting_reading_and_keeping_follow_one_another() -> None:
    done: list[object] = []
    meters = Meters(volts("0.0", "0.2", "-0.2"), amperes("0.0", "100", "-100"))
    read_sequence(
        meters, ABOUT, lambda entry: done.append(entry.voltage.text),
        form="reversal", turn=done.append, sleep=done.append, now=lambda: NOW, zero=True, settle=3.0,
    )  # fmt: skip
    assert done == ["0", 3.0, "0.0", "+", 3.0, "0.2", "-", 3.0, "-0.2"]


def test_an_ohmmeter_has_no_zero_of_the_current() -> None:
    with pytest.raises(ArgumentFault):
        read_sequence(
            Meters(ohmmeter=Paper("resistance", "Ω", "1")), ABOUT, lambda _: None,
            form="single", turn=lambda _: None, sleep=lambda _: None, now=lambda: NOW, zero=True,
        )  # fmt: skip


def test_what_a_reading_was_about_is_not_carried_into_its_quantities() -> None:
    about = Entry("1", "new", resistance=Typed("1", "Ω", "resistance"), note="left pin")
    entry = read_once(Meters(volts("0.2"), amperes("100")), about, "+", lambda: NOW)
    assert entry.resistance is None
    assert entry.note == "left pin"
