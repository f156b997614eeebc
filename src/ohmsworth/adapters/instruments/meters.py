"""Meters: asked by SCPI, or sending a line a reading by themselves."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.adapters.instruments.addresses import read_address
from ohmsworth.adapters.instruments.conversation import Conversation
from ohmsworth.adapters.instruments.lines import open_line
from ohmsworth.adapters.instruments.numbers import overloaded, typed_answer
from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.entry import Typed
from ohmsworth.work.instruments import InstrumentFault, MeterProfile, MeterRange


class LineMeter:
    """A meter at the end of a line; see `ohmsworth.work.instruments.Meter`.

    Parameters
    ----------
    profile
        How it is asked.
    conversation
        With the meter.
    chosen
        The range that it is set to; None lets the meter choose.
    """

    def __init__(
        self, profile: MeterProfile, conversation: Conversation, chosen: MeterRange | None = None
    ) -> None:
        self._profile = profile
        self._conversation = conversation
        self._chosen = chosen

    @property
    def profile(self) -> MeterProfile:
        """How it is asked."""
        return self._profile

    @property
    def identification(self) -> str:
        """What it said of itself."""
        return self._conversation.identification

    def read(self) -> Typed:
        """Take one reading.

        Raises
        ------
        InstrumentFault
            A child that says what happened; the next call opens the line again if it has to.
        """
        profile, talk = self._profile, self._conversation
        if profile.sends == "when asked":
            line = talk.ask(profile.query)
        else:
            line = talk.listen(skip_first=profile.sends == "continuously")
        reading = typed_answer(profile, line, talk.where)
        self._hold_to_range(reading)
        return reading

    def close(self) -> None:
        """Let go of the line."""
        self._conversation.close()

    def _hold_to_range(self, reading: Typed) -> None:
        ranges = (self._chosen,) if self._chosen else self._profile.ranges
        if ranges and abs(reading.value) > max(each.up_to for each in ranges):
            raise overloaded(
                f"{reading.text} {reading.unit}, beyond its largest range", self._conversation.where
            )


def open_meter(
    profile: MeterProfile, address: str, *, range_number: int | None = None, library: str = "@py"
) -> LineMeter:
    """Open the meter at an address as typed.

    A meter that is asked is recognised and set up at once; one that sends by itself is opened with its first reading.

    Parameters
    ----------
    profile
        How it is asked.
    address
        Host and port, a VISA name, or a serial port.
    range_number
        Which of the profile's ranges to set, counted from 0; None lets the meter choose.
    library
        The VISA library.

    Raises
    ------
    InputRefused
        When the address is none.
    InstrumentFault
        When nobody, or another instrument, answers.
    """
    where, talk = read_address(address), profile.talk
    chosen = _chosen(profile, range_number)
    if chosen is not None and chosen.command:
        talk = replace(talk, setup=(*talk.setup, chosen.command))  # again whenever the line is opened
    conversation = Conversation(f"{profile.name} at {where}", talk, lambda: open_line(where, talk, library))
    if profile.sends == "when asked":
        try:
            conversation.tell()
        except InstrumentFault:
            conversation.close()
            raise
    return LineMeter(profile, conversation, chosen)


def _chosen(profile: MeterProfile, range_number: int | None) -> MeterRange | None:
    if range_number is None:
        return None
    if not 0 <= range_number < len(profile.ranges):
        raise ArgumentFault("range_number", range_number, f"one of the {len(profile.ranges)} ranges stated")
    return profile.ranges[range_number]
