"""A level check or a take under way: in a thread of its own, watched from a page, silent as soon as nobody watches."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

from ohmsworth.errors import Fault, InputRefused, OhmsworthError
from ohmsworth.work.just_recorded import TakeTold
from ohmsworth.work.lease import Lease
from ohmsworth.work.level_check import LevelVerdict, OnLevel
from ohmsworth.work.one_at_a_time import OneAtATime

#: Seconds after which nobody is taken to be there any more. A page asks far more often; a hidden one, once a second.
LEASE_SECONDS = 8.0
#: What a run does: told of each level as it is heard, it says in the end whether that was good.
CarryOut = Callable[[OnLevel], LevelVerdict | TakeTold]


class _Ended(Exception):
    """Somebody stopped it, or nobody is there."""


@dataclass(frozen=True, slots=True)
class SoundState:
    """What a page shows.

    Parameters
    ----------
    key
        By which the page that began it holds on to it.
    what
        What sounds: "level check", or the name of the take's file.
    seconds, of
        How much of it has been recorded, and how long it is.
    peaks, highest
        Of each input, full scale being 1: just now, and of all so far.
    told
        What came of it; None while it lasts, and where it was broken off.
    over
        Whether it has ended: nothing sounds any more.
    why
        Why it ended before its end; "" where it did not.
    faults
        What went wrong.
    """

    key: str
    what: str
    of: float
    seconds: float = 0.0
    peaks: tuple[float, float] = (0.0, 0.0)
    highest: tuple[float, float] = (0.0, 0.0)
    told: LevelVerdict | TakeTold | None = None
    over: bool = False
    why: str = ""
    faults: tuple[Fault, ...] = ()

    @property
    def sounds(self) -> bool:
        """Whether tones are playing."""
        return not self.over and self.seconds < self.of


class SoundRun:
    """One sound being played and recorded.

    Parameters
    ----------
    begun
        What a page shows at first.
    carry_out
        Plays it and records; every level that it tells is a moment at which it can be ended.
    lease
        Renewed by whoever watches; begun here.
    """

    def __init__(self, begun: SoundState, carry_out: CarryOut, lease: Lease | None = None) -> None:
        self._carry_out, self._state = carry_out, begun
        self._lease = lease or Lease(LEASE_SECONDS, time.monotonic)
        self._lock = threading.Lock()
        self._stopped = False
        self._thread = threading.Thread(target=self._run, name="tones", daemon=True)

    @property
    def key(self) -> str:
        """By which the page that began it holds on to it."""
        return self.state().key

    @property
    def over(self) -> bool:
        """Whether nothing sounds any more."""
        return self.state().over

    @property
    def busy(self) -> Fault:
        """What is told to somebody who wants another sound meanwhile."""
        mend = "Wait until it has ended, or stop it there."
        return Fault("audio interface", "tones are playing", "silence", mend)

    def start(self) -> None:
        """Begin."""
        self._lease.begin()
        self._thread.start()

    def state(self) -> SoundState:
        """What a page shows."""
        with self._lock:
            return self._state

    def watch(self, key: str) -> SoundState:
        """The same for a page that is there; it goes on only while the page that has its `key` asks."""
        if key == self._state.key:
            self._lease.renew()
        return self.state()

    def stop(self) -> None:
        """End it, from any thread; the output is faded."""
        self._stopped = True

    def join(self, seconds: float) -> None:
        """Wait for its end."""
        self._thread.join(seconds)

    def _say(self, **news: object) -> None:
        with self._lock:
            self._state = replace(self._state, **news)  # type: ignore[arg-type]

    def _on_level(self, seconds: float, peaks: tuple[float, float]) -> None:
        if self._stopped:
            raise _Ended("Stopped. Nothing of it was kept.")
        if not self._lease.left():
            raise _Ended("Stopped, for the page that had begun it was gone. Nothing of it was kept.")
        before = self._state.highest
        highest = (max(before[0], peaks[0]), max(before[1], peaks[1]))
        self._say(seconds=seconds, peaks=peaks, highest=highest)

    def _run(self) -> None:
        told: LevelVerdict | TakeTold | None = None
        why = ""
        faults: tuple[Fault, ...] = ()
        try:
            told = self._carry_out(self._on_level)
        except _Ended as ended:
            why = str(ended)
        except InputRefused as refused:
            faults = refused.faults
        except OhmsworthError as error:
            why = str(error)
        except Exception as error:  # nobody would see it in this thread; the page says it
            why = f"The program itself failed ({type(error).__name__}). Nothing sounds any more."
        self._say(told=told, over=True, why=why, faults=faults)


class SoundRuns(OneAtATime[SoundRun]):
    """The one sound that a bench plays at a time; safe between threads."""

    def stop(self) -> None:
        """End what is under way, and wait until it is silent."""
        run = self.last()
        if run is not None:
            run.stop()
            run.join(5.0)
