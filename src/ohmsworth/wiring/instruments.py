"""Adapters of meters and current sources."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from ohmsworth.adapters.simulated import PracticeBench
    from ohmsworth.work.current_source import CurrentSource
    from ohmsworth.work.instruments import Meter, MeterProfile, Profiles, SourceProfile
    from ohmsworth.work.source_limits import SourceLimits


def load_profiles(path: Path | None = None) -> Profiles:
    """How instruments are spoken to: the profiles that come with the program, and those of the shop's own file."""
    from ohmsworth.adapters.files import load_profiles as load

    return load(path)


def serial_ports() -> tuple[tuple[str, str], ...]:
    """Serial ports of this computer, name and description; nothing is opened."""
    from ohmsworth.adapters.instruments import serial_ports as find

    return find()


def open_meter(profile: MeterProfile, address: str, range_number: int | None = None) -> Meter:
    """Open the meter at an address as a person typed it."""
    from ohmsworth.adapters.instruments import open_meter as opened

    return opened(profile, address, range_number=range_number)


def open_source(
    profile: SourceProfile, address: str, limits: SourceLimits | None, lease_seconds: float | None = None
) -> CurrentSource:
    """Open a current source, off, within stated limits; it is watched from now on."""
    from ohmsworth.adapters.instruments import open_source as opened
    from ohmsworth.work.current_source import LEASE_SECONDS

    lease = LEASE_SECONDS if lease_seconds is None else lease_seconds
    return opened(profile, address, limits, lease_seconds=lease)


def guard_current() -> None:
    """Have every source that is opened later switched off when this program is ended from outside.

    Called once in the main thread, before a server installs handlers of signals of its own.
    """
    from ohmsworth.adapters.instruments import GUARD

    GUARD.catch_signals()


def switch_off_all(why: str) -> bool:
    """Switch every source off, as when a server stops; False when one could not be confirmed."""
    from ohmsworth.adapters.instruments import GUARD

    return GUARD.switch_all_off(why)


def practice_bench(seed: int) -> PracticeBench:
    """Start instruments for practice on this computer; they end when the bench is closed."""
    import time

    from ohmsworth.adapters.simulated import PracticeBench, ScpiBench

    return PracticeBench(ScpiBench(seed, time.monotonic))
