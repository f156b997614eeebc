"""The page of a season of cables, asked as a browser without scripts would."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

from starlette.testclient import TestClient
from tests.unit.work.builds.built import TOML
from tests.web.policy import breaches
from tests.web.test_cables import client, measured, page

from ohmsworth.work.builds.face import plain_face
from ohmsworth.work.records import NewLine

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
    for place in ("pictures/none.csv", "drawn/none.svg"):
        assert client.get(f"/cables/season/{place}").status_code == 404


def test_pictures_are_fetched_when_they_are_looked_at(client: TestClient) -> None:
    measured(client)
    card = client.app.state.shop.records.card(1)  # type: ignore[attr-defined]
    for number, day in enumerate(("2026-01-05", "2026-02-05")):
        face = replace(
            card.face, figures={**card.face.figures, "day": day, "first": "wrong", "faults": ["touch"]}
        )
        client.app.state.shop.records.open_card(  # type: ignore[attr-defined]
            "cable",
            "Ada",
            [NewLine(f"more-{number}", "cable described", {"toml": TOML})],
            lambda _, f=face: f,
        )
    text = page(client, "/cables/season?by=month&search=line")
    assert "Of 3 cables tested since the month of 2026-01-01, 33 % were right" in text
    assert "What was wrong most often: something touches, in 2 cables." in text
    for name in ("season-right", "season-conductors"):
        assert f"/cables/season/drawn/{name}.svg?by=month&amp;search=line" in text
        drawn = client.get(f"/cables/season/drawn/{name}.svg?by=month&search=line")
        assert drawn.status_code == 200
        assert breaches(drawn.text, whole=False) == []
        assert "months since 2026-01-01" in drawn.text
        kept = client.get(f"/cables/season/pictures/{name}.csv?by=month")
        assert kept.headers["content-type"].startswith("text/csv")


def test_figures_of_older_records_are_worked_out_when_asked(client: TestClient) -> None:
    measured(client)
    records = client.app.state.shop.records  # type: ignore[attr-defined]
    records.renew_face(1, plain_face)
    text = page(client, "/cables/season")
    assert "1 cable cannot be counted" in text
    answer = client.post("/cables/season/anew")
    assert (answer.status_code, answer.headers["location"]) == (303, "/cables/season")
    text = page(client, "/cables/season")
    assert "cannot be counted" not in text
    assert "and was right at its first complete test" in text
