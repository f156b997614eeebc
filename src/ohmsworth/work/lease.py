"""Leave to go on, given for some seconds: whoever holds it renews it, or what it guards ends."""

from __future__ import annotations

import threading
from collections.abc import Callable


class Lease:
    """A lease of `seconds`; once it has run out it stays so until it is begun anew. Safe between threads.

    Parameters
    ----------
    seconds
        How long a renewal holds.
    clock
        A clock that only goes forward, in seconds.
    """

    def __init__(self, seconds: float, clock: Callable[[], float]) -> None:
        self.seconds = seconds
        self._clock = clock
        self._ends: float | None = None
        # A signal may come while its own thread holds it.
        self._lock = threading.RLock()

    def begin(self) -> None:
        """Begin, or begin anew."""
        with self._lock:
            self._ends = self._clock() + self.seconds

    def renew(self) -> bool:
        """Hold on for `seconds` from now; False, and nothing is renewed, when it had run out before."""
        with self._lock:
            now = self._clock()
            if self._ends is None or now >= self._ends:
                return False
            self._ends = now + self.seconds
            return True

    def end(self) -> None:
        """Give it back."""
        with self._lock:
            self._ends = None

    def left(self) -> float:
        """Seconds left; 0 when it has run out or was never begun."""
        with self._lock:
            return 0.0 if self._ends is None else max(0.0, self._ends - self._clock())
