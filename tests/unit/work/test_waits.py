"""Waits between tries: they grow, they end, and many tries at once are no way around them."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.work import waits
from ohmsworth.work.waits import Counted, Waits

BEGUN = datetime(2026, 11, 26, tzinfo=UTC)
ONE = [Counted(("from", "a"), 60.0)]


def test_many_tries_at_once_count_like_many_after_each_other() -> None:
    counts = Waits(lambda: BEGUN)
    with ThreadPoolExecutor(16) as pool:
        left = list(pool.map(lambda _: counts.take(ONE), range(200)))
    assert left.count(0.0) == waits.FREE


def test_a_success_forgets_what_came_before() -> None:
    counts = Waits(lambda: BEGUN)
    for _ in range(10):
        assert counts.take(ONE) == 0.0
        counts.forget(ONE)


@given(st.lists(st.floats(0.0, 120.0), min_size=1, max_size=60))
def test_a_wait_ends_however_often_it_is_tried(steps: list[float]) -> None:
    now = BEGUN
    counts = Waits(lambda: now)
    for step in steps:
        counts.take(ONE)
        now += timedelta(seconds=step)
    left = counts.take(ONE)
    assert 0.0 <= left <= 60.0
    now += timedelta(seconds=left)
    assert not left or counts.take(ONE) == 0.0


def test_a_count_is_forgotten_after_a_while() -> None:
    now = BEGUN
    counts = Waits(lambda: now)
    for _ in range(20):
        counts.take(ONE)
        now += timedelta(seconds=60)
    now += waits.FORGOTTEN
    now += timedelta(seconds=1)
    for _ in range(waits.FREE):
        assert counts.take(ONE) == 0.0


def test_memory_is_bounded() -> None:
    counts = Waits(lambda: BEGUN)
    for number in range(waits.MOST + 100):
        counts.take([Counted(("from", str(number)), 60.0)])
    assert len(counts._counts) == waits.MOST
