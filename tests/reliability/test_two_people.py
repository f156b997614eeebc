"""Two people at one study: each sees what the other reads, both are kept, and a lost answer does no harm."""

import json
import re
import socket
import threading
from pathlib import Path
from urllib.parse import urlencode

import pytest
from tests.adapters.records import servers
from tests.reliability.kept import all_kept, file_in, keys_of, log_of
from tests.reliability.nursery import Nursery
from tests.reliability.writers import FORM, Caller, for_form, for_program, four_writers, new_study, writing


@pytest.fixture(params=["one server", "two servers at one file", "two servers at one database"])
def pair(
    request: pytest.FixtureRequest, children: Nursery, tmp_path: Path
) -> tuple[str, Caller, Caller, int]:
    """The records, two people and their study."""
    address = file_in(tmp_path)
    if "database" in request.param:
        database: servers.Server = request.getfixturevalue("postgres")
        address = database.fresh()
    one = children.serve(address)
    other = one if request.param == "one server" else children.serve(address)
    return address, Caller(one.port, "Kim"), Caller(other.port, "Lee"), new_study(one.port)


def last_line(person: Caller, study: int) -> int:
    page = person.ask("GET", f"/studies/{study}/bench").text
    return int(re.findall(r'data-last="(\d+)"', page)[0])


def test_each_sees_what_the_other_reads(pair: tuple[str, Caller, Caller, int]) -> None:
    _, kim, lee, study = pair
    for n, (reader, other) in enumerate([(kim, lee), (lee, kim), (kim, lee)]):
        before = last_line(other, study)
        news = f"/studies/{study}/bench/news?after={before}"
        assert other.ask("GET", news).status == 204
        answer = reader.ask("POST", f"/studies/{study}/bench", for_form(f"seen-{n}", f"new {n}"))
        assert answer.status == 200, answer.words
        told = other.ask("GET", news)
        assert told.status == 200
        assert f"One reading more, by {reader.who}." in told.words
        assert f"new {n}, new, mating 1" in other.ask("GET", f"/studies/{study}/bench/now").words
        lines = json.loads(other.api("GET", f"/studies/{study}/log?after={before}").text)
        assert [line["key"] for line in lines] == [f"seen-{n}"]


def test_two_who_read_at_once_are_both_kept(pair: tuple[str, Caller, Caller, int]) -> None:
    address, kim, lee, study = pair
    writers = four_writers(study)
    with writing(writers, [kim.port, lee.port, lee.port, kim.port]) as enough:
        while any(len(writer.confirmed) < 6 for writer in writers):
            enough.wait(0.05)
    assert [writer.told for writer in writers] == [[]] * 4
    all_kept(address, study, writers)
    both = [
        kim.api("GET", f"/studies/{study}/readings").text,
        lee.api("GET", f"/studies/{study}/readings").text,
    ]
    assert both[0] == both[1]


def test_one_step_read_by_both_at_the_same_time(pair: tuple[str, Caller, Caller, int]) -> None:
    """Both have the same step before them and press Enter: both readings are kept, and both people are told."""
    _, kim, lee, study = pair
    before = last_line(kim, study)
    begin = threading.Barrier(2)
    answers = {}

    def read(person: Caller) -> None:
        page = person.ask("GET", f"/studies/{study}/bench").text
        names = ("key", "step", "specimen", "condition", "contact", "mating", "polarity")
        fields = {name: re.findall(rf'name="{name}" value="([^"]*)"', page)[0] for name in names}
        begin.wait(30)
        sent = for_form("") | fields | {"volunteered": ""}
        answers[person.who] = person.ask("POST", f"/studies/{study}/bench", sent)

    threads = [threading.Thread(target=read, args=(person,)) for person in (kim, lee)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert [answer.status for answer in answers.values()] == [200, 200], answers
    kept = json.loads(kim.api("GET", f"/studies/{study}/readings").text)
    assert [one["state"] for one in kept] == ["used", "used"]
    # At the latest the one who came second is told at once; the other by the news of the page.
    assert any("as well: reading" in answer.words for answer in answers.values())
    for person, other in ((kim, lee), (lee, kim)):
        assert "Step 1 was read twice; both are kept." in (
            person.ask("GET", f"/studies/{study}/bench/news?after={before}").words
        )
        shown = person.ask("GET", f"/studies/{study}/bench/now").words
        assert re.search(rf"step 1 was read twice, also as \d+ by {other.who}; both are kept", shown)
        assert "Step 2 of 24" in shown


def cut_off(port: int, path: str, body: str, media_type: str, part: int | None = None) -> None:
    """Send a request, or its head and a part of its body, and be gone before the answer, as where the radio fails."""
    head = f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: {media_type}\r\nContent-Length: {len(body)}\r\n\r\n"
    with socket.create_connection(("127.0.0.1", port), timeout=30) as line:
        line.sendall((head + body[:part]).encode())


def test_a_reading_whose_answer_was_lost_is_sent_again_and_kept_once(
    pair: tuple[str, Caller, Caller, int],
) -> None:
    address, kim, lee, study = pair
    for n in range(10):
        sent = for_program(f"lost-{n:03d}", f"new {n}")
        cut_off(
            kim.port,
            f"/api/studies/{study}/readings",
            json.dumps(sent, ensure_ascii=True),
            "application/json",
        )
        numbers = {
            json.loads(one.api("POST", f"/studies/{study}/readings", sent).text)["number"]
            for one in (kim, lee, kim)
        }
        assert len(numbers) == 1
        typed = for_form(f"slow-{n:03d}", f"new {n}")
        cut_off(lee.port, f"/studies/{study}/bench", urlencode(typed), FORM)
        assert lee.ask("POST", f"/studies/{study}/bench", typed).status == 200
    keys = keys_of(log_of(address, study))
    assert sorted(keys) == sorted(
        [*(f"lost-{n:03d}" for n in range(10)), *(f"slow-{n:03d}" for n in range(10))]
    )


def test_a_body_that_is_cut_off_is_no_reading(children: Nursery, tmp_path: Path) -> None:
    server = children.serve(file_in(tmp_path))
    study = new_study(server.port)
    body = urlencode(for_form("half-0"))
    for part in (0, len(body) // 2, len(body) - 1):
        cut_off(server.port, f"/studies/{study}/bench", body, FORM, part)
    assert Caller(server.port).ask("GET", f"/studies/{study}/bench").status == 200
    server.kill()
    assert keys_of(log_of(file_in(tmp_path), study)) == []


def test_what_was_kept_is_confirmed_again_after_the_study_was_closed(
    children: Nursery, tmp_path: Path
) -> None:
    """Its answer was lost, and somebody closed the study meanwhile: it is not told as refused, for it is in the records."""
    server = children.serve(file_in(tmp_path))
    study = new_study(server.port)
    caller, sent = Caller(server.port), for_program("closed-0")
    assert caller.api("POST", f"/studies/{study}/readings", sent).status == 200
    closing = caller.ask(
        "POST", f"/studies/{study}/question", {"change": "close", "reason": "done", "key": "close-0"}
    )
    assert closing.status in (200, 303), closing.words
    assert caller.api("POST", f"/studies/{study}/readings", sent).status == 200
    refused = caller.api("POST", f"/studies/{study}/readings", for_program("closed-1"))
    assert refused.status == 422
    assert "a closed study" in refused.text
