"""Studies whose readings say more than specimen and condition, taken in from a folder and read on at the bench."""

import re

import pytest
from starlette.testclient import TestClient
from tests.web import test_study_pages
from tests.web.test_study_pages import PART, hidden, page

client = test_study_pages.client

FACTORS = """\
question = "Does the lubricant help tarnished plugs?"
factors = ["plug state", "grease"]
reference = ["new", "none"]
scatter_by = ["day"]
[bench.ohmmeter]
accuracy = "0.1 % of reading"
resolution = "1 µΩ"
"""
FACTOR_ROWS = """\
specimen,Plug state,Grease,day,mating,resistance [mΩ]
P1,new,none,1,1,2.50
P1,new,none,2,2,2.52
P2,new,some,1,1,2.55
P2,new,some,2,2,2.57
P3,tarnished,none,1,1,4.60
P3,tarnished,none,2,2,4.65
P4,tarnished,some,1,1,3.91
P4,tarnished,some,2,2,3.95
"""
PAIRS = """\
question = "Which plugs are worn?"
[bench.ohmmeter]
accuracy = "0.1 % of reading"
resolution = "1 µΩ"
"""
PAIR_ROWS = """\
plug,socket,condition,mating,resistance [mΩ]
P1,S1,as found,1,2.50
P1,S2,as found,1,2.52
P2,S1,as found,1,2.95
P2,S2,as found,1,2.97
"""


def take_in(client: TestClient, name: str, toml: str, rows: str) -> str:
    """The address of the study that the folder became."""
    files = [
        ("files", (f"{name}/study.toml", toml.encode(), "text/plain")),
        ("files", (f"{name}/readings.csv", rows.encode(), "text/csv")),
    ]
    answer = client.post("/records/take-in", files=files)
    assert answer.status_code == 200, answer.text
    found = re.search(r'href="(/studies/\d+)', answer.text)
    assert found, answer.text
    return found[1]


def sent_from(text: str) -> dict[str, str]:
    """Every field of the form of the bench, as it is filled in."""
    form = text[text.index('<form id="entry"') :].partition("</form>")[0]
    names = re.findall(r'<input[^>]* name="([^"]+)"', form)
    return {name: hidden(form, name) for name in names if name not in ("resistance", "anyway")}


@pytest.fixture
def factors(client: TestClient) -> str:
    return take_in(client, "factors", FACTORS, FACTOR_ROWS)


def test_the_bench_asks_for_the_columns_of_the_study(client: TestClient, factors: str) -> None:
    sent = sent_from(page(client, f"{factors}/bench"))
    assert {name for name in sent if name.startswith("other.")} == {
        "other.plug state",
        "other.grease",
        "other.day",
    }
    assert sent["other.plug state"] == "tarnished"
    more = {"specimen": "P5", "mating": "1", "resistance": "3.97", "resistance_unit": "mΩ", "polarity": "+"}
    refused = client.post(f"{factors}/bench", data=sent | more | {"other.grease": " "}, headers=PART)
    assert refused.status_code == 422
    assert "Grease" in refused.text or "grease: Found nothing" in refused.text
    kept = client.post(f"{factors}/bench", data=sent | more | {"anyway": "so", "keep": "yes"}, headers=PART)
    assert kept.status_code == 200, kept.text
    answer = client.get(f"{factors}/answer.json")
    assert answer.status_code == 200, answer.text
    assert "plug state tarnished, grease some" in answer.text


def test_the_answer_so_far_takes_the_headings_of_a_file_as_the_file_is_read(
    client: TestClient, factors: str
) -> None:
    """'Plug state' in the file is the study's "plug state"."""
    live = client.get(f"/api{factors}/answer-so-far").json()
    names = {one["condition"] for one in live["conditions"]}
    assert names == {
        f"plug state {state}, grease {grease}"
        for state in ("new", "tarnished")
        for grease in ("none", "some")
    }


def test_a_further_column_can_be_corrected(client: TestClient, factors: str) -> None:
    listed = client.get(f"/api{factors}/readings").json()
    number = listed[-1]["number"]
    text = page(client, f"{factors}/readings/{number}")
    form = text[text.index("Correct it") :]
    sent = {
        name: hidden(form, name) for name in ("key", "specimen", "condition", "contact", "mating", "note")
    }
    sent |= {"resistance": "3.95", "resistance_unit": "mΩ", "polarity": "", "reason": "wrong tube"}
    answer = client.post(
        f"{factors}/readings/{number}", data={**sent, "change": "correct", "other.Grease": "none"}
    )
    assert answer.status_code == 200, answer.text
    (entry,) = (
        one["entry"] for one in client.get(f"/api{factors}/readings").json() if one["number"] == number
    )
    assert entry["others"] == {"Plug state": "tarnished", "Grease": "none", "day": "2"}


def test_a_pair_of_plug_and_socket_is_read_on_by_its_parts(client: TestClient) -> None:
    study = take_in(client, "pairs", PAIRS, PAIR_ROWS)
    sent = sent_from(page(client, f"{study}/bench?do=free"))
    assert {"other.plug", "other.socket"} <= set(sent)
    assert "specimen" not in sent
    more = {"other.plug": "P3", "other.socket": "S1", "condition": "as found", "mating": "1", "polarity": "+"}
    more |= {"resistance": "2.61", "resistance_unit": "mΩ", "anyway": "so", "keep": "yes"}
    assert client.post(f"{study}/bench", data=sent | more, headers=PART).status_code == 200
    entry = client.get(f"/api{study}/readings").json()[-1]["entry"]
    assert entry["specimen"] == "P3 × S1"
    assert client.get(f"{study}/answer.json").status_code == 200
