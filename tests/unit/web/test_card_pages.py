"""Cards on pages: made, changed, put away, found; faults beside their fields; no typed text becomes part of a page."""

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from html import escape

import pytest
from starlette.testclient import TestClient
from tests.unit.web.clients import browsing, key_of, looked_at, page
from tests.unit.work.cards.shops import BY, GIVEN, LIMIT, SPECIMEN, START, new_shop, study, take, volts

from ohmsworth.work.cards.kinds import KINDS
from ohmsworth.work.cards.naming import name_specimen
from ohmsworth.work.cards.writing import add_step, open_card, read_card
from ohmsworth.work.records import CardKind

NASTY = "<script>alert('x')</script><b onclick=\"y\">&amp;"
METER_SENT = {
    "name": "bench voltmeter",
    "measures": "voltage",
    "ranges.1.up_to": "200 mV",
    "ranges.1.accuracy": "0.5 % + 3 counts",
    "ranges.1.resolution": "0.1 mV",
}


def sent(kind: CardKind) -> dict[str, str]:
    """What a form sends for a kind's example."""
    return METER_SENT if kind == "meter" else {k: str(v) for k, v in GIVEN[kind].items()}


def make(client: TestClient, kind: CardKind, given: dict[str, str]) -> str:
    """Fill in the form of a new card; the address of its page."""
    slug = KINDS[kind].slug
    form = page(client, f"/cards/new/{slug}")
    answer = client.post(f"/cards/new/{slug}", data={"key": key_of(form), **given}, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def fault_beside(text: str, field: str) -> str:
    """What is said beside a field of a form."""
    found = re.search(rf'<p class="fault" id="{re.escape(field)}-fault">(.*?)</p>', text, re.DOTALL)
    assert found, field
    return found[1]


@pytest.mark.parametrize("kind", KINDS)
def test_a_card_is_made_and_stands_on_its_page_and_in_its_list(kind: CardKind) -> None:
    with browsing() as (client, shop):
        assert "yet. Make the first one" in page(client, f"/{KINDS[kind].slug}")
        address = make(client, kind, sent(kind))
        number = int(address.rpartition("/")[2])
        title = escape(shop.records.card(number).face.title)
        text = page(client, address)
        assert f"<h1>{title}</h1>" in text
        assert "Written</strong>" in text
        assert "by Ada" in text
        assert title in page(client, f"/{KINDS[kind].slug}")
        assert client.get(f"/cards/{number}").url.path == address


def test_the_same_form_sent_twice_makes_one_card() -> None:
    with browsing() as (client, shop):
        key = key_of(page(client, "/cards/new/specimens"))
        places = [
            client.post(
                "/cards/new/specimens", data={"key": key, **SPECIMEN}, follow_redirects=False
            ).headers["location"]
            for _ in range(2)
        ]
        assert places[0] == places[1]
        assert shop.records.count() == 1


def test_faults_stand_beside_their_fields_and_what_was_typed_stays() -> None:
    with browsing() as (client, shop):
        given = {
            **METER_SENT,
            "name": "",
            "ranges.2.up_to": "2 A",
            "ranges.2.accuracy": "good",
            "due": "soon",
            "address": "port 3",
        }
        answer = client.post("/cards/new/meters", data=given)
        assert answer.status_code == 422
        text = looked_at(answer.text)
        assert "nothing" in fault_beside(text, "f-name")
        assert "a unit of voltage" in fault_beside(text, "ranges.2.up_to")
        assert "0.5 % + 3 counts" in fault_beside(text, "ranges.2.accuracy")
        assert "soon" in fault_beside(text, "calibration-due")
        for kept in ("port 3", "200 mV", "2 A", "good"):
            assert f'value="{kept}"' in text
        assert '<option value="voltage" selected>' in text
        assert shop.records.count() == 0


def test_a_second_serial_is_refused_beside_the_field() -> None:
    with browsing() as (client, _shop):
        make(client, "specimen", {"serial": "SN 7"})
        answer = client.post("/cards/new/specimens", data={"serial": "sn7", "what": "cable"})
        assert answer.status_code == 422
        assert "card no. 1" in fault_beside(answer.text, "f-serial")
        assert 'value="cable"' in answer.text


def test_a_change_asks_for_its_reason_and_shows_old_and_new() -> None:
    with browsing() as (client, _shop):
        address = make(client, "limit", LIMIT)
        form = page(client, f"{address}/edit")
        assert 'value="3 mΩ"' in form
        given = {**LIMIT, "resistance": "2 mΩ", "seen": "1", "key": key_of(form)}
        answer = client.post(f"{address}/edit", data=given)
        assert answer.status_code == 422
        assert "why this was changed" in fault_beside(looked_at(answer.text), "f-reason")
        assert 'value="2 mΩ"' in answer.text
        answer = client.post(f"{address}/edit", data={**given, "reason": "new edition"})
        text = looked_at(answer.text)
        assert "<del>3 mΩ</del> → <ins>2 mΩ</ins>" in text
        assert "Why: new edition" in text


def test_a_change_by_somebody_else_meanwhile_is_told_and_nothing_typed_is_lost() -> None:
    with browsing() as (client, _shop):
        address = make(client, "limit", LIMIT)
        first, second = page(client, f"{address}/edit"), page(client, f"{address}/edit")
        given = {**LIMIT, "seen": "1", "reason": "x"}
        client.post(f"{address}/edit", data={**given, "resistance": "2 mΩ", "key": key_of(first)})
        answer = client.post(f"{address}/edit", data={**given, "source": "DIY", "key": key_of(second)})
        assert answer.status_code == 422
        assert "changed by Ada since this form was opened" in answer.text
        assert 'value="DIY"' in answer.text
        assert 'name="seen" value="2"' in answer.text


def test_putting_away_and_taking_up_again() -> None:
    with browsing() as (client, _shop):
        address = make(client, "person", {"name": "Ada Example"})
        answer = client.post(f"{address}/add/put-away", data={})
        assert answer.status_code == 422
        assert "why it is put away" in fault_beside(looked_at(answer.text), "put-away-reason")
        assert "<details open>" in answer.text
        text = looked_at(client.post(f"{address}/add/put-away", data={"reason": "moved on"}).text)
        assert "<strong>put away</strong>" in text
        assert "Ada Example" not in page(client, "/people")
        assert "Ada Example" in page(client, "/people?state=put+away")
        assert "Ada Example" not in page(client, "/who")
        client.post(f"{address}/add/take-up", data={"reason": ""})
        assert "Ada Example" in page(client, "/people")


def test_calibrations_are_added_listed_withdrawn_and_due_on_the_first_page() -> None:
    with browsing() as (client, shop):
        address = make(client, "meter", METER_SENT)
        due = f"{START + timedelta(days=20):%Y-%m-%d}"
        answer = client.post(f"{address}/add/calibration", data={"on": "", "due": due, "certificate": "C 9"})
        assert answer.status_code == 422
        assert "a day" in fault_beside(looked_at(answer.text), "calibration-on")
        assert 'value="C 9"' in answer.text
        client.post(f"{address}/add/calibration", data={"on": "2025-03-01", "due": due, "certificate": "C 9"})
        assert "up to 200 mV: 0.5 % + 3 counts" in page(client, address)
        first = page(client, "/")
        assert "bench voltmeter" in first
        assert f"calibration, {due}" in first
        assert "bench voltmeter" in page(client, "/meters?due=yes")
        line = read_card(shop.records, 1).calibrations[0].number
        client.post(f"{address}/add/withdrawal", data={"line": str(line), "reason": "not ours"})
        assert "<strong>withdrawn</strong>: not ours" in page(client, address)
        assert f"calibration, {due}" not in page(client, "/")


def test_a_note_and_a_re_test_are_written_on_a_specimen() -> None:
    with browsing() as (client, _shop):
        address = make(client, "specimen", {"serial": "1", "by": "2026-03-10"})
        assert "re-test, 2026-03-10" in page(client, "/")
        client.post("/cards/1/add/note", data={"text": "pin bent\nagain"})
        client.post("/cards/1/add/re-test", data={"by": "", "reason": "sold"})
        text = page(client, address)
        assert "pin bent<br>again" in text
        assert "Why: sold" in text
        assert "re-test, 2026-03-10" not in page(client, "/")
        assert client.post("/cards/1/add/nonsense", data={}).status_code == 422


@pytest.mark.parametrize("kind", KINDS)
def test_typed_text_is_never_part_of_a_page(kind: CardKind) -> None:
    with browsing() as (client, _shop):
        lines = {
            ask.key: NASTY
            for ask in KINDS[kind].asks
            if ask.form in ("line", "lines") and ask.most >= len(NASTY)
        }
        address = make(client, kind, {**sent(kind), **lines})
        number = address.rpartition("/")[2]
        client.post(f"/cards/{number}/add/note", data={"text": NASTY})
        client.post(f"/cards/{number}/add/put-away", data={"reason": NASTY})
        for place in (
            address,
            f"/cards/{number}/edit",
            f"/{KINDS[kind].slug}?state=",
            "/search?q=script",
            "/shop",
        ):
            page(client, place)
        assert "&lt;script&gt;alert" in page(client, address)
        answer = client.post(
            f"/cards/new/{KINDS[kind].slug}", data={**lines, "made": NASTY, "resistance": NASTY}
        )
        looked_at(answer.text)


def test_search_finds_every_kind_and_says_so_when_nothing_is_found() -> None:
    shop = new_shop()
    for kind in KINDS:
        open_card(shop, kind, GIVEN[kind], BY, kind)
    study(shop, "Is the shunt still good?")
    with browsing(shop) as (client, _):
        assert 'name="q"' in page(client, "/")
        text = page(client, "/search?q=SHUNT")
        assert "Studies <small>1</small>" in text
        assert "Check standards <small>1</small>" in text
        assert "Limits" not in text
        assert "Nothing in the records" in page(client, "/search?q=nowhere")
        assert "Every word has to stand" in page(client, "/search")
        page(client, "/search?q=" + "a+" * 500)
        page(client, "/search?q=%00%FF%E2%9F%A8")
        for number in range(12):
            open_card(shop, "specimen", {"serial": f"X{number}"}, BY, f"x{number}")
        assert "All 12" in page(client, "/search?q=X")
        assert "12 specimens" in page(client, "/specimens?search=X&state=")


def test_lists_are_turned_over() -> None:
    shop = new_shop()
    for number in range(60):
        open_card(shop, "specimen", {"serial": f"S{number:03}"}, BY, f"k{number}")
    with browsing(shop) as (client, _):
        first, second = page(client, "/specimens"), page(client, "/specimens?first=50")
        assert "S059" in first
        assert "S000" not in first
        assert "S000" in second
        page(client, "/specimens?first=99999999999999999999&state=%3Cb%3E&due=yes")


def test_a_specimen_shows_its_readings_of_all_studies_with_its_limit() -> None:
    shop = new_shop()
    limit = open_card(shop, "limit", LIMIT, BY, "l")
    card = open_card(shop, "specimen", {**SPECIMEN, "limit": str(limit)}, BY, "s")
    for year, text in ((2023, "0.2"), (2026, "0.35")):
        number = study(shop, f"Study of {year}")
        name_specimen(shop, number, "N1", card, BY, f"n{year}")
        at = datetime(year, 3, 2, tzinfo=UTC)
        take(
            shop, number, replace(volts("N1", text), time=at), replace(volts("N1", f"-{text}", "-"), time=at)
        )
    with browsing(shop) as (client, _):
        for scale in ("log", "linear", "other"):
            text = page(client, f"/specimens/{card}?scale={scale}")
            assert text.count('<path class="dot" transform') == 2
            assert text.count('class="limit"') == 1
        assert "2.00 mΩ" in text
        assert "3.50 mΩ" in text
        assert "Study of 2023" in text
        assert f'<a href="/cards/{limit}">' in text
        assert "SN 001" in page(client, f"/cards/{limit}")


def test_a_customer_lists_its_jobs_and_leads_to_a_new_one_with_the_customer_chosen() -> None:
    with browsing() as (client, _shop):
        customer = make(client, "customer", {"name": "Stage Hall"})
        number = customer.rpartition("/")[2]
        assert "This card is about a person" in page(client, customer)
        form = page(client, f"/cards/new/jobs?customer={number}")
        assert f'<option value="{number}" selected>Stage Hall</option>' in form
        make(client, "job", {"number": "26-1", "title": "box", "customer": number})
        assert "26-1 – box" in page(client, customer)


def test_a_name_in_a_study_is_given_its_specimen() -> None:
    shop = new_shop()
    number = study(shop)
    take(shop, number, volts("N1", "0.2"), volts("N2", "0.2"))
    with browsing(shop) as (client, _):
        address = f"/studies/{number}/specimens"
        assert "1 reading" in page(client, address)
        answer = client.post(address, data={"name": "N1", "serial": "SN 9", "change": "known"})
        assert answer.status_code == 422
        assert "make a new specimen of it" in looked_at(answer.text)
        assert 'value="SN 9"' in answer.text
        client.post(address, data={"name": "N1", "serial": "SN 9", "change": "new"})
        text = page(client, address)
        assert ">SN 9</a>" in text
        client.post(address, data={"name": "N2", "serial": "sn 9", "change": "known"})
        assert page(client, address).count(">SN 9</a>") == 2
        assert (
            client.post(address, data={"name": "no such", "serial": "x", "change": "new"}).status_code == 422
        )
        assert 'href="/specimens/2">N1</a>' in page(client, f"/studies/{number}/readings")
        assert "2.00 mΩ" in page(client, "/specimens/2")


@pytest.mark.parametrize(
    "address",
    [
        "/cards/99",
        "/cards/99/edit",
        "/specimens/99",
        "/cards/new/nothing",
        "/cards/x",
        f"/cards/{10**30}",
        "/studies/99/specimens",
    ],
)
def test_what_is_not_there_is_said_on_a_page(address: str) -> None:
    with browsing() as (client, _):
        page(client, address, 404)


def test_a_study_is_no_card_to_be_changed_here() -> None:
    shop = new_shop()
    number = study(shop)
    with browsing(shop) as (client, _):
        assert (
            client.get(f"/cards/{number}", follow_redirects=False).headers["location"] == f"/studies/{number}"
        )
        page(client, f"/cards/{number}/edit", 404)
        assert client.post(f"/cards/{number}/add/note", data={"text": "x"}).status_code == 404


def test_a_card_whose_log_cannot_be_read_is_shown_and_can_be_mended() -> None:
    from ohmsworth.work.cards.log import WRITTEN, face_of
    from ohmsworth.work.records import NewLine

    shop = new_shop()
    line = NewLine("k", WRITTEN, {"name": "old limit", "resistance": "three", "source": 5})
    number = shop.records.open_card("limit", BY, [line], face_of("limit"))
    with browsing(shop) as (client, _):
        assert "Not everything on this card can be read" in page(client, f"/cards/{number}")
        form = page(client, f"/cards/{number}/edit")
        assert "&#39;three&#39;" in fault_beside(form, "f-resistance")
        given = {"name": "old limit", "resistance": "3 mΩ", "seen": "1", "reason": "was a word"}
        client.post(f"/cards/{number}/edit", data=given)
        assert "Not everything" not in page(client, f"/cards/{number}")


def test_a_withdrawn_card_is_not_offered_but_stays_chosen_where_it_was() -> None:
    with browsing() as (client, shop):
        limit = make(client, "limit", LIMIT)
        number = limit.rpartition("/")[2]
        specimen = make(client, "specimen", {"serial": "1", "limit": number})
        client.post(f"{limit}/add/put-away", data={"reason": "old"})
        assert f'<option value="{number}"' not in page(client, "/cards/new/specimens")
        form = page(client, f"/cards/{specimen.rpartition('/')[2]}/edit")
        assert f'<option value="{number}" selected>line plug – 3 mΩ (put away)</option>' in form
        add_step(shop, int(specimen.rpartition("/")[2]), "re-test", {"by": "2020-01-01"}, "", BY, "r")
        assert '<strong class="bad">overdue</strong>' in page(client, "/specimens")
