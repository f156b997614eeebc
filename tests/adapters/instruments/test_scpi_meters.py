"""Meters on real sockets, with every fault that a line can have."""

import socket
import time

import pytest
from tests.adapters.instruments.benches import TIMEOUT, meter, meter_profile, open_at, practice

from ohmsworth.adapters.simulated import Contact
from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.meters import Accuracy
from ohmsworth.work.instruments import (
    BadAnswer,
    Complaint,
    InstrumentFault,
    LineLost,
    MeterRange,
    NoAnswer,
    OtherInstrument,
    Overloaded,
)

QUIET = Contact(emf=4e-6, noise=0.0)
BOTH = pytest.mark.parametrize("visa", [False, True], ids=["socket", "visa"])


@BOTH
def test_a_reading_has_its_digits(visa: bool) -> None:
    with practice(QUIET) as (bench, _):
        found = meter(bench, visa=visa).read()
    assert (found.text, found.unit, found.dimension) == ("0.0000040", "V", "voltage")


@BOTH
@pytest.mark.parametrize(
    ("fault", "raised"),
    [
        ("silent", NoAnswer),
        ("late", NoAnswer),
        ("garbage", BadAnswer),
        ("words", BadAnswer),
        ("endless", BadAnswer),
        ("overload", Overloaded),
        ("drop", InstrumentFault),
    ],
)
def test_a_fault_is_told_and_the_next_reading_is_its_own(fault: str, raised: type, visa: bool) -> None:
    with practice(QUIET) as (bench, _):
        opened = meter(bench, visa=visa)
        bench.fault("voltmeter", fault)
        with pytest.raises(raised) as caught:
            opened.read()
        assert "SCPI voltmeter at" in str(caught.value)
        # What is true changes now: an answer to the earlier question would show.
        bench.bench.close_contact(Contact(emf=9e-6, noise=0.0))
        assert [opened.read().text for _ in range(3)] == ["0.0000090"] * 3


@BOTH
def test_a_late_answer_is_never_the_next_one(visa: bool) -> None:
    with practice(QUIET) as (bench, _):
        opened = meter(bench, visa=visa)
        bench.fault("voltmeter", "late")
        with pytest.raises(NoAnswer):
            opened.read()
        bench.bench.close_contact(Contact(emf=9e-6, noise=0.0))
        time.sleep(2.5 * TIMEOUT)  # it has arrived by now
        assert opened.read().text == "0.0000090"


@BOTH
def test_a_meter_that_vanishes_is_told_and_comes_back(visa: bool) -> None:
    with practice(QUIET) as (bench, _):
        opened = meter(bench, visa=visa)
        bench.vanish("voltmeter")
        for _ in range(2):
            with pytest.raises((LineLost, NoAnswer), match="is switched on"):
                opened.read()
        bench.return_to("voltmeter")
        assert opened.read().text == "0.0000040"


def test_a_meter_that_was_switched_off_and_on_between_readings_is_simply_read() -> None:
    with practice(QUIET) as (bench, _):
        opened = meter(bench)
        bench.vanish("voltmeter")
        bench.return_to("voltmeter")
        assert opened.read().text == "0.0000040"


@pytest.mark.parametrize("fault", ["silent", "late", "endless", "drop"])
def test_a_reading_is_bounded_in_time(fault: str) -> None:
    with practice() as (bench, _):
        opened = meter(bench)
        bench.fault("voltmeter", fault)
        began = time.monotonic()
        with pytest.raises(InstrumentFault):
            opened.read()
        assert time.monotonic() - began < 20 * TIMEOUT  # not for ever: no measure of speed


def test_another_instrument_at_the_address_is_refused() -> None:
    with practice() as (bench, _):
        with pytest.raises(OtherInstrument, match="PRACTICE,ammeter"):
            open_at(meter_profile("SCPI voltmeter", expected="voltmeter"), bench.addresses["ammeter"])
        opened = meter(bench)
        # The line breaks, and another one answers at the same port.
        port = bench.addresses["voltmeter"]
        bench.vanish("voltmeter")
        bench.vanish("ammeter")
        bench.addresses["ammeter"] = port
        bench.return_to("ammeter")
        with pytest.raises(OtherInstrument, match="calls itself 'PRACTICE,voltmeter"):
            opened.read()


def test_nobody_at_the_address_is_told() -> None:
    with practice() as (bench, _):
        address = bench.addresses["voltmeter"]
    with pytest.raises(LineLost, match="address"):
        open_at(meter_profile("SCPI voltmeter"), address)


def test_a_command_that_is_not_understood_is_told_in_the_words_of_the_meter() -> None:
    with practice() as (bench, _), pytest.raises(Complaint, match="-113"):
        meter(bench, setup=("*CLS", "SENSe:NONSense 3"))


def test_complaints_of_somebody_before_are_not_ours() -> None:
    with practice(QUIET) as (bench, _):
        host, port = bench.addresses["voltmeter"].split(":")
        with socket.create_connection((host, int(port)), 5) as other:
            other.sendall(b"NONSense\nNONSense 2\n*IDN?\n")
            assert b"PRACTICE" in other.recv(100)
        assert meter(bench, setup=("CONFigure:VOLTage:DC",)).read().text == "0.0000040"


def test_a_question_that_is_not_understood_is_no_reading() -> None:
    with practice() as (bench, _):
        opened = meter(bench, query="MEASure:LUCK?")
        with pytest.raises(NoAnswer):
            opened.read()


def test_an_open_contact_overloads_the_ohmmeter() -> None:
    with practice(Contact(resistance=float("inf"))) as (bench, _), pytest.raises(Overloaded, match="closed"):
        meter(bench, "ohmmeter").read()


RANGES = (
    MeterRange(2e-6, Accuracy(0.005, 3, 1e-7), "SENSe:VOLTage:DC:RANGe 2E-6"),
    MeterRange(0.02, Accuracy(0.005, 3, 1e-6), "SENSe:VOLTage:DC:RANGe 0.02"),
)


def test_the_range_tells_the_accuracy_and_beyond_it_nothing_is_read() -> None:
    with practice(QUIET) as (bench, _):
        profile = meter_profile("SCPI voltmeter", ranges=RANGES, query="READ?")
        opened = open_at(profile, bench.addresses["voltmeter"], range_number=1)
        assert profile.range_for(opened.read()) == RANGES[1]
        assert ("voltmeter", RANGES[1].command) in bench.heard
        small = open_at(profile, bench.addresses["voltmeter"], range_number=0)
        with pytest.raises(Overloaded, match="beyond"):
            small.read()
        with pytest.raises(ArgumentFault):
            open_at(profile, bench.addresses["voltmeter"], range_number=2)


def test_a_chosen_range_is_set_again_when_the_line_is_opened_anew() -> None:
    with practice(QUIET) as (bench, _):
        opened = open_at(
            meter_profile("SCPI voltmeter", ranges=RANGES), bench.addresses["voltmeter"], range_number=1
        )
        bench.fault("voltmeter", "drop")
        with pytest.raises(InstrumentFault):
            opened.read()
        opened.read()
        assert bench.heard.count(("voltmeter", RANGES[1].command)) == 2


def test_a_closed_meter_is_not_opened_by_accident() -> None:
    with practice() as (bench, _):
        opened = meter(bench)
        opened.close()
        with pytest.raises(LineLost, match="closed"):
            opened.read()
