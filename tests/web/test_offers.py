"""No page offers what would be refused: every page that a role can reach is looked through for forms, buttons and links."""

from __future__ import annotations

from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import pytest
from starlette.testclient import TestClient
from tests.web.doors import Guarded, guarded
from tests.web.tone_bench import SHORT

from ohmsworth import wiring
from ohmsworth.web.door.offers import Offers
from ohmsworth.web.door.roles import Needed, may, needed
from ohmsworth.work.accounts import Role

QUESTION = {
    "question": "Is the new crimp good?", "conditions": "new\nold", "limit": "4 mΩ", "limit_source": "datasheet",
    "specimens": "2", "matings": "1", "key": "the-study", "voltmeter.accuracy": "0.1 %", "voltmeter.resolution": "1 µV",
}  # fmt: skip
READING = {
    "key": "r1", "step": "1", "specimen": "1", "condition": "new", "mating": "1", "polarity": "+", "voltage": "0.25",
    "voltage_unit": "mV", "current": "100", "current_unit": "mA", "anyway": "it is so", "keep": "yes",
}  # fmt: skip
#: The first card of records with accounts is the door book.
STUDY, SHUT = "/studies/2", "/studies/3"
ROLES: dict[str, Role] = {"rita": "reader", "ben": "bench", "olga": "office"}


class Offered(HTMLParser):
    """What a page offers: pairs of method and address."""

    def __init__(self, address: str) -> None:
        super().__init__()
        self.address = address
        self.found: list[tuple[str, str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "form":
            method = (said.get("method") or "get").upper()
            self.found.append((method, said.get("action") or self.address))
        if tag == "a" and said.get("href"):
            self.found.append(("GET", str(said["href"])))
        for name, method in (("hx-post", "POST"), ("formaction", "POST"), ("hx-get", "GET")):
            if said.get(name):
                self.found.append((method, str(said[name])))


def offered(address: str, text: str) -> set[tuple[str, str]]:
    parser = Offered(address)
    parser.feed(text)
    whole = {(method, urljoin(address, found)) for method, found in parser.found}
    return {(method, urlsplit(found)._replace(fragment="").geturl()) for method, found in whole}


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Guarded]:
    """Return a bench with a study that has a reading, one that is closed, and a few cards."""
    with guarded(tmp_path_factory.mktemp("offers")) as made:
        ben = made.signed_in("ben")
        for key, address in (("one", STUDY), ("two", SHUT)):
            answer = ben.post("/studies/new", data=QUESTION | {"key": key})
            assert answer.headers["location"] == f"{address}/bench"
        assert ben.post(f"{STUDY}/bench", data=READING).status_code == 200
        shut = {"change": "close", "reason": "given up", "key": "shut"}
        assert ben.post(f"{SHUT}/question", data=shut).status_code == 303
        assert ben.post("/cards/new/specimens", data={"serial": "S-1", "key": "s"}).status_code == 303
        standard = {"name": "check bar", "value": "1 mΩ", "uncertainty": "1 µΩ", "key": "c"}
        assert ben.post("/cards/new/check-standards", data=standard).status_code == 303
        yield made


def walk(browser: TestClient) -> dict[str, str]:
    """Every page that can be reached by links, by its address."""
    pages: dict[str, str] = {}
    ahead = ["/", f"{STUDY}/bench/now", "/settings", "/fitness/check", "/studies/new"]
    while ahead and len(pages) < 150:
        address = ahead.pop(0)
        if address in pages or address.endswith((".zip", ".pdf", ".json", "/now?do=x", ".html")):
            continue
        answer = browser.get(address)
        if not answer.headers.get("content-type", "").startswith("text/html"):
            ahead += [answer.headers["location"]] if answer.status_code == 303 else []
            continue
        assert answer.status_code != 403, f"{address} is linked, and refused"
        pages[address] = answer.text
        ahead += [found for method, found in sorted(offered(address, answer.text)) if method == "GET"]
    return pages


@pytest.mark.parametrize("name", ["rita", "ben", "olga"])
def test_nothing_is_offered_that_would_be_refused(name: str, bench: Guarded) -> None:
    pages = walk(bench.signed_in(name))
    assert {"/", f"{STUDY}/bench", f"{STUDY}/question", "/records", "/settings"} <= set(pages)
    wrong = [
        (address, method, found)
        for address, text in pages.items()
        for method, found in offered(address, text)
        if found.startswith("/") and not may(ROLES[name], needed(method, urlsplit(found).path))
    ]
    assert wrong == []


@pytest.mark.parametrize("name", ["rita", "ben"])
def test_a_page_says_who_may_what_it_leaves_out(name: str, bench: Guarded) -> None:
    few, office = walk(bench.signed_in(name)), walk(bench.signed_in("olga"))
    for address in sorted(set(few) & set(office)):
        all_of_it = {found for found in offered(address, office[address]) if found[0] == "POST"}
        left_out = {found for found in all_of_it if not may(ROLES[name], needed(*found))}
        said = few[address].count(f"{name} has the role {ROLES[name]}.")
        assert said == 1 if left_out else said <= 1, (address, left_out)


def test_a_reader_sees_readings_and_what_is_next_but_no_form(bench: Guarded) -> None:
    reader = bench.signed_in("rita").get(f"{STUDY}/bench").text
    typing = bench.signed_in("ben").get(f"{STUDY}/bench").text
    for shown in ('id="connect"', 'id="recent"', f'hx-get="{STUDY}/bench/news', 'id="do"'):
        assert shown in reader
        assert shown in typing
    for kept_back in ('id="entry"', "Take the reading", 'id="undo"', "add a photo"):
        assert kept_back in typing
        assert kept_back not in reader
    assert "it takes the role bench or office. rita has the role reader." in reader


def test_a_reader_sees_what_is_played_and_no_form_over_frequency(tmp_path: Path) -> None:
    with guarded(tmp_path, drawing=wiring.drawing()) as bench:
        ben, rita = bench.signed_in("ben"), bench.signed_in("rita")
        assert ben.post("/studies/new", data=QUESTION).headers["location"] == f"{STUDY}/bench"
        assert ben.post(f"{STUDY}/frequency", data=SHORT).status_code == 303
        reader, sending = rita.get(f"{STUDY}/frequency").text, ben.get(f"{STUDY}/frequency").text
        for path in ("", "/takes", "/standards", "/record/begin", "/record/play"):
            assert rita.post(f"{STUDY}/frequency{path}", data={"key": "x"}).status_code == 403
    for shown in ("4 tones from", "/frequency/wiring.pdf", "<h2>Takes</h2>"):
        assert shown in reader
        assert shown in sending
    for kept_back in ("/frequency/takes", "/frequency/standards", "Look for an interface", 'name="toml"'):
        assert kept_back in sending
        assert kept_back not in reader


def test_a_reader_can_read_the_question(bench: Guarded) -> None:
    text = bench.signed_in("rita").get(f"{STUDY}/question").text
    assert "Is the new crimp good?" in text
    assert '<fieldset class="fields" disabled>' in text
    assert "Change the question" not in text


@pytest.mark.parametrize(
    "path", ["/studies/1/bench", "/settings", "/meters/live/voltmeter", "/nowhere", "/me"]
)
@pytest.mark.parametrize("role", ["reader", "bench", "office"])
def test_what_is_offered_is_what_the_door_lets_through(role: Role, path: str) -> None:
    offers = Offers(role, "kim")
    assert offers.change(f"{path}?x=1") == may(role, needed("POST", path))
    assert offers.look(path) == may(role, needed("GET", path))
    # Said where something was left out, and once.
    assert bool(offers.left_out()) != (may(role, needed("POST", path)) and may(role, needed("GET", path)))
    assert offers.left_out() == ""


def test_what_takes_more_is_said_behind_what_takes_less() -> None:
    offers = Offers("reader", "rita")
    takes: list[Needed] = [needed("POST", path) for path in ("/settings", "/studies")]
    assert takes == ["office", "bench"]
    assert not offers.change("/settings")
    assert not offers.change("/studies")
    assert "it takes the role bench or office, and some of it the role office. rita" in offers.left_out()
