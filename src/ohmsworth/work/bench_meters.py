"""The meters of a bench: what is connected is remembered for this machine, and opened when it is first needed."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.errors import Fault, InputRefused, OhmsworthError
from ohmsworth.readings.entry import Typed
from ohmsworth.work.bench_source import BenchSource, faults_of
from ohmsworth.work.connections import (
    QUANTITIES,
    WORDS,
    Connection,
    Role,
    as_text,
    from_text,
    setting_name,
)
from ohmsworth.work.instrument_ports import InstrumentPorts
from ohmsworth.work.instruments import Meter, MeterProfile, Profiles, SourceProfile
from ohmsworth.work.read_meters import Meters
from ohmsworth.work.records import Records


@dataclass(frozen=True, slots=True)
class Tried:
    """What an instrument said of itself, and one reading; of a source, that it is off."""

    identification: str
    shown: str


class BenchMeters:
    """The instruments that are connected, and the source among them; safe between threads.

    Parameters
    ----------
    ports
        Open instruments.
    records
        Whose settings remember what is connected.
    """

    def __init__(self, ports: InstrumentPorts, records: Records) -> None:
        self.ports = ports
        self._records = records
        self._lock = threading.RLock()
        # Held while something is opened: two pages must not open one line twice, and no page waits for it to be drawn.
        self._opening = threading.RLock()
        self._known: dict[Role, Connection] | None = dict(ports.at_start) or None
        self._open: dict[Role, Meter] = {}
        self.source = BenchSource(ports, lambda: self.connections().get("source"), self._source_profile)

    def connections(self) -> Mapping[Role, Connection]:
        """What is connected."""
        with self._lock:
            if self._known is None:
                found = from_text(self._records.settings().get(setting_name(self.ports.machine), ""))
                if "source" in found and faults_of(found["source"]):
                    del found["source"]  # limits that cannot be read are none
                self._known = found
            return dict(self._known)

    def profiles(self) -> Profiles:
        """Every profile that can be used."""
        return self.ports.profiles()[0]

    def connect(self, role: Role, connection: Connection, by: str) -> None:
        """Connect an instrument in the place of the one before; it is opened when it is needed.

        Raises
        ------
        InputRefused
            With everything that is wrong with what was stated.
        MayStillBeOn
            When the source before it does not go off.
        """
        faults = list(self._faults(role, connection))
        if faults:
            raise InputRefused(tuple(faults))
        with self._opening:
            self._close(role)
            self._remember({**self.connections(), role: connection}, by)

    def let_go(self, role: Role, by: str) -> None:
        """Close an instrument and forget it; raises MayStillBeOn for a source that does not go off."""
        with self._opening:
            self._close(role)
            self._remember({one: held for one, held in self.connections().items() if one != role}, by)

    def meter(self, role: Role) -> Meter:
        """A meter, opened.

        Raises
        ------
        InputRefused
            When none is connected, or its address or profile is none.
        InstrumentFault
            When it cannot be opened.
        """
        with self._opening:
            if role not in self._open:
                connection = self.connections().get(role)
                if connection is None:
                    raise InputRefused((_none(role),))
                profile = self._meter_profile(role, connection)
                self._open[role] = self.ports.open_meter(profile, connection.address, connection.range_number)
            return self._open[role]

    def try_it(self, role: Role) -> Tried:
        """Open an instrument and read it once, the current as it is; raises as `meter` and `BenchSource.opened`."""
        if role == "source":
            source = self.source.opened()
            return Tried("", f"its output is {source.state().output}")
        meter = self.meter(role)
        read = meter.read()
        return Tried(meter.identification, f"{read.text} {read.unit}")

    def able(self, ohms: bool) -> bool:
        """Whether a reading of that kind can be asked of the meters."""
        return ("ohmmeter" if ohms else "voltmeter") in self.connections()

    def for_reading(self, ohms: bool, before: Typed | None) -> tuple[Meters, dict[str, str]]:
        """The meters of a reading, opened, and the name of each by the quantity that it reads.

        Parameters
        ----------
        ohms
            Whether a resistance is read, or voltage and current.
        before
            The current as last read, for a bench where nobody reads it but a person.

        Raises
        ------
        InputRefused, InstrumentFault
            As `meter`, and when nothing says how large the current is.
        """
        if ohms:
            meter = self.meter("ohmmeter")
            return Meters(ohmmeter=meter), {"resistance": named(meter)}
        voltmeter, connections = self.meter("voltmeter"), self.connections()
        names = {"voltage": named(voltmeter)}
        if "ammeter" in connections:
            ammeter = self.meter("ammeter")
            turns = connections["ammeter"].turns
            names["current"] = named(ammeter)
            return Meters(voltmeter, ammeter, ammeter_turns=turns), names
        if "source" in connections:
            names["current"] = f"as set: {connections['source'].profile}"
            return Meters(voltmeter, set_current=self.source.level()), names
        if before is None:
            mend = "Connect an ammeter or a current source; or type the first reading with its current."
            raise InputRefused((Fault("current", "nothing that reads it", "an ammeter", mend),))
        return Meters(voltmeter, set_current=before), names

    def close(self) -> bool:
        """Switch off and let go of everything; False when a source may still be on."""
        done = self.ports.switch_all_off("the bench was closed")
        with self._opening:
            for meter in self._open.values():
                meter.close()
            self._open.clear()
        with contextlib.suppress(OhmsworthError):  # told by what switches all off
            self.source.close()
        self.ports.close()
        return done

    def _faults(self, role: Role, connection: Connection) -> tuple[Fault, ...]:
        found: list[Fault] = []
        try:
            if role == "source":
                self._source_profile(connection)
                found += faults_of(connection)
            else:
                self._meter_profile(role, connection)
        except InputRefused as refused:
            found += refused.faults
        if not connection.address.strip():
            mend = "Type it as the display or the manual of the instrument shows it."
            found.append(Fault("address", "nothing", "an address, such as 192.168.1.20:5025", mend))
        return tuple(found)

    def _meter_profile(self, role: Role, connection: Connection) -> MeterProfile:
        profile = self.profiles().meters.get(connection.profile)
        if profile is None or profile.quantity != QUANTITIES[role]:
            raise InputRefused((_no_profile(role, connection.profile),))
        if connection.range_number is not None and connection.range_number >= len(profile.ranges):
            mend = "Choose one of its ranges, or let the meter choose."
            found = f"range {connection.range_number + 1}"
            raise InputRefused((Fault("range", found, f"one of {len(profile.ranges)} ranges", mend),))
        return profile

    def _source_profile(self, connection: Connection) -> SourceProfile:
        profile = self.profiles().sources.get(connection.profile)
        if profile is None:
            raise InputRefused((_no_profile("source", connection.profile),))
        return profile

    def _close(self, role: Role) -> None:
        if role == "source":
            self.source.close()
        elif role in self._open:
            self._open.pop(role).close()

    def _remember(self, connections: Mapping[Role, Connection], by: str) -> None:
        with self._lock:
            self._known = dict(connections)
        if not self.ports.practice:
            self._records.write_setting(setting_name(self.ports.machine), as_text(connections), by)


def named(meter: Meter) -> str:
    """How a meter stands in the record: its profile, and what it said of itself."""
    said = meter.identification
    return f"{meter.profile.name} ({said})" if said else meter.profile.name


def _none(role: Role) -> Fault:
    mend = "Connect one on the page of the meters, or type what it shows."
    return Fault(WORDS[role], "none", "one that is connected", mend)


def _no_profile(role: Role, name: str) -> Fault:
    found = repr(name[:80]) if name else "no profile"
    return Fault("profile", found, f"a profile of a {WORDS[role]}", "Choose one of the list.")
