"""A current source held to stated limits: ramped, leased, and off when anything is wrong.

Whatever fails while the current is on switches it off. Whoever switches it on holds a lease and renews it; `check`, called
again and again by a watcher, switches it off when nobody has. When "off" cannot be confirmed, the state says so until it can.
"""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from ohmsworth.errors import Fault
from ohmsworth.units import show_stated
from ohmsworth.work.instruments import (
    InstrumentFault,
    MayStillBeOn,
    SourceDevice,
    SourceOff,
    SourceProfile,
    SourceRefused,
)
from ohmsworth.work.lease import Lease
from ohmsworth.work.source_limits import SourceLimits, hold_to_profile

#: Seconds without a sign of the page after which the current goes off.
LEASE_SECONDS = 10.0
_STEPS = 5
_STEP_WAIT = 0.02
_FIRST_STEP = "off since it was opened"
_NOT_RENEWED = "nobody renewed it: the page that had switched it on was closed or lost"
Output = Literal["off", "on", "may be on"]


@dataclass(frozen=True, slots=True)
class SourceState:
    """What a page shows.

    Parameters
    ----------
    output
        "may be on" when nobody could confirm that it is off.
    current
        Ampere, as last set; 0 when off.
    since
        When the output went into this state.
    lease_left
        Seconds until it goes off by itself; 0 when off.
    why
        Why it is off, or what to do when it may be on.
    """

    output: Output
    current: float
    since: datetime | None
    lease_left: float
    why: str


class CurrentSource:
    """The source with its limits; safe between threads.

    Parameters
    ----------
    device
        The source itself, off.
    limits
        The most that may be set; None is refused.
    clock, now, sleep
        A clock that only goes forward (seconds), the time of day, and how to wait.
    lease_seconds
        How long the current stays on without `renew`.
    steps, step_wait
        In how many steps a new level is reached, and the seconds between two.

    Raises
    ------
    SourceRefused
        Without limits, or with some that the source cannot keep.
    """

    def __init__(
        self,
        device: SourceDevice,
        limits: SourceLimits | None,
        *,
        clock: Callable[[], float],
        now: Callable[[], datetime],
        sleep: Callable[[float], None],
        lease_seconds: float = LEASE_SECONDS,
        steps: int = _STEPS,
        step_wait: float = _STEP_WAIT,
    ) -> None:
        self.limits = hold_to_profile(limits, device.profile)
        self._device = device
        self._now, self._sleep = now, sleep
        self._steps, self._step_wait = steps, step_wait
        self._lease = Lease(lease_seconds, clock)
        # A signal may come while its own thread holds it.
        self._lock = threading.RLock()
        self._setting = threading.Lock()
        self._stopped = False  # a plain word: the lock of an Event would stop a signal for ever
        self._output: Output = "off"
        self._current = 0.0
        self._since: datetime | None = None
        self._why = _FIRST_STEP

    @property
    def profile(self) -> SourceProfile:
        """How the source is set."""
        return self._device.profile

    def state(self) -> SourceState:
        """What a page shows; never waits for the source."""
        left = self._lease.left() if self._output == "on" else 0.0
        return SourceState(self._output, self._current, self._since, left, self._why)

    def switch_on(self, current: float) -> None:
        """Limit the voltage, switch the output on at zero, and go up to `current` (ampere) in steps.

        Raises
        ------
        SourceRefused
            When the current is beyond the limit; nothing was switched.
        InstrumentFault
            When the source does not follow; it was switched off. MayStillBeOn when not even that could be confirmed.
        """
        self._hold_to_limits(current)
        with self._one_at_a_time(), self._unless_on(), self._off_on_error():
            with self._lock:
                self._stopped = False
                self._lease.begin()
                self._device.set_current(0.0)
                if self.profile.open_circuit_voltage is None:
                    self._device.set_compliance(self.limits.compliance)
                self._enter("may be on", 0.0, "the output is being switched on")
                self._device.switch_on()
                self._enter("on", 0.0, "")
            self._ramp(current)

    def set_current(self, current: float) -> None:
        """Go to another level (ampere, negative to reverse) in steps; raises like `switch_on`, and SourceOff when it is off."""
        self._hold_to_limits(current)
        with self._one_at_a_time(), self._off_on_error():
            self.require_on()
            self._ramp(current)

    def renew(self) -> bool:
        """Say that the page is still there; False when the current is off, or the lease had run out."""
        return self._output == "on" and self._lease.renew()

    def check(self) -> None:
        """Switch off when the lease has run out, and try again while "off" is not confirmed; called by a watcher."""
        # Looked at under the lock: its owner may be in the middle of switching it off, or on.
        with self._lock:
            if self._output == "may be on":
                self.switch_off("switched off after some tries")
            elif self._output == "on" and self._lease.left() <= 0:
                self.switch_off(_NOT_RENEWED)

    def require_on(self) -> None:
        """Raise SourceOff unless the current is on and its lease holds."""
        if self._output != "on" or self._stopped or self._lease.left() <= 0:
            mend = "Nothing was taken down. Look why, then switch it on again."
            found = f"the current off ({self._why})" if self._why else "the current off"
            raise SourceOff(Fault(self.profile.name, found, "the current on", mend))

    def switch_off(self, why: str = "switched off by the person") -> None:
        """Switch off at once, from any thread; returns when the source says that it is off.

        Raises
        ------
        MayStillBeOn
            When it does not say so; the state keeps saying that too.
        """
        self._stopped = True  # ends a ramp between two of its steps
        with self._lock:
            self._lease.end()
            try:
                self._device.switch_off()
            except MayStillBeOn as error:
                self._enter("may be on", self._current, f"{error.fault.mend} ({error.fault.found})")
                raise
            self._enter("off", 0.0, why)

    def close(self) -> None:
        """Switch off and let go of the source; raises MayStillBeOn."""
        try:
            self.switch_off("the source was closed")
        finally:
            self._device.close()

    def _ramp(self, target: float) -> None:
        start = self._current
        for step in range(1, self._steps + 1):
            if step > 1:
                self._sleep(self._step_wait)
            level = target if step == self._steps else start + (target - start) * step / self._steps
            with self._lock:
                self.require_on()
                self._device.set_current(level)
                self._current = level

    def _hold_to_limits(self, current: float) -> None:
        if not abs(current) <= self.limits.current * (1 + 1e-9):
            found = show_stated(current, "A")
            expected = f"at most {show_stated(self.limits.current, 'A')}, as stated"
            mend = "Set less, or state another limit with its reason."
            raise SourceRefused(Fault(self.profile.name, found, expected, mend))
        if current < 0 and not self.profile.reversible:
            mend = "Turn the leads, or a switch that reverses them, by hand."
            expected = "a positive one, for this source does not reverse"
            raise SourceRefused(Fault(self.profile.name, "a negative current", expected, mend))

    @contextlib.contextmanager
    def _unless_on(self) -> Iterator[None]:
        if self._output != "off":
            mend = "Switch it off first." if self._output == "on" else self._why
            raise SourceRefused(
                Fault(self.profile.name, f"an output that {_is(self._output)}", "one that is off", mend)
            )
        yield

    def _enter(self, output: Output, current: float, why: str) -> None:
        if output == self._output == "off":
            return  # why it went off first is what counts
        if output != self._output:
            self._since = self._now()
        self._output, self._current, self._why = output, current, why

    @contextlib.contextmanager
    def _one_at_a_time(self) -> Iterator[None]:
        """Refuse a second change beside one that is under way."""
        if not self._setting.acquire(blocking=False):
            mend = "Wait a moment and try again."
            raise SourceRefused(Fault(self.profile.name, "a level being set", "one change at a time", mend))
        try:
            yield
        finally:
            self._setting.release()

    @contextlib.contextmanager
    def _off_on_error(self) -> Iterator[None]:
        """Switch off when what is inside fails; a failure to do that takes the place of the first one."""
        try:
            yield
        except SourceOff:
            if not self._stopped:
                self.switch_off(_NOT_RENEWED)
            raise
        except InstrumentFault as error:
            self.switch_off(f"{error.fault.found}, where {error.fault.expected} was expected")
            raise
        except BaseException:
            self.switch_off("the program was stopped while the level was being set")
            raise


def _is(output: Output) -> str:
    return "may still be on" if output == "may be on" else f"is {output}"
