"""Readings that waited in a page and are doubtful: they are said until somebody has looked at each."""

import re

from starlette.testclient import TestClient
from tests.web import test_study_pages
from tests.web.test_study_pages import PART, fields, hidden, page, take

client = test_study_pages.client
WAITED = {"waited": "yes", "elapsed": "60"}


def slipped(client: TestClient) -> str:
    """The bench after a slip of ten came later, as the last reading."""
    text = page(client, "/studies/1/bench/now", **PART)
    for _ in range(6):
        text = take(client, text)
    answer = client.post("/studies/1/bench", data=fields(text, 10.0) | WAITED, headers=PART)
    assert answer.status_code == 200
    return answer.text


def number_of_doubtful(text: str) -> str:
    part = text[text.index('id="doubted"') :]
    address = part[part.index("/studies/1/readings/") :].partition('"')[0]
    return address.rpartition("/")[2]


def test_doubtful_readings_that_came_later_are_said_at_the_bench_and_today(client: TestClient) -> None:
    text = slipped(client)
    number = number_of_doubtful(text)
    for said in (text, page(client, "/studies/1/bench"), page(client, "/studies/doubted")):
        assert "a slip of the decimal mark or the unit" in said
        assert f'href="/studies/1/readings/{number}"' in said
    assert "1 reading is doubtful" in text
    assert "/studies/doubted" in page(client, "/")
    part = page(client, "/studies/doubted", **PART)
    assert "1 doubtful reading" in part
    assert "<html" not in part
    assert "UNIT_SLIP" not in page(client, f"/studies/1/readings/{number}")
    assert "SLIP_OR_FAULT" not in page(client, f"/studies/1/readings/{number}")

    # It stands there until it is answered, also when the sheet is done.
    while "The sheet is done" not in text:
        text = take(client, text)
    assert 'id="doubted"' in text
    client.post(
        f"/studies/1/readings/{number}", data={"change": "keep", "reason": "read twice", "key": "kept"}
    )
    assert 'id="doubted"' not in page(client, "/studies/1/bench")
    assert "None: no reading" in page(client, "/studies/doubted")


def test_what_is_corrected_is_answered(client: TestClient) -> None:
    text = slipped(client)
    number = number_of_doubtful(text)
    form = page(client, f"/studies/1/readings/{number}")
    names = ("specimen", "condition", "mating")
    sent = {name: hidden(form, name) for name in names} | {
        "change": "correct", "reason": "a slip", "key": "c1", "polarity": "+", "voltage": "0.2512", "voltage_unit": "mV",
        "current": "100.02", "current_unit": "mA",
    }  # fmt: skip
    assert client.post(f"/studies/1/readings/{number}", data=sent).status_code == 200
    assert 'id="doubted"' not in page(client, "/studies/1/bench")


def test_the_picture_says_what_its_cross_is(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    for _ in range(6):
        text = take(client, text)
    assert "a cross what is left out" not in page(client, "/studies/1/bench/live", **PART)
    client.post("/studies/1/readings/3", data={"change": "set aside", "reason": "dropped", "key": "s"})
    live = page(client, "/studies/1/bench/live", **PART)
    assert 'class="out"' in live
    assert "a cross what is left out" in live


def test_the_large_figure_leaves_out_what_the_answer_leaves_out(client: TestClient) -> None:
    """A slip that nobody could be asked about is left out of the answer; it must not widen what is said of other contacts."""
    text = page(client, "/studies/1/bench/now", **PART)
    said: dict[tuple[str, ...], str] = {}
    while "The sheet is done" not in text:
        step = tuple(hidden(text, name) for name in ("specimen", "mating", "polarity"))
        if step == ("new 2", "1", "-"):
            text = client.post("/studies/1/bench", data=fields(text, 10.0) | WAITED, headers=PART).text
            continue
        text = take(client, text)
        verdict = re.search(r'<span class="verdict[^>]*>. ([^<]*)</span>', text)
        said[step] = verdict[1] if verdict else ""
    assert {said[(f"new {n}", "2", sign)] for n in (1, 2, 3) for sign in "+-"} == {"within"}
    live = page(client, "/studies/1/bench/live", **PART)
    assert 'class="out"' in live
    assert "3 within, 3 over" in live


def test_when_it_was_read_and_when_it_was_kept(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    text = client.post("/studies/1/bench", data=fields(text), headers=PART).text
    client.post("/studies/1/bench", data=fields(text) | {"waited": "yes", "elapsed": "7200"}, headers=PART)
    rows = re.findall(r"<td>(\d{4}-\d\d-\d\d \d\d:\d\d[^<]*)</td>", page(client, "/studies/1/readings"))
    later, at_once = rows
    assert "kept at" not in at_once
    read, _, kept = later.partition(", kept at ")
    assert kept
    assert read[11:] != kept
    assert f"read {later}" in page(client, "/studies/1/readings/4")
    assert "kept at" not in page(client, "/studies/1/readings/3")


def test_a_note_and_a_photo_are_confirmed_and_change_no_reading(client: TestClient) -> None:
    take(client, page(client, "/studies/1/bench/now", **PART))
    photo = {"photo": ("pins.jpg", b"\xff\xd8\xff\xe0", "image/jpeg")}
    sent = {"key": "a1", "words": "flux on the pins", "about": "3"}
    answer = client.post("/studies/1/bench/attach", data=sent, files=photo)
    assert "The note and the file are kept with the study." in answer.text
    assert "Nothing was kept" in client.post("/studies/1/bench/attach", data={"key": "a2"}).text
    assert (
        "corrected"
        not in page(client, "/studies/1/readings").partition("<tbody>")[2].partition("</tbody>")[0]
    )
    text = page(client, "/studies/1/readings/3")
    assert "note written" not in text
    assert "file added" not in text
    assert "flux on the pins" in text
    assert "pins.jpg" in text
