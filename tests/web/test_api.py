"""The interface for other programs: what it does, and that nothing it is sent brings it down."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from jsonschema import Draft202012Validator
from starlette.testclient import TestClient

from ohmsworth import wiring
from ohmsworth.web.api.describe import description
from ohmsworth.web.app import Serving, create_app

TOML = 'question = "Is it within?"\nreference = "new"\n[limit]\nresistance = "4 mΩ"\nsource = "datasheet"\n'


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """Return a client of a bench with records of its own."""
    with wiring.open_records(str(tmp_path / "shop.records")) as records:
        app = create_app(wiring.shop(records), Serving(frozenset({"testserver"}), wiring.typeface_folder()))
        with TestClient(app, raise_server_exceptions=False) as found:
            yield found


def new_study(client: TestClient, key: str = "study-key-1") -> int:
    sent = {"key": key, "toml": TOML, "conditions": ["new", "tarnished"], "specimens": 3, "matings": 2}
    answer = client.post("/api/studies", json=sent)
    assert answer.status_code == 201, answer.text
    return int(answer.json()["number"])


def reading(i: int, volts: str, condition: str = "new", **more: str) -> dict[str, object]:
    return {
        "key": f"reading-{i}", "specimen": f"{condition} {i // 4 + 1}", "condition": condition, "mating": str(i // 2 % 2 + 1),
        "polarity": "-" if i % 2 else "+", "voltage": volts, "current": "100.02 mA", **more,
    }  # fmt: skip


def test_a_study_is_opened_read_and_answered(client: TestClient) -> None:
    study = new_study(client)
    for i in range(12):
        for condition, volts in (("new", f"0.25{i:02d} mV"), ("tarnished", f"0.61{i:02d} mV")):
            sent = reading(i, volts, condition, anyway="typed by a test") | {"key": f"{condition}-{i}-key"}
            answer = client.post(f"/api/studies/{study}/readings", json=sent)
            assert answer.status_code == 200, answer.text
    found = client.get(f"/api/studies/{study}/answer").json()
    assert found["rows"] == 24
    assert [one["condition"] for one in found["conditions"]] == ["new", "tarnished"]
    so_far = client.get(f"/api/studies/{study}/answer-so-far").json()
    assert so_far["sentence"]
    readings = client.get(f"/api/studies/{study}/readings").json()
    assert [one["nth"] for one in readings] == list(range(1, 25))
    assert all(one["number"] > one["nth"] for one in readings)


def test_both_numbers_of_a_reading_are_told_and_described(client: TestClient) -> None:
    study = new_study(client)
    taken = client.post(f"/api/studies/{study}/readings", json=reading(0, "0.25 mV")).json()
    (kept,) = client.get(f"/api/studies/{study}/readings").json()
    assert (taken["number"], taken["nth"]) == (kept["number"], 1)
    page = client.get(f"/studies/{study}/readings").text
    assert f'<a href="/studies/{study}/readings/{kept["number"]}">{kept["nth"]}</a>' in page
    described = client.get("/api/openapi.json").json()["components"]["schemas"]
    for name in ("ReadingOut", "TakenOut"):
        told = described[name]["properties"]
        assert "line of the log" in told["number"]["description"]
        assert "pages and reports show" in told["nth"]["description"]


def test_what_is_sent_twice_is_kept_once(client: TestClient) -> None:
    study = new_study(client)
    assert new_study(client) == study
    first = client.post(f"/api/studies/{study}/readings", json=reading(0, "0.2513 mV"))
    again = client.post(f"/api/studies/{study}/readings", json=reading(0, "0.2513 mV"))
    assert first.json()["number"] == again.json()["number"]
    assert len(client.get(f"/api/studies/{study}/readings").json()) == 1


def test_a_slip_of_ten_is_asked_about_first(client: TestClient) -> None:
    study = new_study(client)
    for i in range(3):
        assert client.post(f"/api/studies/{study}/readings", json=reading(i, "0.2513 mV")).status_code == 200
    slip = reading(3, "2.513 mV")
    asked = client.post(f"/api/studies/{study}/readings", json=slip)
    assert asked.status_code == 409
    assert asked.json()["number"] is None
    assert asked.json()["doubts"]
    kept = client.post(f"/api/studies/{study}/readings", json=slip | {"anyway": "the meter shows it so"})
    assert kept.json()["number"] is not None
    log = client.get(f"/api/studies/{study}/log").json()
    assert [line["kind"] for line in log].count("entry questioned") == 1


@pytest.mark.parametrize(
    ("volts", "part"),
    [
        ("1,234 mV", "one way"),
        ("0.25", "unit"),
        ("6² mV", "unit"),
        ("9.9e37 V", "range"),
        ("nan V", "range"),
        ("", "nothing"),
    ],
)
def test_a_voltage_that_is_none_is_refused_with_its_field(client: TestClient, volts: str, part: str) -> None:
    study = new_study(client)
    answer = client.post(f"/api/studies/{study}/readings", json=reading(0, volts))
    assert answer.status_code == 422, answer.text
    fault = answer.json()["faults"][0]
    assert fault["where"] == "voltage"
    assert part in " ".join(fault.values())


def test_the_description_is_sound(client: TestClient) -> None:
    found = client.get("/api/openapi.json").json()
    assert found["openapi"].startswith("3.1")
    for schema in found["components"]["schemas"].values():
        Draft202012Validator.check_schema(schema)


def test_nothing_that_is_sent_brings_it_down(client: TestClient) -> None:
    """Schemathesis makes requests of every kind from the description; none may be answered with a fault of the program."""
    study = new_study(client)
    client.post(f"/api/studies/{study}/readings", json=reading(0, "0.2513 mV"))
    schema = schemathesis.openapi.from_dict(description(client.app))  # type: ignore[arg-type]
    asked = []

    for found in schema.get_all_operations():
        operation = found.ok()

        @settings(
            max_examples=25,
            deadline=None,
            derandomize=True,
            suppress_health_check=list(HealthCheck),
            database=None,
        )
        @schemathesis_given(operation)
        def one(case: schemathesis.Case) -> None:
            answer = client.request(
                case.method,
                case.formatted_path,
                params=case.query or None,
                json=case.body if not isinstance(case.body, schemathesis.core.NotSet) else None,
            )
            asked.append(answer.status_code)
            assert answer.status_code < 500, answer.text

        one()
    assert len(asked) > 200


def schemathesis_given(operation: object):  # type: ignore[no-untyped-def]
    """Cases of one operation, as hypothesis draws them."""
    from hypothesis import given

    return given(case=operation.as_strategy())  # type: ignore[attr-defined]


def _spelt_out(paths: dict[str, Any]) -> dict[str, Any]:
    """The paths with every word that may stand for a part of them: {of} is "cables" or "studies"."""
    for path, told in list(paths.items()):
        for one in next(iter(told.values())).get("parameters", ()):
            for word in one["schema"].get("enum", ()) if one["in"] == "path" else ():
                paths[path.replace(f"{{{one['name']}}}", word)] = told
    return paths


def test_the_manual_shows_what_works(client: TestClient) -> None:
    """The example of docs/programs.md is taken, and every address in its table is one that there is."""
    text = (Path(__file__).parents[2] / "docs" / "programs.md").read_text(encoding="utf-8")
    new_study(client)
    example = re.search(r"--json '(\{.*?\})'", text, re.DOTALL)
    assert example
    assert client.post("/api/studies/1/readings", json=json.loads(example[1])).status_code == 200
    paths = _spelt_out(description(client.app)["paths"])  # type: ignore[arg-type]
    for method, path in re.findall(r"`(GET|POST) (/api/[^`?]*)", text):
        pattern = re.sub(r"/[NM](?=[/.]|$)", "/[^/]+", path)
        assert any(re.fullmatch(pattern, known) and method.lower() in paths[known] for known in paths), path
