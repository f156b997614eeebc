"""Serial meters, through pseudo-terminals."""

import os
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

import pytest
from tests.adapters.instruments.benches import TIMEOUT, meter_profile

from ohmsworth.adapters.instruments import open_meter, serial_ports
from ohmsworth.work.instruments import BadAnswer, LineLost, NoAnswer, OtherInstrument, Overloaded

pytest.importorskip("termios", reason="pseudo-terminals need a system with termios")


class Instrument:
    """The far end of a serial line."""

    def __init__(self) -> None:
        self.end, near = os.openpty()
        self.port = os.ttyname(near)
        self._near = near  # kept open, so that the line lives while the program opens it anew
        import tty

        tty.setraw(near)
        self._threads: list[threading.Thread] = []

    def send(self, *pieces: bytes | float) -> None:
        """Send pieces, with pauses of so many seconds."""
        for piece in pieces:
            if isinstance(piece, bytes):
                os.write(self.end, piece)
            else:
                time.sleep(piece)

    def later(self, *pieces: bytes | float) -> None:
        """The same beside the test."""
        thread = threading.Thread(target=self.send, args=pieces)
        thread.start()
        self._threads.append(thread)

    def answer(self, answers: Callable[[str], tuple[bytes | float, ...]], questions: int) -> None:
        """Answer so many questions."""

        def run() -> None:
            for _ in range(questions):
                line = b""
                while not line.endswith(b"\n"):
                    line += os.read(self.end, 1)
                self.send(*answers(line.decode().strip()))

        thread = threading.Thread(target=run)
        thread.start()
        self._threads.append(thread)

    def close(self) -> None:
        for thread in self._threads:
            thread.join(timeout=10)
        for end in (self.end, self._near):
            with suppress(OSError):
                os.close(end)


@contextmanager
def line(name: str = "line-sending serial voltmeter", **changes) -> Iterator[tuple[Instrument, object]]:
    instrument = Instrument()
    meter = open_meter(meter_profile(name, **changes), instrument.port)
    try:
        yield instrument, meter
    finally:
        meter.close()
        instrument.close()


def test_the_first_whole_line_is_read() -> None:
    with line() as (instrument, meter):
        # The program comes in the middle of a line: what is left of it would be a number too.
        instrument.later(0.1, b"234 mV\r\n", 0.02, b"0.23", 0.02, b"51 mV\r\n", b"0.2399 mV\r\n")
        found = meter.read()
    assert (found.text, found.unit) == ("0.2351", "mV")


def test_lines_from_before_the_question_are_not_its_answer() -> None:
    with line(sends="on its key") as (instrument, meter):
        instrument.later(0.1, b"0.1000 mV\r\n")
        assert meter.read().text == "0.1000"
        instrument.send(b"0.1111 mV\r\n0.1222 mV\r\n")
        time.sleep(0.05)
        instrument.later(0.1, b"0.2351 mV\r\n")
        assert meter.read().text == "0.2351"


def test_a_part_of_a_line_is_no_reading() -> None:
    with line(sends="on its key") as (instrument, meter):
        instrument.later(0.05, b"0.23")
        with pytest.raises(NoAnswer, match=r"only '0\.23', without an end"):
            meter.read()
        instrument.later(0.1, b"0.2351 mV\r\n")
        assert meter.read().text == "0.2351"


def test_silence_is_told() -> None:
    with line() as (_, meter), pytest.raises(NoAnswer, match="no answer within"):
        meter.read()


@pytest.mark.parametrize(
    ("sent", "raised"),
    [
        (b"O.L mV\r\n", BadAnswer),
        (b"OL mV\r\n", Overloaded),
        (b"0.23 mA\r\n", BadAnswer),
        (b"\xff\x80\r\n", BadAnswer),
    ],
)
def test_what_is_no_voltage_is_refused(sent: bytes, raised: type) -> None:
    with line(sends="on its key") as (instrument, meter):
        instrument.later(0.1, sent)
        with pytest.raises(raised):
            meter.read()


def test_a_cable_that_is_pulled_out_is_told_and_put_in_again() -> None:
    instrument = Instrument()
    meter = open_meter(meter_profile("line-sending serial voltmeter"), instrument.port)
    instrument.later(0.05, b"x\r\n0.1 mV\r\n")
    assert meter.read().text == "0.1"
    instrument.close()
    with pytest.raises((LineLost, NoAnswer), match="switched on"):
        meter.read()
    with pytest.raises(LineLost):
        meter.read()
    meter.close()


def asked(question: str) -> tuple[bytes | float, ...]:
    return {
        "*IDN?": (b"PRACTICE,voltmeter,0,1\n",),
        "SYSTem:ERRor?": (b'0,"No error"\n',),
        "*CLS": (),
    }.get(question, (b"+2.3", 0.02, b"510E-04\n"))


def test_scpi_over_a_serial_line_with_an_answer_in_pieces() -> None:
    instrument = Instrument()
    instrument.answer(asked, questions=5)
    meter = open_meter(meter_profile("SCPI voltmeter", answer_end="\n"), instrument.port)
    assert meter.read().text == "0.00023510"
    meter.close()
    instrument.close()


def test_a_late_answer_over_a_serial_line_is_thrown_away() -> None:
    """Closing the port does not help: the meter sends all the same. Its name tells what comes after what."""
    readings = iter([(1.5 * TIMEOUT, b"+1.1E-04\n"), (b"+2.2E-04\n",)])
    instrument = Instrument()
    instrument.answer(
        lambda question: next(readings) if question == "READ?" else asked(question), questions=10
    )
    profile = meter_profile("SCPI voltmeter, as set on its panel", timeout=TIMEOUT)
    meter = open_meter(profile, instrument.port)
    with pytest.raises(NoAnswer):
        meter.read()
    # The first answer is on its way; the question for the name waits behind it.
    assert meter.read().text == "0.00022"
    meter.close()
    instrument.close()


def test_a_late_answer_of_a_meter_without_a_name_is_waited_out() -> None:
    readings = iter([(1.5 * TIMEOUT, b"1.1 mV\n"), (b"2.2 mV\n",)])
    instrument = Instrument()
    instrument.answer(lambda _: next(readings), questions=2)
    talk = {"identify": "", "ask_error": "", "setup": ()}
    profile = meter_profile("SCPI voltmeter", query="V", unit="", unit_sent=True, **talk)
    meter = open_meter(profile, instrument.port)
    with pytest.raises(NoAnswer):
        meter.read()
    assert meter.read().text == "2.2"
    meter.close()
    instrument.close()


def test_another_name_over_a_serial_line_is_refused() -> None:
    instrument = Instrument()
    instrument.answer(asked, questions=1)
    with pytest.raises(OtherInstrument):
        open_meter(meter_profile("SCPI ammeter", expected="ammeter"), instrument.port)
    instrument.close()


def test_a_port_that_is_not_there_is_told() -> None:
    with pytest.raises(LineLost, match="address"):
        open_meter(meter_profile("SCPI voltmeter"), "/dev/ttyNOBODY")


def test_ports_are_listed_without_opening_any() -> None:
    assert all(len(port) == 2 for port in serial_ports())
