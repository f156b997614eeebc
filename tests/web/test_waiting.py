"""A reading that waited in a page keeps the name and the time it was typed with; another sign-in is asked first."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from tests.web.doors import PASSWORD, Guarded, guarded

from ohmsworth.work.study_log import fold
from ohmsworth.work.taken_reading import TakenReading

NOW = datetime(2026, 11, 26, 8, tzinfo=UTC)
QUESTION = {
    "question": "Is the new crimp good?", "conditions": "new\nold", "limit": "4 mΩ", "limit_source": "datasheet",
    "specimens": "2", "matings": "1", "key": "the-study",
}  # fmt: skip
READING = {
    "step": "1", "specimen": "1", "condition": "new", "mating": "1", "polarity": "+", "voltage": "0.25", "key": "r1",
    "voltage_unit": "mV", "current": "100", "current_unit": "mA", "anyway": "it is so",
}  # fmt: skip
WAITED = {"waited": "yes", "elapsed": "600"}


def ask(browser: TestClient) -> str:
    """A study; return the address of its bench."""
    return str(browser.post("/studies/new", data=QUESTION).headers["location"])


def readings(bench: Guarded, address: str) -> tuple[TakenReading, ...]:
    return fold(bench.shop.records.lines(int(address.split("/")[2]))).readings


@pytest.mark.parametrize(
    ("sent", "name", "typed"),
    [
        (WAITED | {"by": "Kim"}, "Kim", NOW - timedelta(minutes=10)),
        (WAITED | {"by": ""}, "somebody at this bench", NOW - timedelta(minutes=10)),
        (WAITED, "Lee", NOW - timedelta(minutes=10)),  # from a page that did not say
        ({"by": "Kim"}, "Lee", NOW),  # it did not wait
    ],
    ids=["typed by Kim", "typed by nobody known", "not said", "at once"],
)
def test_an_open_bench_keeps_the_name_that_the_page_knew(
    sent: dict[str, str], name: str, typed: datetime, tmp_path: Path
) -> None:
    with guarded(tmp_path, accounts=False, secure=False) as bench:
        browser = bench.browser()
        browser.post("/who", data={"who": "Kim"})
        address = ask(browser)
        assert 'name="by" value="Kim"' in browser.get(address).text
        browser.post("/who", data={"who": "Lee"})
        assert browser.post(address, data=READING | sent).status_code == 200
        (kept,) = readings(bench, address)
        assert (kept.by, kept.entry.operator, kept.entry.time) == (name, name, typed)
        assert kept.typed_by == ""


def test_another_sign_in_is_asked_first(tmp_path: Path) -> None:
    with guarded(tmp_path) as bench:
        ben = bench.signed_in("ben")
        address = ask(ben)
        assert 'name="by" value="ben"' in ben.get(address).text
        olga = bench.signed_in("olga")
        waiting = READING | WAITED | {"by": "ben"}
        for undecided in ({}, {"instead": "ben"}, {"instead": "rita"}):
            answer = olga.post(address, data=waiting | undecided)
            assert answer.status_code == 412
            assert 'data-signed-in="olga"' in answer.text
            assert "What waits was typed by ben, and olga is signed in now. It is not sent." in answer.text
            assert readings(bench, address) == ()

        assert olga.post(address, data=waiting | {"instead": "olga"}).status_code == 200
        (kept,) = readings(bench, address)
        assert (kept.by, kept.entry.operator, kept.typed_by) == ("olga", "olga", "ben")
        page = olga.get(f"{address.removesuffix('/bench')}/readings/{kept.number}").text
        assert "It was typed while the bench did not answer, by ben." in page


def test_whoever_typed_it_sends_it_without_a_word(tmp_path: Path) -> None:
    with guarded(tmp_path) as bench:
        address = ask(bench.signed_in("ben"))
        # Signed in anew, on a bench that was away.
        again = bench.signed_in("ben")
        assert again.post(address, data=READING | WAITED | {"by": "ben"}).status_code == 200
        (kept,) = readings(bench, address)
        assert (kept.by, kept.entry.operator, kept.typed_by) == ("ben", "ben", "")
        assert kept.entry.time == NOW - timedelta(minutes=10)


def test_a_name_in_the_form_is_nobody_where_people_sign_in(tmp_path: Path) -> None:
    with guarded(tmp_path) as bench:
        ben = bench.signed_in("ben")
        address = ask(ben)
        ben.post(address, data=READING | {"by": "olga"})
        assert [(one.by, one.entry.operator) for one in readings(bench, address)] == [("ben", "ben")]
        assert ben.post("/sign-in", data={"name": "ben", "password": PASSWORD}).status_code == 303
