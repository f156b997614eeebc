"""Readings by program, in an order that cancels what is not the contact; each is handed over as soon as it is taken.

Single      +            keeps the thermal EMF in
Reversal    + −          cancels the EMF
Three       + − +        cancels a linear drift of it too
with zero   0 first      the current off: shows the EMF alone

What becomes a resistance, and how, is decided by `ohmsworth.resistance` from the entries alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from ohmsworth.errors import ArgumentFault, Fault
from ohmsworth.readings.entry import Entry, Sign, Typed
from ohmsworth.work.current_source import CurrentSource
from ohmsworth.work.instruments import BadAnswer, Meter

Form = Literal["single", "reversal", "three"]
FORMS: dict[Form, tuple[Sign, ...]] = {"single": ("+",), "reversal": ("+", "-"), "three": ("+", "-", "+")}
#: Seconds between turning the current and reading, unless the caller knows better.
SETTLE_SECONDS = 2.0
#: Takes a reading into the records; when it returns the reading is kept.
Keep = Callable[[Entry], None]
#: Brings the current to the polarity, or asks a person to, and returns when that is done; raises to give up.
Turn = Callable[[Sign], None]
#: Raises when the current that was set is on no more.
StillOn = Callable[[Sign], None]


@dataclass(frozen=True, slots=True)
class Meters:
    """The meters of a reading: `ohmmeter` alone, or `voltmeter` with `ammeter` or with the current as `set_current`.

    Parameters
    ----------
    voltmeter, ammeter, ohmmeter, thermometer
        Opened; None where there is none.
    set_current
        The current as somebody has set it, without its sign, where no ammeter reads it.
    ammeter_turns
        False for an ammeter in front of the switch that reverses the current: it shows the same sign both ways.
    """

    voltmeter: Meter | None = None
    ammeter: Meter | None = None
    ohmmeter: Meter | None = None
    thermometer: Meter | None = None
    set_current: Typed | None = None
    ammeter_turns: bool = True

    def __post_init__(self) -> None:
        by_ohm = self.ohmmeter is not None
        by_volt = self.voltmeter is not None
        by_current = self.ammeter is not None or self.set_current is not None
        if by_ohm == by_volt or by_volt != by_current or (self.ammeter and self.set_current):
            wanted = "an ohmmeter alone, or a voltmeter with either an ammeter or a set current"
            raise ArgumentFault("meters", self, wanted)


def read_once(meters: Meters, about: Entry, polarity: Sign, now: Callable[[], datetime]) -> Entry:
    """Take one reading.

    Parameters
    ----------
    meters
        What is read.
    about
        What is measured, by whom: everything of the entry but the readings and the time.
    polarity
        Sign of the current that flows now; "0" for none.
    now
        The time of day, with its zone.

    Raises
    ------
    InstrumentFault
        When a meter fails, or shows a sign that is not that of the polarity.
    """
    found = replace(about, polarity=polarity, voltage=None, current=None, resistance=None)
    if meters.ohmmeter is not None:
        found = replace(found, resistance=meters.ohmmeter.read())
    elif meters.voltmeter is not None:
        voltage = meters.voltmeter.read()
        found = replace(found, voltage=voltage, current=_current(meters, polarity))
    if meters.thermometer is not None:
        found = replace(found, temperature=meters.thermometer.read())
    return replace(found, time=now())


def read_sequence(
    meters: Meters,
    about: Entry,
    keep: Keep,
    *,
    form: Form,
    turn: Turn,
    sleep: Callable[[float], None],
    now: Callable[[], datetime],
    zero: bool = False,
    settle: float = SETTLE_SECONDS,
    still_on: StillOn | None = None,
) -> tuple[Entry, ...]:
    """Take the readings of one sequence, and hand each over before the next is begun.

    Parameters
    ----------
    meters, about, now
        As in `read_once`.
    keep
        Called with each entry; what it was called with stays kept, whatever comes after.
    form
        Which polarities.
    turn
        Called before each reading with its polarity; `by_source` makes one, a page asks the person.
    sleep
        Waits for seconds.
    zero
        Whether to begin with a reading of the current off.
    settle
        Seconds from turning to reading.
    still_on
        Called after each reading, before it is kept: a reading during which the current went off is none.

    Returns
    -------
    tuple
        The entries, in order.

    Raises
    ------
    InstrumentFault
        The entries before it were handed over.
    ArgumentFault
        When an ohmmeter, which has a current of its own, is to be turned or read at zero.
    """
    signs: tuple[Sign, ...] = ("0", *FORMS[form]) if zero else FORMS[form]
    if meters.ohmmeter is not None and zero:
        raise ArgumentFault("zero", zero, "no zero reading with an ohmmeter, which has a current of its own")
    return read_signs(
        meters, about, keep, signs, turn=turn, sleep=sleep, now=now, settle=settle, still_on=still_on
    )


def read_signs(
    meters: Meters,
    about: Entry,
    keep: Keep,
    signs: Sequence[Sign],
    *,
    turn: Turn,
    sleep: Callable[[float], None],
    now: Callable[[], datetime],
    settle: float = SETTLE_SECONDS,
    still_on: StillOn | None = None,
) -> tuple[Entry, ...]:
    """The same for polarities in any order, such as the only one that a step of the sheet asks for."""
    entries = []
    for sign in signs:
        turn(sign)
        sleep(settle)
        if still_on is not None:
            still_on(sign)
        entry = read_once(meters, about, sign, now)
        if still_on is not None:
            still_on(sign)
        keep(entry)
        entries.append(entry)
    return tuple(entries)


def read_with_source(
    meters: Meters,
    about: Entry,
    keep: Keep,
    source: CurrentSource,
    current: float,
    *,
    form: Form,
    sleep: Callable[[float], None],
    now: Callable[[], datetime],
    zero: bool = False,
    settle: float = SETTLE_SECONDS,
    turn_by_hand: Turn | None = None,
) -> tuple[Entry, ...]:
    """The same with a current source, which is off afterwards, whatever happens.

    Parameters
    ----------
    source, current
        The source, off, and the current in ampere.
    turn_by_hand
        Where the source cannot reverse: asks the person to lay the leads so; the current is off meanwhile.

    Raises
    ------
    InstrumentFault
        Of a meter or of the source; MayStillBeOn when the source could not be switched off.
    SourceRefused
        When the current is beyond the limits, or has to be turned and nobody is there to do it.
    """
    turn, still_on = by_source(source, current, turn_by_hand)
    try:
        found = read_sequence(
            meters,
            about,
            keep,
            form=form,
            turn=turn,
            sleep=sleep,
            now=now,
            zero=zero,
            settle=settle,
            still_on=still_on,
        )
    except BaseException:
        source.switch_off("the sequence was broken off")
        raise
    source.switch_off("the sequence is complete")
    return found


def by_source(
    source: CurrentSource, current: float, turn_by_hand: Turn | None = None
) -> tuple[Turn, StillOn]:
    """How a source turns its current to a polarity, and how to see that it is still on."""
    hand: list[Sign] = []  # how the person has laid the leads; nobody knows before the first reading

    def turn(sign: Sign) -> None:
        if sign == "0":
            source.switch_off("a zero reading")
            return
        level = current if sign == "+" else -current
        if not source.profile.reversible and turn_by_hand is not None:
            level = current
            if hand != [sign]:
                source.switch_off("the leads are being turned")
                turn_by_hand(sign)
                hand[:] = [sign]
        if source.state().output == "on":
            source.set_current(level)
        else:
            source.switch_on(level)

    def still_on(sign: Sign) -> None:
        if sign != "0":
            source.require_on()

    return turn, still_on


def _current(meters: Meters, polarity: Sign) -> Typed:
    """The current with its sign."""
    if meters.ammeter is None:
        assert meters.set_current is not None
        return _signed(Typed("0", "A", "current") if polarity == "0" else meters.set_current, polarity)
    read = meters.ammeter.read()
    if polarity == "0":
        return read
    if not meters.ammeter_turns:
        return _signed(read, polarity)
    if read.value * (1 if polarity == "+" else -1) <= 0:
        shown = "minus" if polarity == "-" else "plus"
        mend = (
            "Was the current turned, and is it on? Swap the ammeter's leads if it shows the other sign; say so where it "
            "stands in front of the switch and always shows the same one."
        )
        found = f"{read.text} {read.unit} with the current at {shown}"
        raise BadAnswer(Fault(meters.ammeter.profile.name, found, f"a current with a {shown} sign", mend))
    return read


def _signed(current: Typed, polarity: Sign) -> Typed:
    """The same digits with the sign of the polarity."""
    digits = current.text.lstrip("+-")
    return replace(current, text=f"-{digits}" if polarity == "-" else digits)
