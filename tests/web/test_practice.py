"""The whole round without hardware: invented instruments, records of their own, and never a word of them in the shop's."""

from __future__ import annotations

import re
import time
from pathlib import Path

import httpx2 as httpx
import pytest
from tests.web.meter_bench import FORM, PART, form_in
from tests.web.running import PATIENCE, bench, records_in, run

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.web.serve.practice import hold_apart


def test_practice_reads_its_own_meters_into_its_own_records(tmp_path: Path) -> None:
    with bench("--practice", "--no-open", OHMSWORTH_RECORDS=records_in(tmp_path)) as running:
        assert "practice.records" in running.line
        with httpx.Client(base_url=running.address, follow_redirects=True, timeout=30) as client:
            assert "Practice: these readings are invented." in client.get("/").text
            assert client.post("/studies/new", data=FORM).status_code == 200
            values = [_read(client) for _ in range(2)]
            page = client.get("/meters/live").text
        assert "the practice bench" in page
        assert values[0] == pytest.approx(-values[1], rel=0.05)
    assert not Path(records_in(tmp_path)).exists()


def _read(client: httpx.Client) -> float:
    sent = form_in(client.get("/studies/1/bench").text)
    text = client.post("/studies/1/bench/meters", data=sent | {"read": "one"}, headers=PART).text
    end = time.monotonic() + PATIENCE
    while found := re.search(r'hx-get="([^"]*/reading[^"]*)"', text):
        assert time.monotonic() < end
        time.sleep(0.05)
        answer = client.get(found[1].replace("&amp;", "&"), headers=PART)
        text = answer.text if answer.status_code == 200 else text
    told = re.search(r": ([−0-9.]+)&nbsp;V", client.get("/studies/1/bench").text)
    assert told, text
    return float(told[1].replace("−", "-"))


def test_practice_takes_no_records_that_are_named(tmp_path: Path) -> None:
    done = run("bench", "--practice", "--no-open", "--records", records_in(tmp_path))
    assert done.returncode == 2
    assert "Leave --records out" in done.stderr
    assert not Path(records_in(tmp_path)).exists()


def test_records_for_practice_are_not_opened_as_the_shops(tmp_path: Path) -> None:
    with wiring.open_records(str(tmp_path / "practice.records")) as records:
        hold_apart(records, practice=True)
        hold_apart(records, practice=True)
        with pytest.raises(InputRefused, match="--practice"):
            hold_apart(records, practice=False)


def test_the_shops_records_are_not_used_for_practice(tmp_path: Path) -> None:
    with wiring.open_records(str(tmp_path / "practice.records")) as records:
        shop = wiring.shop(records)
        from ohmsworth.work.study_cards import open_study

        open_study(shop, 'question = "a real one"', (), "Ada", "k")
        with pytest.raises(InputRefused, match="records of a shop"):
            hold_apart(records, practice=True)
        hold_apart(records, practice=False)
