"""The process that draws: another one, started again when it dies, ended when it hangs, done without where there is none."""

import math
import multiprocessing
import os
import signal
import time
from collections.abc import Iterator

import pytest

from ohmsworth.adapters.render import worker as module
from ohmsworth.adapters.render.worker import DrawingWorker, apart, start_worker, stop_worker
from ohmsworth.errors import OutputFault


@pytest.fixture(scope="module")
def worker() -> Iterator[DrawingWorker]:
    started = DrawingWorker()
    yield started
    started.close()


def test_it_does_what_it_is_given_in_another_process(worker: DrawingWorker) -> None:
    there = worker.run(os.getpid)
    assert there != os.getpid()
    assert worker.run(os.getpid) == there
    assert worker.run(math.hypot, 3.0, 4.0) == 5.0


def test_what_fails_fails_in_its_own_words(worker: DrawingWorker) -> None:
    with pytest.raises(ValueError, match="math domain error"):
        worker.run(math.sqrt, -1.0)
    assert worker.run(math.sqrt, 4.0) == 2.0


def test_it_is_started_again_when_it_has_died(worker: DrawingWorker) -> None:
    before = worker.run(os.getpid)
    os.kill(before, signal.SIGKILL)
    after = worker.run(os.getpid)
    assert after not in (before, os.getpid())


def test_what_it_dies_over_twice_is_not_done_on_the_spot(worker: DrawingWorker) -> None:
    with pytest.raises(OutputFault, match="died over it twice"):
        worker.run(os._exit, 3)
    assert worker.run(math.sqrt, 9.0) == 3.0


def test_nobody_waits_for_ever(worker: DrawingWorker) -> None:
    hanging = worker.run(os.getpid)
    patience, worker.patience = worker.patience, 0.2
    try:
        with pytest.raises(OutputFault, match="takes too long"):
            worker.run(time.sleep, 60)
    finally:
        worker.patience = patience
    assert worker.run(os.getpid) != hanging


def test_nobody_waits_for_ever_for_others_either(worker: DrawingWorker) -> None:
    patience, worker.patience = worker.patience, 0.05
    try:
        with worker._turn, pytest.raises(OutputFault, match="Too much is being drawn"):
            worker.run(math.sqrt, 4.0)
    finally:
        worker.patience = patience


def test_where_no_process_can_be_had_it_is_done_on_the_spot(monkeypatch: pytest.MonkeyPatch) -> None:
    class Nowhere:
        def Pipe(self) -> None:
            raise OSError("too many open files")

    monkeypatch.setattr(multiprocessing, "get_context", lambda _: Nowhere())
    assert DrawingWorker().run(os.getpid) == os.getpid()


def test_where_the_process_cannot_even_begin_it_is_done_on_the_spot(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "serve", os._exit)  # refuses what it is given, and ends
    assert DrawingWorker().run(os.getpid) == os.getpid()


def test_when_closed_it_is_done_on_the_spot() -> None:
    closed = DrawingWorker()
    closed.close()
    assert closed.run(os.getpid) == os.getpid()


def test_it_is_used_from_its_start_to_its_stop() -> None:
    assert apart(os.getpid) == os.getpid()
    start_worker(time.monotonic)
    try:
        assert apart(os.getpid) != os.getpid()
        start_worker(time.monotonic)  # once is enough
        assert len(module._kept) == 1
    finally:
        stop_worker()
    assert apart(os.getpid) == os.getpid()
