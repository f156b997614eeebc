"""The current source from a page: it goes off with its page, from every page, and when the program is ended."""

from __future__ import annotations

import json
import os
import re
import signal
import time
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

import httpx2 as httpx
import pytest
from tests.web.meter_bench import LEASE, PART, Bench, connected, meter_bench
from tests.web.policy import breaches
from tests.web.running import bench as running_bench
from tests.web.running import records_in, until

from ohmsworth import wiring
from ohmsworth.adapters.simulated import PracticeBench, ScpiBench
from ohmsworth.web.door.roles import may, needed
from ohmsworth.work.connections import setting_name

ON = {"level": "100 mA", "holder": "page-1", "back": "/studies/1/bench"}
BY_HAND = "The current may still be on: switch the source off by hand."


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with meter_bench(tmp_path) as made:
        yield made


def on(bench: Bench, **more: str) -> str:
    answer = bench.post("/meters/source/on", **(ON | more))
    assert answer.status_code == 303, answer.text
    return answer.headers["location"]


def test_on_for_the_page_that_asked_for_it_and_said_on_every_page(bench: Bench) -> None:
    assert "The current is on" not in bench.page("/studies")
    where = on(bench)
    assert bench.practice.bench.output
    assert abs(bench.practice.bench.current() - 0.1) < 1e-9
    assert bench.practice.bench.compliance == pytest.approx(0.02)
    assert 'data-holder="page-1"' in bench.page(where)
    other = bench.page("/studies")
    assert "The current is on: 100 mA forward." in other
    assert 'action="/meters/off"' in other
    assert "data-holder" not in other
    assert bench.post("/meters/off").status_code == 303
    assert not bench.practice.bench.output
    assert "The current is on" not in bench.page("/studies")


def test_the_off_button_has_the_focus_and_takes_no_script(bench: Bench) -> None:
    text = bench.page(on(bench))
    form = re.search(r'<form method="post" action="/meters/off"><input[^>]*>(.*?)</form>', text, re.DOTALL)
    assert form
    assert "autofocus" in form[1]


def test_a_page_that_says_nothing_more_loses_the_current(bench: Bench) -> None:
    on(bench)
    began = time.monotonic()
    bench.until(lambda: not bench.practice.bench.output)
    assert time.monotonic() - began > LEASE * 0.9
    assert bench.post("/meters/source/renew", holder="page-1").status_code == 410
    assert "nobody renewed it" in bench.page("/meters/live")


def test_a_page_that_renews_keeps_it(bench: Bench) -> None:
    on(bench)
    end = time.monotonic() + 2 * LEASE
    while time.monotonic() < end:
        assert bench.post("/meters/source/renew", holder="page-1").status_code == 204
        assert bench.post("/meters/source/renew", holder="page-2").status_code == 410
        time.sleep(0.2)
    assert bench.practice.bench.output


def test_leaving_another_page_does_not_switch_it_off(bench: Bench) -> None:
    on(bench)
    assert bench.post("/meters/off", leaving="page-2").status_code == 204
    assert bench.practice.bench.output
    assert bench.post("/meters/off", leaving="page-1").status_code == 204
    assert not bench.practice.bench.output


def test_a_current_beyond_the_limit_is_refused(bench: Bench) -> None:
    answer = bench.client.post("/meters/source/on", data=ON | {"level": "200 mA"})
    assert answer.status_code == 422
    assert "at most 100 mA, as stated" in answer.text
    assert not bench.practice.bench.output


@pytest.mark.parametrize("level", ["", "-10 mA", "10 V", "much"])
def test_what_is_no_current_is_refused(bench: Bench, level: str) -> None:
    assert bench.client.post("/meters/source/on", data=ON | {"level": level}).status_code == 422
    assert not bench.practice.bench.output


def test_a_reading_leaves_a_current_that_was_on(bench: Bench) -> None:
    on(bench)
    bench.read()
    assert bench.practice.bench.output
    bench.read()
    assert [one.entry.polarity for one in bench.kept()] == ["+", "-"]


def test_stop_in_the_middle_is_off_at_once(tmp_path: Path) -> None:
    with meter_bench(tmp_path) as bench:
        bench.post(
            "/meters/live/source", do="connect", profile="SCPI current source", address=bench.practice.addresses["source"],
            most_current="100 mA", most_voltage="20 mV", level="50 mA", settle="30 s",
        )  # fmt: skip
        text = bench.begin().text
        assert "Stop, current off" in text
        bench.until(lambda: bench.practice.bench.output)
        text = bench.ended(bench.post("/studies/1/bench/reading/stop").text)
        assert not bench.practice.bench.output
        assert "Stopped." in text
        assert bench.kept() == ()


def test_a_page_that_is_lost_ends_the_sequence(tmp_path: Path) -> None:
    with meter_bench(tmp_path) as bench:
        bench.post(
            "/meters/live/source", do="connect", profile="SCPI current source", address=bench.practice.addresses["source"],
            most_current="100 mA", most_voltage="20 mV", level="50 mA", settle="3 s",
        )  # fmt: skip
        text = bench.begin().text
        bench.until(lambda: bench.practice.bench.output)
        bench.until(lambda: not bench.practice.bench.output)
        assert "nobody renewed it" in bench.ended(text)
        assert bench.kept() == ()


def test_a_source_that_does_not_go_off_is_said_loudly_on_every_page(bench: Bench) -> None:
    on(bench)
    bench.practice.fault("source", *["refuse off"] * 400)
    answer = bench.client.post("/meters/off")
    assert answer.status_code == 502
    assert BY_HAND in answer.text
    assert BY_HAND in bench.page("/studies")
    assert BY_HAND in bench.page("/meters/live")
    bench.practice._faults["source"].clear()
    bench.until(lambda: not bench.practice.bench.output)  # the watcher goes on trying
    bench.until(lambda: BY_HAND not in bench.page("/studies"))


def test_a_source_that_answers_nothing_fails_the_reading_in_words(bench: Bench) -> None:
    bench.practice.vanish("source")
    assert "cannot be used" in bench.read()
    assert bench.kept() == ()


def test_the_end_of_the_bench_switches_it_off(tmp_path: Path) -> None:
    with meter_bench(tmp_path, lease=60.0) as bench:
        on(bench)
        for end in bench.client.app.state.at_end:
            end()
        assert not bench.practice.bench.output


def test_back_leads_to_a_page_of_this_bench_alone(bench: Bench) -> None:
    for back in ("//example.org/a/b", "https://example.org", "/studies/1x/bench", "/meters/live"):
        assert bench.post("/meters/off", back=back).headers["location"] == "/meters/live"


def test_the_parts_keep_to_the_policy(bench: Bench) -> None:
    where = on(bench)
    for path in (where, "/meters/live", "/studies"):
        assert breaches(bench.client.get(path).text) == []
    assert breaches(bench.client.get("/meters/source/part", headers=PART).text, whole=False) == []


def test_a_reader_may_switch_off_and_nothing_else() -> None:
    assert may("reader", needed("POST", "/meters/off"))
    for path in (
        "/meters/source/on",
        "/meters/source/renew",
        "/studies/1/bench/meters",
    ):
        assert not may("reader", needed("POST", path))
        assert may("bench", needed("POST", path))
    # What the server opens a line to, on any address that is typed, is for the office to say.
    assert not may("bench", needed("POST", "/meters/live/source"))
    assert may("office", needed("POST", "/meters/live/source"))
    assert not may(None, needed("POST", "/meters/off"))


@pytest.mark.skipif(os.name == "nt", reason="signals are sent as POSIX has them")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_a_bench_that_is_ended_from_outside_switches_off(number: signal.Signals, tmp_path: Path) -> None:
    import platform

    simulated = ScpiBench(1, time.monotonic)
    records = records_in(tmp_path)
    with PracticeBench(simulated) as practice:
        stated = {r: asdict(one) for r, one in connected(practice.addresses, ("source",)).items()}
        with wiring.open_records(records) as opened:
            opened.write_setting(setting_name(platform.node() or "this machine"), json.dumps(stated), "Ada")
        with running_bench("--records", records, "--no-open") as running:
            address = running.address.rstrip("/")
            answer = httpx.post(f"{address}/meters/source/on", data=ON | {"back": "/meters/live"}, timeout=30)
            assert answer.status_code == 303, answer.text
            assert simulated.output
            running.program.send_signal(number)
            until(lambda: not simulated.output)
            running.program.communicate(timeout=30)
            assert running.program.returncode == 0
    assert ("source", "OUTPut OFF") in practice.heard
