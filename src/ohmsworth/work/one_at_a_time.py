"""What a bench does one of at a time, in a thread of its own: the one under way, or the last one."""

from __future__ import annotations

import threading
from typing import Generic, Protocol, TypeVar

from ohmsworth.errors import Fault, InputRefused


class UnderWay(Protocol):
    """Something that is begun once and ends by itself or when it is told to."""

    @property
    def key(self) -> str:
        """By which whoever began it knows it again."""

    @property
    def over(self) -> bool:
        """Whether it has ended."""

    @property
    def busy(self) -> Fault:
        """What is told to somebody who wants to begin another one meanwhile."""

    def start(self) -> None:
        """Begin."""


Run = TypeVar("Run", bound=UnderWay)


class OneAtATime(Generic[Run]):
    """Begins one at a time; safe between threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._last: Run | None = None

    def begin(self, run: Run) -> Run:
        """Begin, or give back the run that has this key already.

        Raises
        ------
        InputRefused
            While another one is under way.
        """
        with self._lock:
            last = self._last
            if last is not None and last.key == run.key:
                return last
            if last is not None and not last.over:
                raise InputRefused((last.busy,))
            self._last = run
            run.start()
        return run

    def last(self) -> Run | None:
        """The run under way, or the last one."""
        return self._last

    def forget(self) -> None:
        """What came of the last one is of no use any more; one that is under way stays known."""
        with self._lock:
            if self._last is not None and self._last.over:
                self._last = None
