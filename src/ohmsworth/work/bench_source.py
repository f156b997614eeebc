"""The current source of a bench: opened when it is needed, and on only while the page that asked for it is there."""

from __future__ import annotations

import threading
from collections.abc import Callable

from ohmsworth.errors import Fault, InputRefused, OhmsworthError
from ohmsworth.readings.entry import Typed
from ohmsworth.units import parse_quantity, show_stated
from ohmsworth.work.connections import Connection
from ohmsworth.work.current_source import CurrentSource, SourceState
from ohmsworth.work.instrument_ports import InstrumentPorts
from ohmsworth.work.instruments import MayStillBeOn, SourceProfile
from ohmsworth.work.read_meters import SETTLE_SECONDS
from ohmsworth.work.source_limits import SourceLimits, read_limits
from ohmsworth.work.typed import read_typed

BY_HAND = "The current may still be on: switch the source off by hand."
#: Seconds between turning and reading that somebody may ask for.
_LONGEST_SETTLE = 60.0


class BenchSource:
    """The source with whoever switched it on; safe between threads.

    Parameters
    ----------
    ports
        Opens it.
    connection
        Gives what is connected; None for no source.
    profile
        Gives the profile of a connection; raises InputRefused.
    """

    def __init__(
        self,
        ports: InstrumentPorts,
        connection: Callable[[], Connection | None],
        profile: Callable[[Connection], SourceProfile],
    ) -> None:
        self._ports, self._connection, self._profile = ports, connection, profile
        self._lock = threading.RLock()
        self._source: CurrentSource | None = None
        self._holder = ""
        #: What could not be confirmed when it was opened or let go of.
        self._warning = ""

    def opened(self) -> CurrentSource:
        """The source, off unless somebody has switched it on.

        Raises
        ------
        InputRefused
            When none is connected, or its limits are none.
        InstrumentFault
            When it cannot be opened; MayStillBeOn when it does not go off.
        """
        with self._lock:
            if self._source is None:
                connection = self._connected()
                try:
                    self._source = self._ports.open_source(
                        self._profile(connection), connection.address, limits_of(connection)
                    )
                except MayStillBeOn:
                    self._warning = BY_HAND
                    raise
                self._warning = ""
            return self._source

    def level(self) -> Typed:
        """The current that it sends while the meters are read; raises InputRefused."""
        return read_level(self._connected().level)

    def settle(self) -> float:
        """Seconds from turning to reading."""
        return read_settle(self._connected().settle)

    def state(self) -> SourceState | None:
        """What a page shows; None where it was never opened. Never waits."""
        source = self._source
        return source.state() if source is not None else None

    def words(self) -> str:
        """What every page says while it is on, or may be; else "". Never waits."""
        state = self.state()
        if state is not None and state.output == "on":
            way = "reversed" if state.current < 0 else "forward"
            return f"The current is on: {show_stated(abs(state.current), 'A')} {way}."
        if self._warning or (state is not None and state.output == "may be on"):
            return BY_HAND
        return ""

    def switch_on(self, level: Typed, holder: str) -> None:
        """Switch on for the page that calls itself `holder`; raises as `CurrentSource.switch_on`."""
        source = self.opened()
        with self._lock:
            if source.state().output == "off":
                self._holder = holder
        source.switch_on(level.value)

    def hold(self, holder: str) -> None:
        """From now on the page `holder` is the one that has to be there."""
        self._holder = holder

    def is_held_by(self, holder: str) -> bool:
        """Whether it is this page that has to be there."""
        return holder != "" and holder == self._holder

    def switch_off(self, why: str = "switched off by the person") -> None:
        """Switch off, from any thread; raises MayStillBeOn."""
        source = self._source
        if source is not None:
            source.switch_off(why)

    def renew(self, holder: str) -> bool:
        """The page is still there; False when the current is off, or another page has switched it on."""
        source = self._source
        return source is not None and self.is_held_by(holder) and source.renew()

    def leave(self, holder: str) -> None:
        """The page is left: off, where it was this one that had switched it on."""
        state = self.state()
        if self.is_held_by(holder) and state is not None and state.output != "off":
            self.switch_off("the page that had switched it on was left")

    def close(self) -> None:
        """Switch off and let go; a source that is not known to be off is kept, and says so.

        Raises
        ------
        MayStillBeOn
            When "off" cannot be confirmed.
        """
        with self._lock:
            if self._source is not None:
                self._source.close()
                self._source = None
            self._warning = ""

    def _connected(self) -> Connection:
        connection = self._connection()
        if connection is None:
            mend = "Connect one on the page of the meters."
            raise InputRefused((Fault("current source", "none", "one that is connected", mend),))
        return connection


def limits_of(connection: Connection) -> SourceLimits:
    """The limits that a person stated; raises InputRefused."""
    return read_limits(connection.most_current, connection.most_voltage, connection.reason)


def read_level(text: str) -> Typed:
    """The current as typed, without a sign; raises InputRefused."""
    typed = read_typed(text, "current", "current", "mA").typed
    if typed.value <= 0:
        mend = "The polarity says which way it flows."
        raise InputRefused((Fault("current", f"{typed.text} {typed.unit}", "more than zero", mend),))
    return typed


def read_settle(text: str) -> float:
    """Seconds from turning to reading; raises InputRefused."""
    if not text.strip():
        return SETTLE_SECONDS
    try:
        seconds = parse_quantity(text, "time")
    except OhmsworthError:
        seconds = -1.0
    if not 0 <= seconds <= _LONGEST_SETTLE:
        fault = Fault("wait", repr(text[:20]), "a time up to 60 s", "Write it as 2 s.")
        raise InputRefused((fault,))
    return seconds


def faults_of(connection: Connection) -> tuple[Fault, ...]:
    """Everything that is wrong with what was stated about a source."""
    found: list[Fault] = []
    reads: tuple[Callable[[], object], ...] = (
        lambda: limits_of(connection),
        lambda: read_level(connection.level),
        lambda: read_settle(connection.settle),
    )
    for read in reads:
        try:
            read()
        except InputRefused as refused:
            found += refused.faults
    if not found and read_level(connection.level).value > limits_of(connection).current * (1 + 1e-9):
        limit = show_stated(limits_of(connection).current, "A")
        mend = "Send less, or state another limit with its reason."
        found.append(Fault("current", connection.level, f"at most {limit}, as stated", mend))
    return tuple(found)
