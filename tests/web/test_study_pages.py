"""The pages of one study, asked as a browser without scripts would, and as one with them."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from tests.web.policy import breaches

from ohmsworth import wiring
from ohmsworth.web.app import Serving, create_app

FORM = {
    "question": "Do the tarnished contacts matter?", "conditions": "new\ntarnished", "limit": "4 mΩ", "limit_source": "datasheet",
    "specimens": "3", "matings": "2", "reversal": "yes", "uses": "dynamic microphone", "key": "the-study",
}  # fmt: skip
PART = {"HX-Request": "true"}
VOLTS = {"new": 0.25, "tarnished": 0.61}


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """Return a browser before a bench with one study."""
    place = str(tmp_path / "shop.records")
    with wiring.open_records(place) as records:
        hosts, typeface = frozenset({"testserver"}), wiring.typeface_folder()
        serving = Serving(
            hosts, typeface, drawing=wiring.drawing(), keeping=wiring.keeping(place, place, tmp_path)
        )
        with TestClient(create_app(wiring.shop(records), serving)) as found:
            found.cookies.set("who", "Ada")
            answer = found.post("/studies/new", data=FORM, follow_redirects=False)
            assert answer.headers["location"] == "/studies/1/bench"
            yield found


def page(client: TestClient, path: str, status: int = 200, **headers: str) -> str:
    """A page without anything that the content policy forbids."""
    answer = client.get(path, headers=headers)
    assert answer.status_code == status, answer.text
    assert breaches(answer.text, whole=not headers) == []
    return answer.text


def hidden(text: str, name: str) -> str:
    found = re.search(rf'name="{name}" value="([^"]*)"', text)
    assert found, name
    return found[1]


def fields(text: str, factor: float = 1.0, **more: str) -> dict[str, str]:
    """What a person would send from the form that is in `text`."""
    names = ("key", "step", "specimen", "condition", "contact", "mating", "polarity")
    sent = {name: hidden(text, name) for name in names}
    volts = f"{factor * VOLTS[sent['condition']] * (1 + 0.0007 * int(sent['step'])):.4f}"
    return sent | {"voltage": volts, "voltage_unit": "mV", "current": "100.02", "current_unit": "mA"} | more


def take(client: TestClient, text: str, factor: float = 1.0, **more: str) -> str:
    """Send the form, and again with a reason where it is asked about."""
    sent = fields(text, factor, **more)
    answer = client.post("/studies/1/bench", data=sent, headers=PART)
    if answer.status_code == 409:
        answer = client.post(
            "/studies/1/bench", data=sent | {"anyway": "it is so", "keep": "yes"}, headers=PART
        )
    assert answer.status_code == 200, answer.text
    assert breaches(answer.text, whole=False) == []
    return answer.text


def test_a_study_from_question_to_report(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    for step in range(1, 25):
        assert f"Step {step} of 24" in text
        text = take(client, text)
    assert "The sheet is done" in text
    live = page(client, "/studies/1/bench/live", **PART)
    assert "tarnished" in live
    assert "<svg" in live
    answer = page(client, "/studies/1/answer")
    assert "SHEET_NOT_FINISHED" not in answer
    assert "The report as a PDF" in page(client, "/studies/1/report")
    assert client.get("/studies/1/report.pdf").content.startswith(b"%PDF-")
    letter = client.get("/studies/1/letter.txt")
    assert letter.headers["content-type"] == "text/plain; charset=utf-8"
    assert "It rests on 24 readings of" in letter.text
    assert "on 20" in letter.text
    handed = client.get("/studies/1/report.html").text
    assert re.search(r"Report of 20\d\d-\d\d-\d\d\. Read 20\d\d-\d\d-\d\d by Ada", handed)
    assert "How it was measured" in handed
    assert handed.index("Method and sources") < handed.index("All readings")
    assert client.get("/studies/1/answer.json").json()["rows"] == 24
    assert client.get("/studies/1/folder.zip").content.startswith(b"PK")


def test_a_reading_in_doubt_is_one_click_away(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    for step in range(1, 25):
        text = take(client, text, 10.0 if step == 7 else 1.0)
    answer = page(client, "/studies/1/answer")
    warnings = answer[answer.index("Warnings</h") :]
    warnings = warnings[: warnings.index("</table>")]
    led = re.findall(r'<a href="(/studies/1/readings/\d+)">(\d+)</a>', warnings)
    assert "7" in [number for _, number in led]
    for there, number in led:
        assert f"Reading {number}" in page(client, there)
    # What is handed over leads nowhere: its reader has no bench.
    assert "/readings/" not in client.get("/studies/1/report.html").text


def test_an_answer_before_the_sheet_is_read_says_so(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    assert "Nothing has been read yet" in page(client, "/studies/1/answer")
    for _ in range(16):
        text = take(client, text)
    assert "SHEET_NOT_FINISHED" in page(client, "/studies/1/answer")
    assert "8 steps of the sheet are neither read nor skipped" in page(client, "/studies/1/report")


def test_without_scripts_every_step_is_a_page(client: TestClient) -> None:
    text = page(client, "/studies/1/bench")
    answer = client.post("/studies/1/bench", data=fields(text))
    assert answer.status_code == 200
    assert "Step 2 of 24" in answer.text
    assert "mΩ" in answer.text
    assert "<html" in answer.text


def test_what_was_typed_is_still_there_when_it_cannot_be_read(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    answer = client.post(
        "/studies/1/bench", data=fields(text) | {"voltage": "0.25.1", "note": "tight"}, headers=PART
    )
    assert answer.status_code == 422
    assert 'value="0.25.1"' in answer.text
    assert 'value="100.02"' in answer.text
    assert 'value="tight"' in answer.text
    assert "Step 1 of 24" in answer.text
    assert hidden(answer.text, "key") == hidden(text, "key")
    assert breaches(answer.text, whole=False) == []


def test_keeping_it_anyway_takes_a_reason(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    for _ in range(6):
        text = take(client, text)
    sent = fields(text, 10.0)
    asked = client.post("/studies/1/bench", data=sent, headers=PART)
    assert asked.status_code == 409
    assert "Not kept yet" in asked.text
    without = client.post("/studies/1/bench", data=sent | {"keep": "yes", "anyway": " "}, headers=PART)
    assert without.status_code == 409
    assert "Say why" in without.text
    kept = client.post(
        "/studies/1/bench", data=sent | {"keep": "yes", "anyway": "worn through"}, headers=PART
    )
    assert kept.status_code == 200
    assert "kept: worn through" in kept.text


def test_news_is_only_what_is_new(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    last = re.search(r'data-last="(\d+)"', text)
    assert last
    assert client.get(f"/studies/1/bench/news?after={last[1]}").status_code == 204
    take(client, text)
    news = client.get(f"/studies/1/bench/news?after={last[1]}")
    assert "One reading more, by Ada." in news.text


def test_a_reading_is_corrected_beside_what_it_was(client: TestClient) -> None:
    take(client, page(client, "/studies/1/bench/now", **PART))
    text = page(client, "/studies/1/readings/3")
    sent = {
        "change": "correct", "reason": "a digit too few", "key": "c1", "specimen": "new 1", "condition": "new", "mating": "1",
        "polarity": "+", "voltage": "0.2555", "voltage_unit": "mV", "current": "100.02", "current_unit": "mA",
    }  # fmt: skip
    assert re.search(r"read [^<]* by Ada", text)
    answer = client.post("/studies/1/readings/3", data=sent)
    assert "a digit too few" in answer.text
    assert "0.2555&nbsp;mV" in answer.text
    assert "0.2502&nbsp;mV" in answer.text
    assert "corrected" in page(client, "/studies/1/readings")


def test_undo_skip_note_and_photo(client: TestClient) -> None:
    text = take(client, page(client, "/studies/1/bench/now", **PART))
    undone = client.post("/studies/1/bench/undo", data={"key": "u1", "of": "3"}, headers=PART)
    assert "Reading 1 is withdrawn" in undone.text
    assert "Step 1 of 24" in undone.text
    skipped = client.post("/studies/1/bench/skip", data={"key": "s1", "step": "1"}, headers=PART)
    assert "Step 2 of 24" in skipped.text
    take(client, skipped.text)
    photo = {"photo": ("..\\pins <b>.jpg", b"\xff\xd8\xff\xe0", "image/jpeg")}
    client.post("/studies/1/bench/attach", data={"key": "a1", "words": "flux <on> the pins"}, files=photo)
    listed = page(client, "/studies/1/readings")
    assert "flux &lt;on&gt; the pins" in listed
    number = re.search(r"/studies/1/files/(\d+)", listed)
    assert number
    sent = client.get(f"/studies/1/files/{number[1]}")
    assert sent.content == b"\xff\xd8\xff\xe0"
    assert sent.headers["content-type"] == "image/jpeg"
    assert "pins" in sent.headers["content-disposition"]
    assert text


def test_a_page_of_a_file_is_only_handed_over(client: TestClient) -> None:
    evil = {"photo": ("x.html", b"<script>alert(1)</script>", "text/html")}
    client.post("/studies/1/bench/attach", data={"key": "a2"}, files=evil)
    number = re.search(r"/studies/1/files/(\d+)", page(client, "/studies/1/readings"))
    assert number
    sent = client.get(f"/studies/1/files/{number[1]}")
    assert sent.headers["content-type"] == "application/octet-stream"
    assert sent.headers["content-disposition"].startswith("attachment")


def test_the_question_is_changed_with_a_reason_and_kept_as_it_was(client: TestClient) -> None:
    text = page(client, "/studies/1/question")
    assert "Do the tarnished contacts matter?" in text
    answer = client.post(
        "/studies/1/question",
        data=FORM | {"limit": "5 mΩ", "reason": "new datasheet", "key": "q1", "change": "form"},
    )
    assert 'value="5 mΩ"' in answer.text
    bad = client.post(
        "/studies/1/question", data=FORM | {"limit": "5", "reason": "slip", "key": "q2", "change": "form"}
    )
    assert bad.status_code == 422
    assert "no unit" in bad.text
    assert 'value="5 mΩ"' in page(client, "/studies/1/question")


def test_a_closed_study_is_left_as_it_was(client: TestClient) -> None:
    client.post("/studies/1/question", data={"change": "close", "reason": "answered", "key": "z1"})
    for wanted in ("form", "sheet", "text"):
        sent = FORM | {
            "change": wanted,
            "reason": "late",
            "key": f"z-{wanted}",
            "limit": "9 mΩ",
            "toml": "question = 'x'",
        }
        assert client.post("/studies/1/question", data=sent).status_code == 422
    client.post("/studies/1/question", data={"change": "open", "reason": "once more", "key": "z2"})
    text = page(client, "/studies/1/question")
    assert 'value="4 mΩ"' in text


NOWHERE = (
    "/studies/99/bench",
    "/studies/1/readings/999",
    "/studies/99999999999999999999/bench",
    "/studies/1/files/77",
    "/nowhere",
    "/studies/x/bench",
)


@pytest.mark.parametrize("path", NOWHERE)
def test_what_there_is_not_is_a_page_that_helps(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code in (404, 422)
    assert "<h1>" in answer.text
    assert breaches(answer.text) == []
    assert "Traceback" not in answer.text
