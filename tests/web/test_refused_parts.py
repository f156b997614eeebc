"""A refusal to a page that asked for a part of itself is a part: it goes where refusals stand, and brings no second header."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.web.doors import Guarded, guarded
from tests.web.policy import breaches

PART = {"HX-Request": "true"}
READING = {"key": "k", "specimen": "a", "voltage": "1", "current": "1"}


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Guarded]:
    with guarded(tmp_path) as made:
        yield made


def is_a_part(answer: Any, words: str) -> None:
    assert words in answer.text
    assert "<html" not in answer.text
    assert "<header" not in answer.text
    assert answer.headers["hx-retarget"] == "#refused"
    assert breaches(answer.text, whole=False) == []


def test_of_a_reader_at_the_bench(bench: Guarded) -> None:
    answer = bench.signed_in("rita").post("/studies/1/bench", data=READING, headers=PART)
    assert answer.status_code == 403
    is_a_part(answer, "rita has the role reader")


def test_after_the_sign_in_is_over(bench: Guarded) -> None:
    answer = bench.browser().post("/studies/1/bench", data=READING, headers=PART)
    assert answer.status_code == 401
    is_a_part(answer, "The sign-in is over")


def test_of_a_form_from_elsewhere(bench: Guarded) -> None:
    foreign = PART | {"sec-fetch-site": "cross-site"}
    answer = bench.signed_in("ben").post("/studies/1/bench", data=READING, headers=foreign)
    assert answer.status_code == 403
    is_a_part(answer, "Sent from another page")


def test_of_a_study_that_is_not_there(bench: Guarded) -> None:
    answer = bench.signed_in("ben").post("/studies/99/bench", data=READING, headers=PART)
    assert answer.status_code == 404
    is_a_part(answer, "no such card")


def test_a_whole_page_is_answered_with_one(bench: Guarded) -> None:
    answer = bench.signed_in("rita").post("/studies/1/bench", data=READING)
    assert answer.status_code == 403
    assert "<html" in answer.text
