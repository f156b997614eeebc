"""The settings: of a screen in its cookies, of the shop in the records."""

from datetime import timedelta
from pathlib import Path

import pytest
from tests.web.doors import guarded
from tests.web.kept import NOW, Kept, in_memory
from tests.web.policy import Sheet, breaches

from ohmsworth.work.cards.writing import open_card
from ohmsworth.work.shop_settings import WORDS, read_settings


@pytest.fixture
def bench(tmp_path: Path) -> Kept:
    return in_memory(tmp_path)


def fields(html: str) -> dict[str, str]:
    return {one["name"] or "": one.get("value") or "" for one in Sheet(html).all("input") if one.get("name")}


@pytest.mark.parametrize("screen", ["light", "dark", "sunlight"])
def test_the_screen_is_set_and_set_back(screen: str, bench: Kept) -> None:
    told = bench.client.post("/screen", data={"screen": screen, "mark": "comma"})
    assert told.status_code == 303
    assert "HttpOnly" in told.headers["set-cookie"]
    page = bench.client.get(told.headers["location"]).text
    assert breaches(page) == []
    assert f'data-screen="{screen}"' in page
    assert '<option value="comma" selected>' in page
    assert bench.records.settings() == {}
    bench.client.post("/screen", data={"screen": "<b>", "mark": "x"})
    page = bench.client.get("/settings").text
    assert "data-screen" not in page
    assert 'value="comma" selected' not in page


def test_what_the_shop_settles_stands_everywhere(bench: Kept) -> None:
    page = bench.client.get("/settings")
    assert page.status_code == 200
    assert breaches(page.text) == []
    assert set(WORDS) - {"shop_address"} <= set(fields(page.text))
    given = {
        "shop_name": 'Ohm & "sons"',
        "voltmeter.accuracy": "0.05 % + 5 counts",
        "voltmeter.resolution": "1 µV",
        "days_ahead": "100",
    }
    done = bench.client.post("/settings", data=given)
    assert done.status_code == 303
    page = bench.client.get(done.headers["location"])
    assert breaches(page.text) == []
    assert "4 settings were changed" in page.text
    assert fields(page.text)["shop_name"] == 'Ohm & "sons"'
    assert "<td>Ann</td><td>days ahead</td><td>100</td>" in page.text
    new = fields(bench.client.get("/studies/new").text)
    assert new["voltmeter.accuracy"] == "0.05 % + 5 counts"
    day = f"{NOW + timedelta(days=90):%Y-%m-%d}"
    open_card(bench.shop, "job", {"number": "26-1", "title": "box", "promised_by": day}, "Ann", "job")
    assert "26-1" in bench.client.get("/").text
    bench.client.post("/settings", data=given | {"days_ahead": "30"})
    assert "Nothing is due within 30 days." in bench.client.get("/").text
    assert "Nothing was changed." in bench.client.get("/settings?said=0").text


def test_a_fault_stands_beside_its_field(bench: Kept) -> None:
    given = {"days_ahead": "soon", "shop_name": "<b>kept</b>", "copies_folder": "here"}
    refused = bench.client.post("/settings", data=given)
    assert refused.status_code == 422
    assert breaches(refused.text) == []
    for name in ("days_ahead", "copies_folder"):
        assert f'id="{name}-fault"' in refused.text
    assert fields(refused.text)["shop_name"] == "<b>kept</b>"
    assert bench.records.settings() == {}
    refused = bench.client.post("/settings", data={"voltmeter.accuracy": "good"})
    assert breaches(refused.text) == []
    assert 'id="voltmeter.accuracy-fault"' in refused.text


def test_the_shop_stands_at_the_foot_of_a_report(tmp_path: Path) -> None:
    bench = in_memory(tmp_path, drawn=True)
    bench.client.post("/settings", data={"shop_name": "Ohm & sons", "shop_address": "1 Long Lane\r\nTown"})
    assert read_settings(bench.records).shop_address == "1 Long Lane\nTown"
    report = bench.client.get("/circuits/files/what-a-milliohm-does.html?use=video&ohms=3%20m%CE%A9")
    assert report.status_code == 200
    assert "<footer><p>Ohm &amp; sons, 1 Long Lane, Town. Made with Ohmsworth" in report.text


def test_only_the_office_changes_the_shop(tmp_path: Path) -> None:
    with guarded(tmp_path) as made:
        olga, ben = made.signed_in("olga"), made.signed_in("ben")
        page = ben.get("/settings")
        assert page.status_code == 200
        assert breaches(page.text) == []
        assert "it takes the role office. ben has the role bench." in page.text
        assert "/accounts" not in page.text
        assert ben.post("/settings", data={"shop_name": "x"}).status_code == 403
        assert made.shop.records.settings() == {}
        assert ben.post("/screen", data={"screen": "dark"}).status_code == 303
        assert "/accounts" in olga.get("/settings").text
        assert olga.post("/settings", data={"shop_name": "x"}).status_code == 303
        assert made.shop.records.setting_lines()[0].by == "olga"
