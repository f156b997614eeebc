"""Opens a current source with everything that holds it: limits, lease and guard."""

from __future__ import annotations

import time
from datetime import UTC, datetime

from ohmsworth.adapters.instruments.guard import GUARD, Guard
from ohmsworth.adapters.instruments.sources import open_device
from ohmsworth.work.current_source import LEASE_SECONDS, CurrentSource
from ohmsworth.work.instruments import SourceProfile
from ohmsworth.work.source_limits import SourceLimits, hold_to_profile


class GuardedSource(CurrentSource):
    """A current source that its guard forgets when it is closed and known to be off."""

    guard: Guard = GUARD

    def close(self) -> None:
        """Switch off and let go; raises MayStillBeOn, and then the guard goes on trying."""
        self.switch_off("the source was closed")
        self.guard.forget(self)
        self._device.close()


def open_source(
    profile: SourceProfile,
    address: str,
    limits: SourceLimits | None,
    *,
    lease_seconds: float = LEASE_SECONDS,
    guard: Guard = GUARD,
    library: str = "@py",
) -> GuardedSource:
    """Open the source at an address as typed; it is off, and stays so until `switch_on`.

    Parameters
    ----------
    profile
        How it is set.
    address
        Host and port, a VISA name, or a serial port.
    limits
        The most that may be set; None is refused before anything is opened.
    lease_seconds
        How long the current stays on without `renew`.
    guard, library
        Who watches, and the VISA library.

    Raises
    ------
    InputRefused
        When the address is none.
    SourceRefused
        Without limits, or with some that the source cannot keep.
    InstrumentFault
        When nobody, or another instrument, answers; MayStillBeOn when its output does not go off.
    """
    hold_to_profile(limits, profile)
    device = open_device(profile, address, library=library)
    source = GuardedSource(
        device,
        limits,
        clock=time.monotonic,
        now=lambda: datetime.now(UTC),
        sleep=time.sleep,
        lease_seconds=lease_seconds,
    )
    source.guard = guard
    guard.watch(source)
    return source
