"""The pages of an order and of the workshop's lists, asked as a browser without scripts would; and the same for programs."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from pathlib import Path

import jsonschema  # type: ignore[import-untyped]  # published without types
import pytest
from starlette.testclient import TestClient
from tests.unit.work.workshop.ordered import LEAD, LINE, PRICES, REELS
from tests.web.doors import guarded
from tests.web.policy import breaches
from tests.web.test_study_pages import hidden, page

from ohmsworth import wiring
from ohmsworth.cables.workshop import programs
from ohmsworth.web.app import Serving, create_app

SCHEMA = json.loads(
    (Path(__file__).parents[2] / "src/ohmsworth/report/workshop.schema.json").read_text("utf-8")
)


@pytest.fixture
def bare(tmp_path: Path) -> Iterator[TestClient]:
    """Return a browser before a bench with two cables, 1 and 2, and no lists."""
    with wiring.open_records(str(tmp_path / "shop.records")) as records:
        serving = Serving(frozenset({"testserver"}), wiring.typeface_folder(), drawing=wiring.drawing())
        with TestClient(create_app(wiring.shop(records), serving), follow_redirects=False) as found:
            found.cookies.set("who", "Ada")
            for number, toml in enumerate((LEAD, LINE), start=1):
                answer = found.post("/cables/new", data={"toml": toml, "key": f"cable-{number}"})
                assert answer.headers["location"] == f"/cables/{number}"
            yield found


@pytest.fixture
def client(bare: TestClient) -> TestClient:
    """Return the same with both lists written."""
    for name, text in (("reels", REELS), ("prices", PRICES)):
        assert write(bare, name, text).headers["location"] == f"/cables/{name}?said=kept"
    return bare


def write(client: TestClient, name: str, text: str, status: int = 303, **more: str):  # type: ignore[no-untyped-def]
    """Send the form of a list."""
    shown = page(client, f"/cables/{name}")
    sent = {"key": hidden(shown, "key"), "seen": hidden(shown, "seen"), "text": text} | more
    answer = client.post(f"/cables/{name}", data=sent)
    assert answer.status_code == status, answer.text
    return answer


def plain(text: str) -> str:
    """What a page says, without its tags."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", text)).replace("\xa0", " ").split())


def test_the_way_leads_from_the_cables_to_an_order(client: TestClient) -> None:
    assert 'href="/cables/order"' in page(client, "/cables")
    assert 'href="/cables/order?cable=1"' in page(client, "/cables/1/description")
    text = page(client, "/cables/order")
    assert re.findall(r'type="checkbox" name="cable" value="(\d+)"', text) == ["2", "1"]
    assert "Which cables are to be built?" in text
    assert 'name="chosen"' not in text  # what is kept is used until somebody unticks it
    assert "None is like that" in page(client, "/cables/order?search=nothing+like+it")


def test_one_cable_is_planned_from_its_own_page(client: TestClient) -> None:
    text = page(client, "/cables/order?cable=1")
    said = plain(text)
    # 12 pieces of 3.1 m from 40 m; 4 x 8.80 of parts, 37.2 x 0.25 of wire.
    assert "The 12 pieces for 4 cables can be cut from 1 reel in stock; nothing is scrap." in said
    assert "44.50 €" in said
    assert 'value="4" inputmode="numeric"' in text
    for heading in ("What to cut", "From which reel", "Parts and work", "How it is wired"):
        assert f">{heading}</h2>" in text
    assert said.index("Cutting and stripping: blades away") < said.index("Write what is left on each reel")


def test_several_cables_are_one_order(client: TestClient) -> None:
    said = plain(page(client, "/cables/order?chosen=yes&reels=yes&cable=1&copies.1=2&cable=2&copies.2=1"))
    assert "2 × lead and 1 × line" in said
    assert "can be cut from 2 reels in stock" in said
    assert "Sums" not in said  # prices were not ticked
    left = plain(page(client, "/cables/order?chosen=yes&reels=yes&cable=2&out=two+cores%09T2"))
    assert "from 1 reel in stock; 0.800 m is scrap" in left
    assert "room" not in left


def test_without_lists_the_cut_list_is_told_and_where_to_write_them(bare: TestClient) -> None:
    text = page(bare, "/cables/order?cable=1")
    assert "4 cables need 12 pieces: 37.200 m of 'strand'." in plain(text)
    assert 'href="/cables/reels">Write down what is in stock' in text
    assert 'href="/cables/prices">Write down what the shop asks' in text
    assert "When it is cut" not in text


def test_copies_that_cannot_be_stand_at_their_field(client: TestClient) -> None:
    text = page(client, "/cables/order?chosen=yes&cable=1&copies.1=many&cable=2&copies.2=3", 422)
    assert 'value="many" inputmode="numeric" autocomplete="off" aria-invalid="true"' in text
    assert "expected a whole number from 1 to 10000" in plain(text)
    assert 'value="3" inputmode="numeric"' in text
    assert "The answer (JSON)" not in text


@pytest.mark.parametrize("asked", ["cable=3", "cable=99", "cable=x", "cable=1&copies.x=2"])
def test_what_is_no_cable_is_not_found(client: TestClient, asked: str) -> None:
    page(client, f"/cables/order?{asked}", 404)  # card 3 holds the lists


def test_what_is_taken_to_the_workshop_is_the_plan_of_the_page(client: TestClient) -> None:
    text = page(client, "/cables/order?chosen=yes&reels=yes&prices=yes&cable=1&copies.1=2")
    pdf, whole, data = (html.unescape(one) for one in re.findall(r'href="(/cables/order/order[^"]*)"', text))
    assert client.get(pdf).content.startswith(b"%PDF-")
    assert "2 × lead" in client.get(whole).text
    answer = client.get(data).json()
    jsonschema.Draft202012Validator(SCHEMA).validate(answer)
    assert [(one["name"], one["quantity"]) for one in answer["cables"]] == [("lead", 2)]
    pictures = {html.unescape(one) for one in re.findall(r'href="(/cables/order/pictures/[^"]+)"', text)}
    assert {one.partition("?")[0].rpartition("/")[2] for one in pictures} >= {"reels.svg", "wiring-1.svg"}
    for picture in pictures:
        assert client.get(picture).status_code == 200
    assert client.get("/cables/order/pictures/none.svg?cable=1").status_code == 404
    assert client.get("/cables/order/order.pdf").status_code == 422


def test_a_plan_that_is_not_proven_says_so_and_leads_on(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A solver that finds nothing in its time: the first plan and what no plan can be below are left.
    monkeypatch.setattr(programs, "_solved", lambda *_: (None, 0))
    write(client, "reels", "wire,length [m],useful [m]\nstrand,10,5\nstrand,9.5,5\nstrand,12,5\nstrand,7,5\n")
    text = page(client, "/cables/order?chosen=yes&reels=yes&cable=1&copies.1=3")
    assert "not proven to be the best" in plain(text)
    (longer,) = re.findall(r'href="([^"]+)">Look longer', text)
    assert "Look longer" not in page(client, html.unescape(longer))


def test_what_is_left_is_written_down_when_it_is_cut(client: TestClient) -> None:
    text = page(client, "/cables/order?cable=1")
    form = text.partition('action="/cables/order/cut"')[2].partition("</form>")[0]
    sent = dict(re.findall(r'name="([^"]+)" value="([^"]*)"', form))
    for _ in range(2):  # sent twice, it is taken off once
        answer = client.post("/cables/order/cut", data=sent)
        assert answer.headers["location"] == "/cables/reels?said=cut"
    listed = page(client, "/cables/reels?said=cut")
    assert "strand,S1,2.8,2" in listed
    assert "cut for 4 × lead" in plain(listed)
    assert "What it said before" in listed
    answer = client.post("/cables/order/cut", data=sent | {"key": "another-key"})
    assert answer.status_code == 422
    assert breaches(answer.text) == []
    assert "another plan by now" in plain(answer.text)


def test_a_list_at_fault_says_where_and_loses_nothing(client: TestClient) -> None:
    answer = write(client, "reels", "wire,length [m]\nstrand,much\ncord,\n", 422, reason="the new drum")
    assert breaches(answer.text) == []
    assert "reels.csv, line 2, column 'length'" in plain(answer.text)
    assert "reels.csv, line 3, column 'length'" in plain(answer.text)
    assert "strand,much\ncord,\n</textarea>" in answer.text
    assert 'value="the new drum"' in answer.text
    answer = write(client, "prices", "currency = €\n", 422)
    assert "prices.toml, line 1" in plain(answer.text)
    assert "currency = €" in answer.text
    for name, text in (("reels", REELS), ("prices", PRICES)):
        assert client.get(f"/cables/{name}/{'reels.csv' if name == 'reels' else 'prices.toml'}").text == text


def test_a_list_comes_as_a_file_too(client: TestClient) -> None:
    shown = page(client, "/cables/reels")
    sent = {"key": "file-1", "seen": hidden(shown, "seen"), "text": "what stands in the field"}
    file = {"file": ("stock.csv", "wire;length [m]\nstränd;31,25\n".encode("cp1252"))}
    assert client.post("/cables/reels", data=sent, files=file).status_code == 303
    text = page(client, "/cables/reels?said=kept")
    assert "stränd: 31.250 m on 1 reel" in plain(text)
    assert "What it said before" in text
    bad = {"file": ("stock.csv", b"wire,length [m]\nstrand,much\n")}
    answer = client.post("/cables/reels", data=sent | {"key": "file-2"}, files=bad)
    assert answer.status_code == 422
    assert "strand,much" in answer.text
    assert "stränd" in client.get("/cables/reels/reels.csv").text


def test_a_form_that_is_behind_is_refused(client: TestClient) -> None:
    behind = page(client, "/cables/prices")
    write(client, "prices", PRICES.replace("60", "65"))
    sent = {"key": "late", "seen": hidden(behind, "seen"), "text": PRICES.replace("60", "70")}
    answer = client.post("/cables/prices", data=sent)
    assert answer.status_code == 422
    assert "changed by Ada since this form was opened" in plain(answer.text)
    assert "hourly_rate = 70" in answer.text
    assert "65 €" in plain(page(client, "/cables/prices"))
    assert "Nothing was changed" in page(
        client, write(client, "prices", PRICES.replace("60", "65")).headers["location"]
    )


def test_the_lists_are_found_and_lead_to_their_page(client: TestClient) -> None:
    assert 'href="/cables/reels"' in page(client, "/search?q=rope")
    assert client.get("/cards/3").headers["location"] == "/cables/reels"
    assert [one["kind"] for one in client.get("/api/cards?kind=workshop").json()] == ["workshop"]


def test_programs_order_too(bare: TestClient) -> None:
    for name, text in (("reels", REELS), ("prices", PRICES)):
        made = bare.post(f"/api/cables/{name}", json={"key": f"list-{name}", "text": text, "reason": "first"})
        assert made.json() == bare.get(f"/api/cables/{name}").json()
        assert made.json()["text"] == text
    order = {"cables": [{"cable": 1, "copies": 2}, {"cable": 2}], "reels": True, "prices": True}
    answer = bare.post(
        "/api/cables/order", json=order | {"without": [{"wire": "two cores", "reel": "T1"}]}
    ).json()
    jsonschema.Draft202012Validator(SCHEMA).validate(answer)
    assert [(one["name"], one["quantity"]) for one in answer["cables"]] == [("lead", 2), ("line", 1)]
    assert [reel["name"] for stock in answer["stocks"] for reel in stock["reels"]] == ["S1", "T2"]
    assert bare.post("/api/cables/order", json={"cables": []}).status_code == 422
    assert bare.post("/api/cables/order", json={"cables": [{"cable": 3}]}).status_code == 404
    refused = bare.post("/api/cables/reels", json={"key": "list-bad", "text": "wire,length [m]\nstrand,x\n"})
    assert refused.status_code == 422
    assert "line 2" in refused.text
    behind = bare.post("/api/cables/reels", json={"key": "list-late", "text": "", "line": 0})
    assert behind.status_code == 422
    paths = bare.get("/api/openapi.json").json()["paths"]
    assert {"/api/cables/order", "/api/cables/reels", "/api/cables/prices"} <= set(paths)


def test_who_may_change_what(tmp_path: Path) -> None:
    with guarded(tmp_path) as bench:
        rita, ben, olga = (bench.signed_in(name) for name in ("rita", "ben", "olga"))
        for browser, reels, prices in ((rita, False, False), (ben, True, False), (olga, True, True)):
            for name, may in (("reels", reels), ("prices", prices)):
                text = browser.get(f"/cables/{name}").text
                assert ('name="text"' in text) == may
                assert (browser.post(f"/cables/{name}", data={"text": ""}).status_code == 403) != may
        assert rita.get("/cables/order").status_code == 200
