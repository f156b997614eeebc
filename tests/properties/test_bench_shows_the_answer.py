"""What the bench shows for a reading, the answer so far and the whole answer say of the same readings is the same."""

from __future__ import annotations

import re
import tempfile
from html import unescape
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from ohmsworth import wiring
from ohmsworth.units import show
from ohmsworth.web.app import Serving, create_app

PART = {"HX-Request": "true"}


@st.composite
def small_studies(draw: st.DrawFn) -> dict[str, Any]:
    """A limit, a way of reading, and the milliohms of every mating of two conditions."""
    matings = st.lists(st.floats(1.0, 6.0), min_size=2, max_size=2)
    return {
        "limit": draw(st.sampled_from(["", "2.5 mΩ", "4 mΩ"])),
        "ohms": draw(st.booleans()),
        "reversal": draw(st.booleans()),
        "specimens": draw(st.lists(matings, min_size=4, max_size=4)),
        "emf": draw(st.floats(-2e-6, 2e-6)),
    }


def _open(client: TestClient, study: dict[str, Any]) -> None:
    meters = (
        {"ohmmeter.accuracy": "0.1 %", "ohmmeter.resolution": "1 µΩ"}
        if study["ohms"]
        else {
            "voltmeter.accuracy": "0.05 %",
            "voltmeter.resolution": "0.1 µV",
            "ammeter.accuracy": "0.2 %",
            "ammeter.resolution": "10 µA",
        }
    )
    form = {
        "question": "Do they differ?",
        "conditions": "new\nold",
        "specimens": "2",
        "matings": "2",
        "key": "the-study",
        **({"limit": study["limit"], "limit_source": "drawing"} if study["limit"] else {}),
        **({"reversal": "yes"} if study["reversal"] and not study["ohms"] else {}),
        **meters,
    }
    assert client.post("/studies/new", data=form, follow_redirects=False).status_code == 303


def _take(client: TestClient, text: str, study: dict[str, Any], places: dict[str, int]) -> str:
    """Read the step that the page shows, and keep it whatever is doubted."""

    def field(name: str) -> str:
        found = re.search(rf'name="{name}" value="([^"]*)"', text)
        assert found, name
        return unescape(found[1])

    names = ("key", "step", "specimen", "condition", "contact", "mating", "polarity")
    sent = {name: field(name) for name in names}
    place = places.setdefault(f"{sent['specimen']}|{sent['condition']}", len(places))
    milliohm = study["specimens"][place % 4][int(sent["mating"] or 1) % 2]
    if study["ohms"]:
        sent |= {"resistance": f"{milliohm:.3f}", "resistance_unit": "mΩ"}
    else:
        sign = -1 if sent["polarity"] == "-" else 1
        volts = sign * milliohm * 1e-3 * 0.1 + study["emf"]
        sent |= {"voltage": f"{volts * 1e3:.4f}", "voltage_unit": "mV"}
        sent |= {"current": f"{sign * 100}", "current_unit": "mA"}
    answer = client.post("/studies/1/bench", data=sent | {"anyway": "so", "keep": "yes"}, headers=PART)
    assert answer.status_code == 200, answer.text
    return answer.text


@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
@given(small_studies())
def test_the_bench_and_the_answer_say_the_same(study: dict[str, Any]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        place = str(Path(folder) / "shop.records")
        with wiring.open_records(place) as records:
            serving = Serving(frozenset({"testserver"}), wiring.typeface_folder(), drawing=wiring.drawing())
            with TestClient(create_app(wiring.shop(records), serving)) as client:
                _compare(client, study)


def _compare(client: TestClient, study: dict[str, Any]) -> None:
    _open(client, study)
    text, places, steps = client.get("/studies/1/bench").text, dict[str, int](), 0
    while 'id="entry"' in text and steps < 40:
        text, steps = _take(client, text, study, places), steps + 1
        live = client.get("/api/studies/1/answer-so-far").json()
        if live is not None and not study["limit"]:
            assert not [one["verdict"] for one in (*live["specimens"], *live["conditions"]) if one["verdict"]]
            assert live["stop"] == ("go on" if 'id="entry"' in text else "stop")
    assert "The sheet is done" in text
    whole = client.get("/studies/1/answer.json").json()
    live = client.get("/api/studies/1/answer-so-far").json()
    for mine, theirs in zip(live["conditions"], whole["conditions"], strict=True):
        assert mine["condition"] == theirs["condition"]
        assert mine["resistance"] == theirs["resistance"]
        assert (mine["low"], mine["high"]) == (theirs["low"], theirs["high"])
        assert mine["plain_verdict"] == theirs["verdict"]
        assert mine["verdict"] in (mine["plain_verdict"], "too close to call")
    for mine, theirs in zip(live["specimens"], whole["specimens"], strict=True):
        assert mine["resistance"] == theirs["resistance"], show(mine["resistance"], "Ω")
        assert (mine["low"], mine["high"]) == (theirs["low"], theirs["high"])
        assert mine["plain_verdict"] == theirs["verdict"]
    assert whole["coverage"] == live["coverage"] == 0.95
    percent = f"{100 * whole['coverage']:.0f} %"
    assert percent in client.get("/studies/1/bench/live").text
    assert percent in text
