"""The frequencies at which takes are asked about, in the form of a study's question."""

from __future__ import annotations

import html
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.web.policy import breaches
from tests.web.tone_bench import QUESTION, Bench, hidden, tone_bench

WHERE = "/studies/1/question"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with tone_bench(tmp_path) as made:
        yield made


def change(bench: Bench, status: int = 303, **fields: str) -> str:
    """Send the form of the question as it stands, with other `fields`."""
    said = {**QUESTION, "reference": "", "reason": "asked otherwise", "change": "form"}
    key = hidden(bench.page(WHERE), "key")
    answer = bench.client.post(WHERE, data={**said, **fields, "key": key}, follow_redirects=False)
    assert answer.status_code == status, answer.text
    assert status == 303 or breaches(answer.text) == []
    return answer.text


def field(text: str) -> str:
    return html.unescape(hidden(text, "frequencies"))


def test_they_are_asked_for_once_tones_are_planned(bench: Bench) -> None:
    assert 'name="frequencies"' not in bench.page("/studies/new")
    assert 'name="frequencies"' not in bench.page(WHERE)
    bench.plan()
    assert field(bench.page(WHERE)) == ""
    change(bench, frequencies="1 kHz, 200 Hz;1,5 kHz,2 kHz")
    assert 'at = ["1 kHz", "200 Hz", "1,5 kHz", "2 kHz"]' in bench.state.question
    text = bench.page(WHERE)
    assert field(text) == "1 kHz; 200 Hz; 1,5 kHz; 2 kHz"
    assert "the answer stands at the tone nearest to the first" in text
    change(bench, frequencies="2 kHz")
    assert 'at = ["2 kHz"]' in bench.state.question
    change(bench, frequencies="")
    assert "[frequencies]" not in bench.state.question


def test_what_is_wrong_stands_beside_them(bench: Bench) -> None:
    bench.plan()
    text = change(bench, 422, frequencies="1 kHz; 3 mΩ")
    assert field(text) == "1 kHz; 3 mΩ"
    assert 'aria-describedby="frequencies-fault"' in text


def test_a_form_that_does_not_show_them_leaves_them(bench: Bench) -> None:
    bench.plan()
    change(bench, frequencies="2 kHz; 100 Hz")
    change(bench, limit="11 mΩ")
    assert 'at = ["2 kHz", "100 Hz"]' in bench.state.question
    assert 'resistance = "11 mΩ"' in bench.state.question
