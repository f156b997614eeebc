"""How long somebody who got it wrong waits before the next try: longer each time, and never for ever."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from threading import Lock

#: Tries without a wait; anybody mistypes.
FREE = 3
#: A count is forgotten when nobody has tried for so long.
FORGOTTEN = timedelta(hours=1)
#: Counts kept at once.
MOST = 20_000


@dataclass(frozen=True, slots=True)
class Counted:
    """What tries are counted by, such as an address, and the longest wait for it (seconds)."""

    key: tuple[str, ...]
    longest: float


@dataclass(frozen=True, slots=True)
class _Count:
    tries: int
    until: datetime
    last: datetime


class Waits:
    """Counts tries; safe between threads."""

    def __init__(self, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._counts: OrderedDict[tuple[str, ...], _Count] = OrderedDict()
        self._lock = Lock()

    def take(self, counted: Sequence[Counted]) -> float:
        """Take a try and return 0, or return the seconds that are still to be waited.

        A try counts before it is known to fail, so that many at once are no way around the wait. One that comes too early does
        not count: whoever waits is not thrown back by somebody who does not.
        """
        now = self._clock()
        with self._lock:
            left = max((self._left(one, now) for one in counted), default=0.0)
            if left > 0:
                return left
            for one in counted:
                self._count(one, now)
        return 0.0

    def forget(self, counted: Sequence[Counted]) -> None:
        """The try succeeded."""
        with self._lock:
            for one in counted:
                self._counts.pop(one.key, None)

    def _left(self, one: Counted, now: datetime) -> float:
        count = self._counts.get(one.key)
        if count is None or now - count.last > FORGOTTEN:
            return 0.0
        return (count.until - now).total_seconds()

    def _count(self, one: Counted, now: datetime) -> None:
        before = self._counts.pop(one.key, None)
        tries = 1 if before is None or now - before.last > FORGOTTEN else before.tries + 1
        wait = 0.0 if tries < FREE else min(2.0 ** min(tries - FREE, 30), one.longest)
        self._counts[one.key] = _Count(tries, now + timedelta(seconds=wait), now)
        while len(self._counts) > MOST:
            self._counts.popitem(last=False)
