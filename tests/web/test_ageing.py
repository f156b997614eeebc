"""How contacts age, over the records, through the pages: cards, treatments, choices, pictures, and what cannot be told."""

import html
import json
import math
import re
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import pytest
from tests.web.aged import DAYS, Aged, study, take_in, two_platings, years
from tests.web.kept import Kept, in_memory
from tests.web.policy import breaches

PLACE = "/studies/known/ageing"
SCHEMA = json.loads(
    (Path(__file__).parents[2] / "src/ohmsworth/report/ageing.schema.json").read_text("utf-8")
)


@pytest.fixture
def bench(tmp_path: Path) -> Kept:
    return in_memory(tmp_path, drawn=True)


def page(bench: Kept, status: int = 200, **asked: str) -> str:
    answer = bench.client.get(PLACE, params=asked)
    assert answer.status_code == status, answer.text
    assert breaches(answer.text) == []
    return html.unescape(answer.text)


def data(bench: Kept, **asked: str) -> dict[str, Any]:
    told = bench.client.get(f"{PLACE}/answer.json", params=asked)
    assert told.status_code == 200, told.text
    found: dict[str, Any] = told.json()
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    return found


def treat(bench: Kept, card: int, what: str, on: str) -> None:
    sent = {"what": what, "on": on, "key": f"{card} {what} {on}"}
    assert bench.client.post(f"/cards/{card}/add/treatment", data=sent).status_code == 303


def test_empty_records_say_what_it_takes(bench: Kept) -> None:
    assert "cannot be told yet: that takes two specimens of a kind" in page(bench)
    assert f"{PLACE}?by=supplier+lot" in bench.client.get("/studies/known").text
    assert data(bench, by="plating")["levels"] == []


def test_platings_are_told_apart(bench: Kept) -> None:
    two_platings(bench)
    text = page(bench, by="plating")
    assert (
        "'silver' contacts age faster than 'gold' contacts: in a year the resistance of the first changes by +13 %"
        in text
    )
    assert "They are not of one age: 'gold' contacts were some 3.0 years old" in text
    found = data(bench, by="plating")
    gold, silver = found["levels"]
    assert (gold["name"], silver["name"]) == ("gold", "silver")
    # Planted: 0.018, 0.024, 0.015, 0.021 a year; of two contacts and two matings a day each day is one visit.
    assert gold["log_slope"] == pytest.approx(0.0195, abs=0.01)
    assert silver["log_slope"] == pytest.approx(0.11625, abs=0.01)
    assert gold["specimens"] == gold["read"] == 4
    assert gold["visits"] == 4 * len(DAYS)
    assert gold["degrees_of_freedom"] == pytest.approx(3, rel=0.05)
    assert [one["verdict"] for one in found["differences"]] == ["faster"]
    pictures = set(re.findall(rf'href="({PLACE}/pictures/[^"]+)"', text))
    assert {address.split("/")[-1].split(".")[0] for address in pictures} == {
        "ageing-slopes", "ageing-differences", "ageing-course",
    }  # fmt: skip
    for address in pictures:
        assert bench.client.get(address).status_code == 200, address
    assert bench.client.get(f"{PLACE}/report.pdf", params={"by": "plating"}).content.startswith(b"%PDF-")


def test_what_does_not_differ_is_not_told_apart(bench: Kept) -> None:
    two_platings(bench)
    assert "Which ages faster cannot be told yet" in page(bench, by="supplier lot")
    assert [one["verdict"] for one in data(bench, by="supplier lot")["differences"]] == ["cannot tell yet"]
    # Of the gold ones alone both lots are much surer.
    only = data(bench, by="supplier lot", **{"only.plating": "Gold "})
    assert [one["specimens"] for one in only["levels"]] == [2, 2]
    assert only["only"] == [{"what": "plating", "value": "Gold"}]


def test_a_part_of_one_kind_is_told_alone(bench: Kept) -> None:
    two_platings(bench)
    assert "Contacts of 'socket 3': in a year the resistance changes by +7" in page(bench, by="part")


def test_a_choice_that_nothing_has_is_refused(bench: Kept) -> None:
    two_platings(bench)
    assert "Did you mean 'gold'?" in page(bench, 422, by="plating", **{"only.plating": "gould"})
    assert bench.client.get(PLACE, params={"by": "weather"}).status_code == 404


def test_specimens_whose_card_does_not_say_are_counted(bench: Kept) -> None:
    take_in(bench, [Aged(f"N{k}", 0.05) for k in range(2)])
    found = data(bench, by="plating")
    assert found["unstated"] == 2
    assert "2 specimens whose card states no plating" in found["findings"][-1]


def test_one_specimen_of_a_kind_has_no_number(bench: Kept) -> None:
    kinds = {"N0": "nickel", "N1": "tin", "N2": "tin"}
    take_in(bench, [Aged(name, 0.05, {"plating": plating}) for name, plating in kinds.items()])
    found = {one["name"]: one for one in data(bench, by="plating")["levels"]}
    assert found["nickel"]["per_year"] is None
    assert found["nickel"]["why"] == "one specimen alone was read on two days, which says nothing of its kind"
    assert found["tin"]["per_year"] is not None


def test_a_treatment_begins_a_new_course(bench: Kept) -> None:
    """Planted: grows by 0.2 a year; cleaned or wiped in 2023 it falls to 4 mΩ, then grows by 0.03 and by 0.2."""
    rows, treated = ["specimen,condition,mating,time,resistance [mΩ]"], {}
    for k, what in enumerate(["clean"] * 3 + ["wipe"] * 3):
        name, after = f"T{k}", 0.03 if what == "clean" else 0.2
        treated[name] = what
        for n, day in enumerate(DAYS):
            jitter = 0.004 * math.sin(7 * k + 3 * n)
            if day <= DAYS[2]:
                rows.append(
                    f"{name},as found,{n},{day} 09:00,{4 * math.exp((0.2 + 0.005 * k) * years(day) + jitter):.5f}"
                )
            if day == DAYS[2]:
                rows.append(f"{name},treated,{n},{day} 15:00,{4 * math.exp(jitter):.5f}")
            if day > DAYS[2]:
                since = years(day) - years(DAYS[2])
                rows.append(
                    f"{name},as found,{n},{day} 09:00,{4 * math.exp((after + 0.004 * k) * since + jitter):.5f}"
                )
    cards = study(bench, rows, {name: {} for name in treated})
    for name, what in treated.items():
        treat(bench, cards[name], what, DAYS[2])
    found = {one["name"]: one for one in data(bench, by="treatment")["levels"]}
    assert found["not treated"]["log_slope"] == pytest.approx(0.2125, abs=0.01)
    assert found["clean"]["log_slope"] == pytest.approx(0.034, abs=0.01)
    assert found["wipe"]["log_slope"] == pytest.approx(0.216, abs=0.01)
    # The reading right after the treatment begins the course of the later ones, whatever it was called.
    assert found["clean"]["visits"] == 9
    assert found["not treated"]["visits"] == 18
    assert "Contacts after 'clean' keep best" in page(bench, by="treatment")
    # Nothing of the fall counts as growth, whatever contacts are told apart by.
    as_found = data(bench, by="condition")["levels"][0]
    assert 0.03 < as_found["log_slope"] < 0.25


def test_a_treatment_that_is_withdrawn_no_longer_counts(bench: Kept) -> None:
    cards = take_in(bench, [Aged(f"W{k}", 0.05) for k in range(2)])
    treat(bench, cards["W0"], "clean", "2023-06-01")
    assert [one["name"] for one in data(bench, by="treatment")["levels"]] == ["not treated", "clean"]
    text = bench.client.get(f"/specimens/{cards['W0']}").text
    assert "Withdraw a treatment" in text
    line = re.search(r'<option value="(\d+)">[^<]*clean', text)
    assert line
    address = f"/cards/{cards['W0']}/add/no-treatment"
    assert bench.client.post(address, data={"line": line[1], "key": "k1"}).status_code == 422
    sent = {"line": line[1], "reason": "another one was meant", "key": "k2"}
    assert bench.client.post(address, data=sent).status_code == 303
    assert [one["name"] for one in data(bench, by="treatment")["levels"]] == ["not treated"]
    assert "another one was meant" in bench.client.get(f"/specimens/{cards['W0']}").text


def test_a_reading_that_is_taken_or_withdrawn_later_counts_at_once(bench: Kept) -> None:
    take_in(bench, [Aged(f"L{k}", 0.05, {"plating": "tin"}) for k in range(2)])
    assert data(bench, by="plating")["levels"][0]["visits"] == 10
    number = next(card.number for card in bench.records.cards("study"))
    readings = bench.client.get(f"/api/studies/{number}/readings").json()
    for one in readings[-4:]:  # the last day of the last specimen
        sent = {"change": "withdraw", "reason": "the clip had slipped", "key": f"withdrawn.{one['number']}"}
        told = bench.client.post(f"/api/studies/{number}/readings/{one['number']}/changes", json=sent)
        assert told.status_code == 200, told.text
    assert data(bench, by="plating")["levels"][0]["visits"] == 9
