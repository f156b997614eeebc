"""The page of a season of cables, asked as a browser without scripts would."""

from __future__ import annotations

import csv
import io

from starlette.testclient import TestClient
from tests.unit.work.builds.built import TOML
from tests.web.test_cables import client, measured, page

from ohmsworth.work.builds.face import plain_face

__all__ = ["client"]
JACK = TOML.replace("[ends.A]", '[ends.A]\nconnector = "jack"').replace("no. 12", "no. 13")


def test_before_any_cable_is_measured_the_page_says_so(client: TestClient) -> None:
    text = page(client, "/cables/season")
    assert "No cable has been tested completely yet." in text
    assert "1 cable" in text
    assert 'href="/cables/season"' in page(client, "/cables")


def test_a_cable_that_was_measured_is_counted(client: TestClient) -> None:
    measured(client)
    for by in ("week", "month", "nonsense"):
        text = page(client, f"/cables/season?by={by}")
        shown = by if by == "month" else "week"
        assert f"One cable was tested since the {shown} of " in text
        assert f'<option value="{shown}" selected>' in text
        assert "85 mΩ/m" in text.replace("\xa0", " ")


def test_a_search_chooses_the_cables(client: TestClient) -> None:
    measured(client)
    client.post("/cables/new", data={"toml": JACK, "key": "another"})
    assert "2 cables" in page(client, "/cables/season")
    text = page(client, "/cables/season?search=jack")
    assert "1 cable with “jack”" in text
    assert "No cable has been tested completely yet." in text
    assert "search=jack" in text.partition("cables.csv?")[2][:40]
    assert "&lt;b&gt;" in page(client, "/cables/season?search=<b>")


def test_the_cables_one_by_one(client: TestClient) -> None:
    measured(client)
    answer = client.get("/cables/season/cables.csv?by=month&search=line")
    assert answer.headers["content-disposition"] == 'attachment; filename="cables.csv"'
    heading, row = csv.reader(io.StringIO(answer.content.decode("utf-8-sig")))
    assert dict(zip(heading, row, strict=True))["first complete test"] == "right"
    assert client.get("/cables/season/pictures/none.csv").status_code == 404


def test_figures_of_older_records_are_worked_out_when_asked(client: TestClient) -> None:
    measured(client)
    records = client.app.state.shop.records  # type: ignore[attr-defined]
    records.add(1, "Ada", [], plain_face)
    text = page(client, "/cables/season")
    assert "1 cable cannot be counted" in text
    answer = client.post("/cables/season/anew")
    assert (answer.status_code, answer.headers["location"]) == (303, "/cables/season")
    text = page(client, "/cables/season")
    assert "cannot be counted" not in text
    assert "and was right at its first complete test" in text
