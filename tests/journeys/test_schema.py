"""The JSON contract: the published schema is the records' own, and the answers to studies of many kinds meet it."""

from __future__ import annotations

import importlib.util
import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import pytest
from tests.journeys.kinds import KINDS, kind

from ohmsworth.report.answer import FORMAT, as_json

ROOT = Path(__file__).parents[2]
SCHEMA = json.loads((ROOT / "src/ohmsworth/report/answer.schema.json").read_text("utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)

#: What other programs may lean on: list -> keys of each of its records.
CONTRACT = {
    "specimens": "id condition resistance standard_uncertainty low high probability_within verdict",
    "conditions": "condition specimens resistance standard_uncertainty low high probability_within verdict",
    "comparisons": "of against paired difference ratio degrees_of_freedom p_value exact_p_value "
    "smallest_exact_p_value margin verdict settle",
    "scatter": "level standard_deviation",
    "budget": "source contribution share",
    "equivalent_length": "subject conductor length",
    "uses": "kind name settings effects thresholds",
    "warnings": "code rows what_to_do set_aside",
    "actions": "words why cautions",
    "sources": "key citation standing",
}


def written(name: str) -> dict[str, Any]:
    """The answer as another program reads it."""
    found: dict[str, Any] = json.loads(json.dumps(as_json(kind(name).answer), allow_nan=False))
    return found


def numbers(value: object) -> Iterator[float]:
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for item in value:
            yield from numbers(item)
    elif isinstance(value, float):
        yield value


def test_the_schema_is_what_the_records_make() -> None:
    pytest.importorskip("pydantic", reason="pydantic, of the development lock, makes the schema")
    place = importlib.util.spec_from_file_location("make_schema", ROOT / "tools/make_schema.py")
    assert place is not None
    assert place.loader is not None
    module = importlib.util.module_from_spec(place)
    place.loader.exec_module(module)
    assert module.schema_text() == (ROOT / "src/ohmsworth/report/answer.schema.json").read_text("utf-8")


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("name", KINDS)
def test_an_answer_of_every_kind_meets_the_schema(name: str) -> None:
    VALIDATOR.validate(written(name))


@pytest.mark.parametrize("name", KINDS)
def test_every_number_is_finite(name: str) -> None:
    found = list(numbers(as_json(kind(name).answer)))
    assert len(found) > 5
    assert all(math.isfinite(number) for number in found)


@pytest.mark.parametrize("name", KINDS)
def test_the_contract_is_kept(name: str) -> None:
    answer = written(name)
    assert answer["format"] == FORMAT
    for listed, keys in CONTRACT.items():
        for record in answer[listed]:
            assert set(keys.split()) <= set(record), listed
    for record in answer["comparisons"]:
        assert set(record["difference"]) == set(record["ratio"]) == {"value", "low", "high"}
    assert answer["specimens"]
    assert answer["conditions"]
    assert answer["method"]
    assert answer["sentence"]


@pytest.mark.parametrize("name", KINDS)
def test_what_the_numbers_promise_of_each_other(name: str) -> None:
    answer = written(name)
    for record in (*answer["specimens"], *answer["conditions"]):
        if record["low"] is not None:
            assert record["low"] <= record["resistance"] <= record["high"]
            assert record["standard_uncertainty"] > 0
        assert record["probability_within"] is None or 0 <= record["probability_within"] <= 1
        assert (record["verdict"] is None) == (answer["limit"] is None)
    shares = [line["share"] for line in answer["budget"]]
    assert shares == sorted(shares, reverse=True)
    if shares:
        assert sum(shares) == pytest.approx(1, abs=1e-9)
    for record in answer["comparisons"]:
        assert record["against"] == answer["reference"]
        assert record["difference"]["low"] <= record["difference"]["value"] <= record["difference"]["high"]
        assert 0 <= record["p_value"] <= 1


@pytest.mark.parametrize("name", KINDS)
def test_nothing_that_was_measured_goes_missing(name: str) -> None:
    answer = written(name)
    rows = KINDS[name]()[1]
    assert answer["rows"] == answer["rows_used"] == len(rows)
    assert sum(s["readings"] for s in answer["specimens"]) == answer["resistances"]
    assert {s["condition"] for s in answer["specimens"]} == {c["condition"] for c in answer["conditions"]}
    if "condition" in rows[0]:
        assert {c["condition"] for c in answer["conditions"]} == {row["condition"] for row in rows}


@pytest.mark.parametrize(
    ("name", "paired", "levels"),
    [
        ("two conditions", False, {"specimen", "mating"}),
        ("paired", True, {"specimen", "response", "mating"}),
        ("crossed", False, {"plug", "socket"}),
    ],
)
def test_a_design_is_seen_for_what_it_is(name: str, paired: bool, levels: set[str]) -> None:
    answer = written(name)
    assert [c["paired"] for c in answer["comparisons"]] == [paired]
    # A level of which there is but one below the other is told as merged with it.
    assert levels <= {level for s in answer["scatter"] for level in (s["level"], *s["merged"])}


def test_a_key_too_few_or_a_word_for_a_number_is_refused() -> None:
    answer = written("two conditions")
    broken = {**answer, "comparisons": [{**answer["comparisons"][0], "p_value": "small"}]}
    assert not VALIDATOR.is_valid(broken)
    assert not VALIDATOR.is_valid({key: value for key, value in answer.items() if key != "budget"})
