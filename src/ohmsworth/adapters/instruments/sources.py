"""A current source at the end of a line. It does as it is told; `ohmsworth.work.current_source` holds it to its limits."""

from __future__ import annotations

import contextlib
from decimal import Decimal, InvalidOperation

from ohmsworth.adapters.instruments.addresses import read_address
from ohmsworth.adapters.instruments.conversation import Conversation
from ohmsworth.adapters.instruments.lines import open_line
from ohmsworth.errors import Fault, shorten
from ohmsworth.work.instruments import Complaint, InstrumentFault, MayStillBeOn, SourceProfile

_ON, _OFF = ("1", "+1", "ON"), ("0", "+0", "OFF")
#: How far a level that was read back may be from the one that was sent: the last digits of the source.
_NEAR = 0.005
_NEAR_ZERO = 1e-6
BY_HAND = "The current may still be on: switch the source off by hand."


class LineSource:
    """See `ohmsworth.work.instruments.SourceDevice`."""

    def __init__(self, profile: SourceProfile, conversation: Conversation) -> None:
        self._profile = profile
        self._conversation = conversation

    @property
    def profile(self) -> SourceProfile:
        """How it is set."""
        return self._profile

    def set_compliance(self, volt: float) -> None:
        """Limit the voltage and ask for it; raises Complaint when the source has another one."""
        command = self._profile.set_compliance.replace("{volt}", _plain(volt))
        # Rounded down to its steps it limits all the better; rounded up it would not.
        below = max(_NEAR * volt, self._profile.compliance_step)
        self._set(command, self._profile.ask_compliance, volt, "V", (volt - below, volt * (1 + _NEAR)))

    def set_current(self, ampere: float) -> None:
        """Set the level and ask for it; raises Complaint when the source has another one."""
        command = self._profile.set_current.replace("{ampere}", _plain(ampere))
        near = max(_NEAR * abs(ampere), _NEAR_ZERO, self._profile.current_step)
        self._set(command, self._profile.ask_current, ampere, "A", (ampere - near, ampere + near))

    def switch_on(self) -> None:
        """Switch the output on; raises Complaint when it does not say so."""
        told = self._conversation.order(self._profile.output_on, self._profile.ask_output)
        if told.strip().upper() not in _ON:
            raise self._complaint(f"an output that says {shorten(told)}", "an output that is on")

    def switch_off(self) -> None:
        """Switch the output off.

        Raises
        ------
        MayStillBeOn
            When the source does not say that it is off, asked twice, the second time over a line opened anew.
        """
        profile, talk = self._profile, self._conversation
        told = "nothing"
        for _ in range(2):
            try:
                told = talk.order(profile.output_off, profile.ask_output)
            except OSError as error:
                told = error.fault.found if isinstance(error, InstrumentFault) else shorten(str(error))
                with contextlib.suppress(OSError):
                    talk.shout(profile.output_off, profile.set_current.replace("{ampere}", "0"))
            else:
                if told.strip().upper() in _OFF:
                    return
        raise MayStillBeOn(Fault(talk.where, told, "an output that says it is off", BY_HAND))

    def close(self) -> None:
        """Let go of the line."""
        self._conversation.close()

    def _set(
        self, command: str, question: str, wanted: float, unit: str, bounds: tuple[float, float]
    ) -> None:
        told = self._conversation.order(command, question)
        try:
            found = float(Decimal(told.strip()))
        except InvalidOperation:
            raise self._complaint(f"the answer {shorten(told)}", f"a number in {unit}") from None
        if not bounds[0] <= found <= bounds[1]:
            raise self._complaint(f"{found:g} {unit} after setting it", f"{wanted:g} {unit}")

    def _complaint(self, found: str, expected: str) -> Complaint:
        mend = "Compare the commands of the profile with the source's manual, and the value with its ranges."
        return Complaint(Fault(self._conversation.where, found, expected, mend))


def open_device(profile: SourceProfile, address: str, *, library: str = "@py") -> LineSource:
    """Open the source at an address as typed, and switch its output off first: nobody knows how it was left.

    Raises
    ------
    InputRefused
        When the address is none.
    InstrumentFault
        When nobody, or another instrument, answers; MayStillBeOn when its output does not go off.
    """
    where, talk = read_address(address), profile.talk
    conversation = Conversation(f"{profile.name} at {where}", talk, lambda: open_line(where, talk, library))
    source = LineSource(profile, conversation)
    try:
        conversation.tell()
        source.switch_off()
    except InstrumentFault:
        conversation.close()
        raise
    return source


def _plain(value: float) -> str:
    """NR2 with six significant digits, and no exponent: every SCPI instrument takes it."""
    return format(Decimal(f"{value:.6g}"), "f")
