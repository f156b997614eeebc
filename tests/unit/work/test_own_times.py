"""A study whose times state no zone is read on in the shop's own time, and stays in order."""

import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import pytest
from tests.unit.work.bench_shop import BenchShop
from tests.unit.work.cards.shops import START

from ohmsworth.readings.entry import Entry
from ohmsworth.work.own_times import in_own_way, time_of_file, without_zone, zone_assumed
from ohmsworth.work.records import NewLine
from ohmsworth.work.study_log import TAKEN


@pytest.fixture
def in_the_east(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Let this machine's clock be two hours ahead of UTC, without a summer time."""
    monkeypatch.setenv("TZ", "EST-2")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


def of_file(text: str, heading: str = "time") -> Entry:
    return Entry("N1", "new", others={heading: text})


@pytest.mark.parametrize(
    ("text", "zoneless"),
    [
        ("2026-03-02 10:15", True),
        ("10:15", True),
        ("10:15:30 am", True),
        ("12.5", False),
        ("2026-03-02 10:15+01:00", False),
        ("", False),
    ],
)
def test_which_times_state_no_zone(text: str, zoneless: bool) -> None:
    assert without_zone([of_file(text), of_file(text, "Time")]) is zoneless
    assert time_of_file(of_file(text, " TIME")) == text


def test_new_times_are_written_as_the_earlier_ones(in_the_east: None) -> None:
    moment = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
    local = in_own_way(moment, [of_file("2026-03-02 10:15")])
    assert local.isoformat() == "2026-03-02T11:00:00+02:00"
    west = timezone(timedelta(hours=-5))
    stated = in_own_way(moment, [replace(of_file(""), time=moment.astimezone(west))])
    assert stated.isoformat() == "2026-03-02T04:00:00-05:00"
    assert in_own_way(moment, []).isoformat() == "2026-03-02T09:00:00+00:00"
    assert "UTC+02:00" in zone_assumed(moment.astimezone())
    assert "now UTC)" in zone_assumed(moment)


def test_what_is_read_on_at_the_bench_comes_after_what_the_file_held(in_the_east: None) -> None:
    bench = BenchShop()
    before = (START - timedelta(minutes=30)).astimezone()
    first = replace(bench.entry(1), time=None, others={"time": f"{before:%Y-%m-%d %H:%M}"})
    bench.shop.records.add(bench.study, "Ada", [NewLine("from a file", TAKEN, entry=first)])
    for step in range(2, len(bench.state.sheet) + 1):
        bench.take(step, waited=True)
    table = bench.desk.loaded(bench.study, bench.state).table
    assert table.time is not None
    # In UTC they would stand an hour and a half before it.
    assert table.time.tolist() == [0.0] + 23 * [1800.0]
