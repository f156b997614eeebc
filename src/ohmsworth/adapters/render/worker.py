"""A process of its own that draws, so that whoever serves pages is not held up by it.

The drawing engine keeps the interpreter to itself for as long as it draws. Where :func:`start_worker` was called, :func:`apart`
has things done in another process that is kept warm; everywhere else, and where no such process can be had, it does
them on the spot.
"""

from __future__ import annotations

import atexit
import contextlib
import multiprocessing
import signal
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import Any, ParamSpec, TypeVar, cast

from ohmsworth.errors import OutputFault

P = ParamSpec("P")
T = TypeVar("T")

#: Nobody waits longer than this (second) for a drawing, nor for those that were asked for before it.
PATIENCE = 30.0
#: A process that does not end when asked to is ended after this (second).
GRACE = 2.0


class DrawingWorker:
    """One process that does one thing after another; it is started again when it has died."""

    def __init__(self, patience: float = PATIENCE) -> None:
        self.patience = patience
        self._turn = threading.Lock()
        self._process: Any = None
        self._line: Connection | None = None
        #: Closed, or no process can be had here.
        self._given_up = False

    def run(self, task: Callable[P, T], *given: P.args, **named: P.kwargs) -> T:
        """What `task`, a function of a module, gives; done on the spot where no other process can be had.

        Raises
        ------
        OutputFault
            When it takes longer than anybody waits, or the process dies over it twice.
        """
        if not self._turn.acquire(timeout=self.patience):
            raise OutputFault("Too much is being drawn just now. Try again in a minute.")
        try:
            answer = self._asked((task, given, named))
        finally:
            self._turn.release()
        if answer is not None and answer[0]:
            return cast(T, answer[1])
        return task(*given, **named)  # where it fails too, it fails in its own words

    def close(self) -> None:
        """End the process; what is asked for afterwards is done on the spot."""
        self._given_up = True
        if self._turn.acquire(timeout=self.patience):
            try:
                self._drop()
            finally:
                self._turn.release()

    def _asked(self, message: object) -> tuple[bool, object] | None:
        """The answer of the process: whether it could, and what came of it; None where no process can be had."""
        for _ in range(2):
            line = self._ready()
            if line is None:
                return None
            try:
                line.send(message)
                if line.poll(self.patience):
                    return cast("tuple[bool, object]", line.recv())
            except (EOFError, ConnectionError):
                self._drop()
                continue
            self._drop()
            raise OutputFault("The drawing takes too long. Try again, or ask for less at a time.")
        raise OutputFault("This cannot be drawn: what draws has died over it twice. Please report it.")

    def _ready(self) -> Connection | None:
        if self._line is not None and self._process.is_alive():
            return self._line
        self._drop()
        if not self._given_up:
            self._start()
            self._given_up = self._line is None
        return self._line

    def _start(self) -> None:
        """Start the process and hear from it once: it may well die of where it was started from."""
        context = multiprocessing.get_context("spawn")
        with contextlib.suppress(OSError, RuntimeError, EOFError):
            here, there = context.Pipe()
            process = context.Process(target=serve, args=(there,), name="drawing", daemon=True)
            process.start()
            there.close()
            self._process = process
            if here.poll(self.patience) and here.recv():
                self._line = here
                return
        self._drop()

    def _drop(self) -> None:
        if self._line is not None:
            self._line.close()  # it ends by itself when nobody is left to ask
        if self._process is not None:
            self._process.join(GRACE if self._given_up else 0)
            if self._process.is_alive():
                self._process.kill()
                self._process.join(GRACE)
        self._process = self._line = None


def serve(line: Connection) -> None:
    """What the process does: one thing after another, until nobody is left to ask for it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever started it is told, and ends it
    with contextlib.suppress(EOFError, OSError):
        line.send(True)
        while True:
            task, given, named = line.recv()
            line.send(_tried(task, given, named))


def _tried(
    task: Callable[..., object], given: tuple[object, ...], named: dict[str, object]
) -> tuple[bool, object]:
    try:
        return True, task(*given, **named)
    except Exception as error:
        return False, type(error).__name__


_kept: list[DrawingWorker] = []


def start_worker(first: Callable[[], object]) -> None:
    """Have everything that takes long done in another process from now on, until the program ends.

    `first` is done there at once, to load what will be needed; nobody waits for it.
    """
    if not _kept:
        worker = DrawingWorker()
        _kept.append(worker)
        atexit.register(stop_worker)
        threading.Thread(target=_warmed, args=(worker, first), name="drawing is warmed", daemon=True).start()


def _warmed(worker: DrawingWorker, first: Callable[[], object]) -> None:
    with contextlib.suppress(Exception):  # what is wrong is told to whoever asks for a drawing
        worker.run(first)


def stop_worker() -> None:
    """Draw on the spot again, and end the other process."""
    while _kept:
        _kept.pop().close()


def apart(task: Callable[P, T], *given: P.args, **named: P.kwargs) -> T:
    """What `task`, a function of a module, gives: done in the other process where one was started."""
    return _kept[0].run(task, *given, **named) if _kept else task(*given, **named)
