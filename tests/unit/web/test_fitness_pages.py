"""The pages of the bench's fitness, asked as a browser would."""

from dataclasses import replace

import pytest
from starlette.testclient import TestClient
from tests.unit.web.clients import browsing, key_of, page
from tests.unit.work.cards.shops import BY, GIVEN, START, new_shop, study, take
from tests.unit.work.checked_days import check, daily, standard
from tests.unit.work.test_shop_fitness import repeated
from tests.web.policy import breaches

from ohmsworth import wiring
from ohmsworth.report.document import Document
from ohmsworth.work.cards.writing import open_card
from ohmsworth.work.drawing import Drawing
from ohmsworth.work.standards import since_setting


def headings(document: Document, *_: object, **__: object) -> str:
    """In place of the drawn report, for the sake of speed."""
    return " ".join(f"<p>section {section.title}</p>" for section in document.sections)


@pytest.fixture(scope="module")
def quick() -> Drawing:
    return replace(wiring.drawing(), fragment=headings)


def sent(client: TestClient, text: str, status: int, where: str = "", **fields: str) -> str:
    """What comes of sending the form on a page."""
    answer = client.post(where, data={"key": key_of(text), **fields}, follow_redirects=False)
    assert answer.status_code == status, answer.text[:3000]
    assert answer.status_code == 303 or breaches(answer.text) == []
    return answer.headers.get("location", answer.text)


def test_without_a_check_standard_the_page_says_how_to_begin(quick: Drawing) -> None:
    with browsing(drawing=quick) as (client, _):
        text = page(client, "/fitness")
        assert breaches(text) == []
        assert '<a class="button first" href="/cards/new/check-standards">' in text
        assert "/cards/new/check-standards" in page(client, "/fitness/check")
        assert page(client, "/cards/new/check-standards")
        assert "Is the bench fit?" not in page(client, "/")


def test_checks_over_all_studies_are_drawn_and_can_be_taken_away() -> None:
    shop = new_shop()
    card = standard(shop)
    daily(shop)
    with browsing(shop, wiring.drawing()) as (client, _):
        text = page(client, "/fitness?limit=3 mΩ")
        assert breaches(text) == []
        assert "Fit today" in text
        assert "has not been read today" not in text
        assert 'value="3 mΩ"' in text
        assert "can judge 3 mΩ" in text
        name = f"/fitness/pictures/check-standard.svg?standard={card}&study=none"
        assert client.get(name).headers["content-type"] == "image/svg+xml"
        assert client.get(name.replace("check-standard", "nothing")).status_code == 404
        report = client.get(f"/fitness/report.pdf?standard={card}")
        assert report.content.startswith(b"%PDF")
        assert "shunt A" in client.get("/fitness/report.html").text


def test_a_limit_that_is_none_is_refused_beside_its_field(quick: Drawing) -> None:
    shop = new_shop()
    standard(shop)
    open_card(shop, "limit", GIVEN["limit"], BY, "limit")
    daily(shop, 2)
    with browsing(shop, quick) as (client, _):
        text = page(client, "/fitness?limit=3 mV", 422)
        assert breaches(text) == []
        assert 'aria-describedby="limit-fault"' in text
        assert 'value="3 mV"' in text
        assert '<option value="3 mΩ">line plug – 3 mΩ</option>' in text
        assert "Check value and unit" in page(client, "/fitness?limit=1e12 Ω", 422)


def test_several_standards_are_turned_between(quick: Drawing) -> None:
    shop = new_shop()
    one, other = standard(shop), standard(shop, name="bar")
    take(shop, study(shop), *check(1.0, 1))
    with browsing(shop, quick) as (client, _):
        assert f"standard={one}&amp;study=none" in page(client, "/fitness")
        text = page(client, f"/fitness?standard={one}")
        assert "The last check is of 2026-03-01" in text
        assert "It has not been read at all yet" in page(client, f"/fitness?standard={other}")
        assert f'href="/fitness/check?standard={other}"' in page(client, f"/fitness/check?standard={one}")


def test_a_study_of_repeatability_is_chosen_looked_at_and_left_out(quick: Drawing) -> None:
    shop = new_shop()
    standard(shop)
    daily(shop)
    number = repeated(shop)
    bad = study(shop, "Nothing was read here")
    with browsing(shop, quick) as (client, _):
        text = page(client, "/fitness/studies")
        assert breaches(text) == []
        assert "48 readings by Ada, Ben" in text
        assert "section The repeatability study" in page(client, f"/fitness?study={number}")
        assert "section The repeatability study" not in page(client, "/fitness")
        assert client.post("/fitness/studies", data={"study": str(number)}).url.path == "/fitness"
        assert "section The repeatability study" in page(client, "/fitness")
        assert "the bench is known by it" in page(client, "/fitness/studies?search=reads")
        assert "section The repeatability study" not in page(client, "/fitness?study=none")
        wrong = page(client, f"/fitness?study={bad}")
        assert "neither file" in wrong
        assert "section The check standard" in wrong
        client.post("/fitness/studies", data={"study": ""})
        assert "section The repeatability study" not in page(client, "/fitness")
        page(client, "/fitness?study=1", 404)
        page(client, "/fitness?study=12345678901", 404)
        assert client.post("/fitness/studies", data={"study": "1"}).status_code == 404


def test_a_check_is_typed_and_told_at_once() -> None:
    shop = new_shop()
    card = standard(shop)
    daily(shop)
    with browsing(shop, wiring.drawing()) as (client, _):
        text = page(client, f"/fitness/check?standard={card}")
        assert breaches(text) == []
        assert 'placeholder="100"' in text
        fields = {"voltage": "1.0007", "voltage_unit": "mV", "voltage-": "-1.0001", "voltage-_unit": "mV"}
        where = sent(client, text, 303, "/fitness/check", **fields)
        assert where == f"/fitness/check?standard={card}&kept=yes"
        text = page(client, where)
        assert breaches(text) == []
        assert "10.004 mΩ" in text
        assert "✓ in control" in text
        assert "9 checks of shunt A" in text
        text = page(client, "/fitness/check")
        fields |= {"voltage": "1.21", "voltage-": "-1.21", "current": "100", "current_unit": "mA"}
        text = page(client, sent(client, text, 303, "/fitness/check", **fields))
        assert "? look first" in text
        assert "above the upper limit" in text


def test_what_cannot_be_read_is_told_beside_its_field_and_nothing_is_lost(quick: Drawing) -> None:
    shop = new_shop()
    standard(shop)
    with browsing(shop, quick) as (client, _):
        text = page(client, "/fitness/check")
        wrong = sent(client, text, 422, "/fitness/check", **{"voltage": "1.0x", "voltage-": "-1.0"})
        assert 'value="1.0x"' in wrong
        assert 'value="-1.0"' in wrong
        assert wrong.count('class="fault"') == 2  # the voltage, and the current that nobody typed
        assert shop.records.count("study") == 0


def test_a_slip_is_asked_about_and_kept_with_a_reason(quick: Drawing) -> None:
    shop = new_shop()
    standard(shop)
    daily(shop, 3)
    with browsing(shop, quick) as (client, _):
        fields = {"voltage": "1.0", "voltage-": "-10.01", "note": "cold morning"}
        for _time in range(2):
            first = {**fields, "voltage-": "-1.0"}
            sent(client, page(client, "/fitness/check"), 303, "/fitness/check", **first)
        text = page(client, "/fitness/check")
        asked = sent(client, text, 409, "/fitness/check", **fields)
        assert "Not kept yet" in asked
        assert 'value="cold morning"' in asked
        assert key_of(asked) == key_of(text)
        again = sent(client, asked, 409, "/fitness/check", **fields, keep="yes")
        assert "Say why it is kept" in again
        sent(client, asked, 303, "/fitness/check", **fields, keep="yes", anyway="it is so")
        state = client.app.state.desk.state(5)  # type: ignore[attr-defined]
        assert [one.entry.mating for one in state.counted] == ["1", "1", "2", "2", "3", "3"]
        assert state.counted[-1].kept == "it is so"
        assert {one.entry.note for one in state.counted} == {"cold morning"}


def test_a_milliohm_meter_is_typed_as_such(quick: Drawing) -> None:
    shop = new_shop()
    standard(shop)
    with browsing(shop, quick) as (client, _):
        text = page(client, "/fitness/check?by=ohms")
        assert 'id="voltage"' not in text
        sent(client, text, 303, "/fitness/check", by="ohms", resistance="10.02", resistance_unit="mΩ")
        text = page(client, "/fitness/check?kept=yes")
        assert "10.020 mΩ" in text
        assert "… not enough checks yet" in text
        assert 'name="resistance"' in text


def test_today_says_what_is_due_and_what_it_said(quick: Drawing) -> None:
    shop = new_shop()
    card = standard(shop)
    studies = daily(shop)
    with browsing(shop, quick) as (client, _):
        text = page(client, "/")
        assert breaches(text) == []
        assert "✓ fit today" in text
    shop = replace(shop, clock=lambda: START.replace(day=3))
    with browsing(shop, quick) as (client, _):
        assert "has not been read today; last on 2026-03-02." in page(client, "/")
        assert f'href="/fitness/check?standard={card}"' in page(client, "/")
    take(shop, studies[-1], *check(1.1, -1, "2"))
    with browsing(shop, quick) as (client, _):
        assert "? look first" in page(client, "/")


def test_charts_begin_anew_with_a_reason_on_the_card(quick: Drawing) -> None:
    shop = new_shop()
    card = standard(shop)
    daily(shop)
    with browsing(shop, quick) as (client, _):
        text = page(client, "/fitness")
        refused = client.post("/fitness/anew", data={"standard": str(card), "reason": " "})
        assert refused.status_code == 422
        where = sent(client, text, 303, "/fitness/anew", standard=str(card), reason="new leads")
        assert "They began last on 2026-03-02" in page(client, where)
        assert shop.records.settings()[since_setting(card)] == "2026-03-02"
        assert "Its charts begin anew on 2026-03-02: new leads" in page(client, f"/cards/{card}")
