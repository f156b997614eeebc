"""What the bench needs of whatever opens instruments: the port of the pages to meters and sources."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import NoReturn

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.entry import Sign
from ohmsworth.work.connections import Connection, Role
from ohmsworth.work.current_source import CurrentSource
from ohmsworth.work.instruments import Meter, MeterProfile, Profiles, SourceProfile
from ohmsworth.work.source_limits import SourceLimits


def _nothing(*_: object) -> None:
    """On a real bench it is the person who connects and turns."""


def _none_on(_: str) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class InstrumentPorts:
    """What opens instruments.

    Parameters
    ----------
    profiles
        Every profile, and what is wrong with the shop's own file, which is not used then.
    serial_ports
        Name and description of this computer's.
    open_meter
        Opens a meter by profile, address as typed, and range.
    open_source
        Opens a source, off, by profile, address and limits.
    switch_all_off
        Switches every source off, and says whether that was confirmed.
    machine
        Name of the computer that the instruments are connected to.
    connect
        Told the specimen before each reading; nothing happens at a bench that exists.
    turn
        Told when a person has turned the leads.
    at_start
        What is connected from the start, and is not remembered.
    practice
        Whether the instruments are invented.
    close
        Ends what was started with them.
    """

    profiles: Callable[[], tuple[Profiles, tuple[Fault, ...]]]
    serial_ports: Callable[[], tuple[tuple[str, str], ...]]
    open_meter: Callable[[MeterProfile, str, int | None], Meter]
    open_source: Callable[[SourceProfile, str, SourceLimits], CurrentSource]
    switch_all_off: Callable[[str], bool] = _none_on
    machine: str = "this machine"
    connect: Callable[[str], None] = _nothing
    turn: Callable[[Sign], None] = _nothing
    at_start: Mapping[Role, Connection] = field(default_factory=dict)
    practice: bool = False
    close: Callable[[], None] = _nothing


def _refused(*_: object) -> NoReturn:
    mend = "Type what the meters show; or start the bench with 'ohmsworth bench'."
    raise InputRefused(
        (Fault("instruments", "a bench that was started without them", "one with them", mend),)
    )


def _no_profiles() -> tuple[Profiles, tuple[Fault, ...]]:
    return Profiles({}, {}), ()


#: For a bench that asks no meters.
NO_INSTRUMENTS = InstrumentPorts(_no_profiles, lambda: (), _refused, _refused)
