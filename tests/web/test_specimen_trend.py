"""Where a specimen is going, on its page: dated readings of several years against the limit on its card."""

import re
from pathlib import Path

import pytest
from tests.web.kept import Kept, in_memory, sent
from tests.web.policy import breaches

READ = {"2023-03-01": 3.1, "2023-09-01": 3.4, "2024-03-01": 3.9, "2024-09-01": 4.3, "2025-03-01": 4.9}


@pytest.fixture
def bench(tmp_path: Path) -> Kept:
    """Return a bench with a limit of 8 mΩ, and a specimen that is held against it."""
    kept = in_memory(tmp_path, drawn=True)
    limit = {"name": "own", "resistance": "8 mΩ", "source": "the shop", "key": "l"}
    assert kept.client.post("/cards/new/limits", data=limit).status_code == 303
    card = {"serial": "S1", "limit": "1", "key": "s"}
    assert kept.client.post("/cards/new/specimens", data=card).status_code == 303
    return kept


def take_in(bench: Kept, read: dict[str, float], condition: str = "as found") -> None:
    lines = ["specimen,condition,mating,time,resistance [mΩ]"]
    for k, (day, value) in enumerate(read.items()):
        lines += [f"S1,{condition},{2 * k + m},{day} 10:0{m},{value * (1 + 0.002 * m):.4f}" for m in (0, 1)]
    files = [("study.toml", b'question = "Year by year"\n'), ("readings.csv", "\n".join(lines).encode())]
    told = bench.client.post("/records/take-in", files=sent(*files))
    assert told.status_code == 200, told.text
    named = {"name": "S1", "serial": "S1", "change": "known", "key": "n"}
    assert bench.client.post("/studies/3/specimens", data=named).status_code == 303


def page(bench: Kept) -> str:
    answer = bench.client.get("/specimens/2")
    assert answer.status_code == 200
    assert breaches(answer.text) == []
    return answer.text


def test_years_of_readings_show_where_it_is_going(bench: Kept) -> None:
    take_in(bench, READ)
    text = page(bench)
    assert "Where it is going, when as found" in text
    # ln(4.9/3.1) in two years: some 1.26 times a year.
    assert re.search(r"In a year the resistance becomes 1\.2\d+ times", text)
    assert "Next look: on 20" in text
    pictures = set(re.findall(r'href="(/specimens/2/pictures/[^"]+)"', text))
    assert pictures
    for address in pictures:
        assert bench.client.get(address).status_code == 200


def test_too_few_days_show_none(bench: Kept) -> None:
    take_in(bench, dict(list(READ.items())[:2]))
    assert "Where it is going" not in page(bench)
    assert bench.client.get("/specimens/2/pictures/care-trend.svg").status_code == 404
