"""Watches over sources that are on: lease, end of the program, signals.

One guard a process. Its thread starts with the first source. What it cannot do: a killed process (SIGKILL), a crash of the
computer, and a cable that falls out leave the current as it is; the source's own limits hold then.
"""

from __future__ import annotations

import atexit
import contextlib
import os
import signal
import sys
import threading
from collections.abc import Callable
from types import FrameType
from typing import Any, Protocol

#: Seconds between two looks at the leases.
INTERVAL = 0.25
#: What ends a program from outside, where the system has it.
SIGNALS = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGINT", "SIGHUP", "SIGBREAK") if hasattr(signal, name)
)


class Watched(Protocol):
    """What is watched."""

    def check(self) -> None:
        """Switch off when the lease has run out."""

    def switch_off(self, why: str) -> None:
        """Switch off."""


def say_loudly(text: str) -> None:
    """Write to standard error, where nobody may be left to listen."""
    with contextlib.suppress(Exception):
        sys.stderr.write(f"\nohmsworth: {text}\n")
        sys.stderr.flush()


class Guard:
    """Watches sources; see the module.

    Parameters
    ----------
    say
        Tells a person what could not be done.
    interval
        Seconds between two looks.
    """

    def __init__(self, say: Callable[[str], None] = say_loudly, interval: float = INTERVAL) -> None:
        self._say, self._interval = say, interval
        self._sources: tuple[Watched, ...] = ()  # replaced whole: a signal may read it at any time
        self._said: set[int] = set()
        self._thread: threading.Thread | None = None
        self._ended = threading.Event()
        self._before: dict[int, Any] = {}

    def watch(self, source: Watched) -> None:
        """Watch a source from now on."""
        self._sources = (*self._sources, source)
        # The last to be registered runs first: before the libraries close the lines.
        atexit.unregister(self._at_exit)
        atexit.register(self._at_exit)
        self.catch_signals()
        if self._thread is None:
            self._thread = threading.Thread(target=self._look, name="current source watcher", daemon=True)
            self._thread.start()

    def forget(self, source: Watched) -> None:
        """Watch it no more."""
        self._sources = tuple(each for each in self._sources if each is not source)
        self._said.discard(id(source))

    def catch_signals(self) -> bool:
        """Switch off when the program is ended from outside; False outside of the main thread, where Python cannot."""
        if threading.current_thread() is not threading.main_thread():
            return False
        for number in SIGNALS:
            if number not in self._before and (before := signal.getsignal(number)) is not None:
                self._before[number] = before
                signal.signal(number, self._on_signal)
        return True

    def switch_all_off(self, why: str) -> bool:
        """Switch every source off; False, and said loudly, when one could not be confirmed."""
        done = True
        for source in self._sources:
            try:
                source.switch_off(why)
            except Exception as error:  # the next source must be switched off too
                done = False
                self._say(str(error))
        return done

    def stop(self) -> None:
        """End the thread and give the signals back; for tests."""
        self._ended.set()
        if self._thread is not None:
            self._thread.join(timeout=10)
        atexit.unregister(self._at_exit)
        for number, before in self._before.items():
            signal.signal(number, before)
        self._before.clear()

    def _look(self) -> None:
        while not self._ended.wait(self._interval):
            for source in self._sources:
                try:
                    source.check()
                    self._said.discard(id(source))
                except Exception as error:  # the watcher must outlive whatever happens to one source
                    if id(source) not in self._said:
                        self._said.add(id(source))
                        self._say(str(error))

    def _at_exit(self) -> None:
        self.switch_all_off("the program ended")

    def _on_signal(self, number: int, frame: FrameType | None) -> None:
        self.switch_all_off("the program was ended from outside")
        before = self._before.get(number, signal.SIG_DFL)
        if callable(before):
            before(number, frame)
        elif before == signal.SIG_DFL:
            signal.signal(number, signal.SIG_DFL)
            os.kill(os.getpid(), number)


#: That of this process. Nothing runs before its first source.
GUARD = Guard()
