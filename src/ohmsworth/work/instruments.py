"""What the use cases need of meters and of a current source, and what can go wrong with them.

An adapter implements `Meter` and `SourceDevice`; profiles say how an instrument is spoken to. Nothing here opens anything.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, Protocol

from ohmsworth.errors import Fault, OhmsworthError
from ohmsworth.readings.entry import Typed
from ohmsworth.readings.meters import Accuracy

#: When a meter sends a reading: when asked, one line after another, or when its own key is pressed.
Sends = Literal["when asked", "continuously", "on its key"]
SENDS: tuple[Sends, ...] = ("when asked", "continuously", "on its key")
#: How a line is made clean after a time-out: closed and opened again, or by the bus's own device clear.
Clear = Literal["reopen", "device clear"]
CLEARS: tuple[Clear, ...] = ("reopen", "device clear")
#: What a meter reads, and the unit in which SCPI answers.
BASE_UNITS = {"voltage": "V", "current": "A", "resistance": "Ω", "temperature": "K"}


class InstrumentFault(OhmsworthError, OSError):
    """An instrument did not do what it was asked; readings that were taken before are not touched."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(str(fault))
        self.fault = fault


class NoAnswer(InstrumentFault):
    """Nothing, or no whole line, arrived in time."""


class LineLost(InstrumentFault):
    """The line cannot be opened, or it broke."""


class BadAnswer(InstrumentFault):
    """What arrived is not one number of the quantity that was asked for."""


class Overloaded(BadAnswer):
    """The meter says that its range is too small or that nothing is connected."""


class OtherInstrument(InstrumentFault):
    """Another instrument than the expected one answers at the address."""


class Complaint(InstrumentFault):
    """The instrument refused a command, in its own words."""


class SourceRefused(InstrumentFault):
    """The source is not set so: a limit is missing, or would be passed."""


class SourceOff(InstrumentFault):
    """The current is off, or went off while it was needed."""


class MayStillBeOn(InstrumentFault):
    """Nobody could confirm that the current is off."""


@dataclass(frozen=True, slots=True)
class Talk:
    """How an instrument is spoken to.

    Parameters
    ----------
    send_end, answer_end
        What ends a line that is sent, and one that arrives.
    timeout
        Seconds to wait for a connection and for a whole answer.
    clear
        How the line is made clean after a time-out.
    identify
        Asks who is there; empty where the instrument cannot say.
    expected
        A piece of the answer to `identify`, in any case; empty accepts any instrument.
    ask_error
        Asks for the oldest complaint; empty where the instrument keeps none.
    setup
        Sent in this order each time the line is opened.
    baud, frame
        Of a serial line: bits a second; data bits, parity (N, E, O) and stop bits, such as "8N1".
    """

    send_end: str = "\n"
    answer_end: str = "\n"
    timeout: float = 3.0
    clear: Clear = "reopen"
    identify: str = "*IDN?"
    expected: str = ""
    ask_error: str = "SYSTem:ERRor?"
    setup: tuple[str, ...] = ()
    baud: int = 9600
    frame: str = "8N1"


@dataclass(frozen=True, slots=True)
class MeterRange:
    """One range: the largest reading (SI), its stated accuracy, and the command that chooses it, if any."""

    up_to: float
    accuracy: Accuracy
    command: str = ""


@dataclass(frozen=True, slots=True)
class MeterProfile:
    """How one kind of meter is asked, and what its answer means.

    Parameters
    ----------
    name, words
        What a list shows.
    quantity
        "voltage", "current", "resistance" or "temperature".
    unit
        Of the number in its answer; with `unit_sent` the unit stands behind the number and `unit` is not used.
    talk
        How it is spoken to.
    query
        Asks for one reading; empty for a meter that sends by itself.
    sends
        When it sends a reading.
    before, after
        What stands around number and unit in a line.
    overload
        What it sends instead of a number when overloaded, beside 9.9E37.
    ranges
        From the smallest up; empty where nothing is stated.
    source
        Where this was read.
    """

    name: str
    quantity: str
    unit: str
    talk: Talk = field(default_factory=Talk)
    query: str = ""
    sends: Sends = "when asked"
    before: str = ""
    after: str = ""
    unit_sent: bool = False
    overload: tuple[str, ...] = ("OL", "OVLD", "OVERLOAD")
    ranges: tuple[MeterRange, ...] = ()
    words: str = ""
    source: str = ""

    def range_for(self, reading: Typed) -> MeterRange | None:
        """The smallest range that holds the reading; None where no range is stated, or none holds it."""
        size = abs(reading.value)
        return next((each for each in self.ranges if size <= each.up_to), None)


@dataclass(frozen=True, slots=True)
class SourceProfile:
    """How one kind of current source is set; every command but the last two takes no argument of its own.

    Parameters
    ----------
    name, words
        What a list shows.
    talk
        How it is spoken to.
    set_current, ask_current
        The level in ampere: a command with ``{ampere}`` in it, and the question that it is checked with.
    set_compliance, ask_compliance
        The largest voltage: a command with ``{volt}``, and its question; empty where it cannot be set.
    open_circuit_voltage
        Volt; what it puts on an open contact where that cannot be set.
    output_on, output_off, ask_output
        Commands and question for its output.
    most_current, least_compliance, most_compliance
        What the source can be set to, in ampere and volt.
    current_step, compliance_step
        Smallest steps of the two, in ampere and volt; 0 where they are of no account.
    reversible
        Whether a negative level reverses the current.
    source
        Where this was read.
    """

    name: str
    talk: Talk = field(default_factory=Talk)
    set_current: str = "SOURce:CURRent {ampere}"
    ask_current: str = "SOURce:CURRent?"
    set_compliance: str = "SOURce:VOLTage:LIMit {volt}"
    ask_compliance: str = "SOURce:VOLTage:LIMit?"
    open_circuit_voltage: float | None = None
    output_on: str = "OUTPut ON"
    output_off: str = "OUTPut OFF"
    ask_output: str = "OUTPut?"
    most_current: float | None = None
    least_compliance: float = 0.0
    most_compliance: float | None = None
    current_step: float = 0.0
    compliance_step: float = 0.0
    reversible: bool = True
    words: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Profiles:
    """Every profile by its name."""

    meters: dict[str, MeterProfile]
    sources: dict[str, SourceProfile]


class Meter(Protocol):
    """One meter, opened. Every call is bounded in time and may come from any thread."""

    @property
    def profile(self) -> MeterProfile:
        """How it is asked."""

    @property
    def identification(self) -> str:
        """What it said of itself when it was opened; empty where it cannot say."""

    def read(self) -> Typed:
        """Take one reading, with the digits that were sent; raises a child of InstrumentFault."""

    def close(self) -> None:
        """Let go of the line."""


class SourceDevice(Protocol):
    """One current source, without any care: `work.current_source` is what holds it to its limits."""

    @property
    def profile(self) -> SourceProfile:
        """How it is set."""

    def set_compliance(self, volt: float) -> None:
        """Limit the voltage, and confirm it by asking."""

    def set_current(self, ampere: float) -> None:
        """Set the level, and confirm it by asking."""

    def switch_on(self) -> None:
        """Switch the output on, and confirm it by asking."""

    def switch_off(self) -> None:
        """Switch the output off; it returns only when the source says that it is off."""

    def close(self) -> None:
        """Let go of the line."""
