"""The pages of a lot that a study of the records is about: plan, verdict and papers, asked as a browser without scripts would."""

from __future__ import annotations

import io
import json
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from tests.lots_made import LOT, sample
from tests.unit.work.builds.built import BuiltShop
from tests.web.doors import guarded
from tests.web.test_cable_papers import SETTINGS, form_of, key, page, send, served

from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.work.faces import face_of
from ohmsworth.work.import_study import import_study
from ohmsworth.work.records import Records

HERE = "/studies/1/papers"
#: The question without a paper's table: what a page states for a paper is another matter.
QUESTION = LOT.partition("[certificate]")[0]


def put_in(records: Records, folder: Path, readings: str | None, toml: str = QUESTION) -> int:
    """The study as it comes out of a folder."""
    folder.mkdir()
    (folder / "study.toml").write_text(toml, encoding="utf-8")
    if readings is not None:
        (folder / "readings.csv").write_text(readings, encoding="utf-8")
    found = wiring.read_study_folder(folder)
    return import_study(records, found, "Ada", face_of, wiring.with_history).study


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[tuple[TestClient, Records]]:
    """Return a browser before a bench without any study yet, and its records."""
    place = tmp_path / "shop.records"
    with wiring.open_records(str(place)) as records, served(records, place) as found:
        found.cookies.set("who", "Ada")
        yield found, records


@pytest.fixture
def client(bench: tuple[TestClient, Records], tmp_path: Path) -> TestClient:
    """Return a browser before a bench with one lot, whose sample is whole and accepted."""
    found, records = bench
    assert put_in(records, tmp_path / "lot", sample()) == 1
    return found


def issue(client: TestClient, **more: str) -> int:
    """Issue what the form proposes, and return the line that holds it."""
    answer = client.post(HERE, data=form_of(page(client, HERE), HERE) | more)
    assert answer.status_code == 303, answer.text
    return int(answer.headers["location"].partition("issued=")[2])


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text))


def told_by_command(folder: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    capsys.readouterr()
    assert run(["lot", str(folder), "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_before_anything_is_read_the_page_shows_the_plan(
    bench: tuple[TestClient, Records], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    client, records = bench
    sheet = "specimen,condition,mating,polarity,voltage [mV],current [mA]\nP1,lot,1,+,0.2,100\n"
    put_in(records, tmp_path / "lot", sheet)
    number = re.search(r'href="(/studies/1/readings/\d+)"', page(client, "/studies/1/readings"))
    assert number
    client.post(number[1], data={"change": "withdraw", "reason": "a trial", "key": "w"})
    (tmp_path / "lot" / "readings.csv").unlink()
    told = told_by_command(tmp_path / "lot", capsys)
    text = plain(page(client, "/studies/1/lot"))
    assert told["verdict"] is None
    assert plain(told["sentence"]) in text
    assert "76 pieces" in text
    assert "type each at the bench" in text  # nobody there has a readings.csv, or a command
    assert "readings.csv" not in text
    assert "ohmsworth lot" not in text
    assert client.get("/studies/1/lot/answer.json").json()["plan"] == told["plan"]
    assert "Issue it" not in page(client, HERE)
    assert "once the whole sample of the plan is measured" in page(client, HERE)


def test_the_verdict_is_that_of_the_command_word_for_word(
    client: TestClient, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = told_by_command(tmp_path / "lot", capsys)
    assert told["verdict"] == "accept"
    here = client.get("/studies/1/lot/answer.json").json()
    # What to do next names pages here, and files there.
    assert {**here, "actions": ()} == {**told, "actions": ()}
    assert "study.toml" not in str(here["actions"])
    text = page(client, "/studies/1/lot")
    assert plain(told["sentence"]) in plain(text)
    assert "Lot</a>" in text
    picture = re.findall(r'href="(/studies/1/lot/pictures/[^"]+\.svg)"', text)[0]
    assert client.get(picture).content.lstrip().startswith(b"<")
    assert client.get("/studies/1/lot/pictures/none.svg").status_code == 404
    assert client.get("/studies/1/lot/report.pdf").content.startswith(b"%PDF-")
    assert plain(told["sentence"]) in plain(client.get("/studies/1/lot/report.html").text)


def test_other_programs_issue_and_fetch_the_papers_of_a_lot(client: TestClient) -> None:
    key(client)
    at = "/api/studies/1/papers"
    begin = client.get(f"{at}/proposal").json()
    assert (begin["tested_by"], client.get(at).json()) == ("Ada", [])
    sent = {"key": "lot-paper-1", "tested_by": "Bea", "customer": "The Hall"}
    made = client.post(at, json=sent)
    assert made.status_code == 201, made.text
    assert client.post(at, json=sent).json() == made.json()
    paper = made.json()
    assert (paper["number"], paper["kind"], paper["outdated"]) == (begin["number"], "certificate", [])
    assert client.get(at).json() == [paper]
    for form in ("json", "html", "pdf"):
        content = client.get(f"{at}/{paper['line']}.{form}").content
        assert content == client.get(f"{HERE}/{paper['line']}.{form}").content
    told = json.loads(client.get(f"{at}/{paper['line']}.json").content)
    assert told["format"] == "ohmsworth lot certificate 1"
    assert client.get("/api/cables/1/papers").status_code == 404
    assert client.get("/api/studies/9/papers").status_code == 404


def test_a_study_without_a_lot_has_neither_turn(bench: tuple[TestClient, Records], tmp_path: Path) -> None:
    client, records = bench
    put_in(records, tmp_path / "lot", sample(3), QUESTION.partition("[lot]")[0])
    text = page(client, "/studies/1/question")
    assert '/studies/1/lot"' not in text.partition("</nav>")[0].rpartition("<nav")[2]
    assert HERE not in text
    assert "Issue it" not in page(client, HERE)


def test_from_the_form_to_every_file(client: TestClient, tmp_path: Path) -> None:
    assert "there is none yet" in page(client, HERE)
    key(client)
    text = page(client, HERE)
    assert "This lot is accepted: it gets a certificate." in text
    said = form_of(text, HERE)
    assert said["tested_by"] == "Ada"
    line = issue(client, customer="The Hall")
    text = page(client, f"{HERE}?issued={line}")
    assert f"Issued and kept: certificate {said['number']}." in text
    assert "<strong>current</strong>" in text
    paper = client.get(f"{HERE}/{line}.json").json()
    assert (paper["customer"], paper["lot"]["number"], paper["shop"]) == (
        "The Hall",
        "B-77",
        "The Cable Bench",
    )
    public = str(tmp_path / "shop.key.pub")
    for name in ("json", "html", "pdf"):
        content = client.get(f"{HERE}/{line}.{name}").content
        (tmp_path / f"paper.{name}").write_bytes(content)
        if name != "json":
            target = tmp_path / f"again.{name}"
            assert run(["papers", str(tmp_path / "paper.json"), f"--{name}", str(target)]) == 0
            assert target.read_bytes() == content
    assert run(["verify", str(tmp_path / "paper.json"), "--key", public]) == 0
    assert "number of the lot" in page(client, f"{HERE}/{line}/label")
    for kind, begin in (("pdf", b"%PDF-"), ("png", b"\x89PNG"), ("svg", b"<")):
        assert client.get(f"{HERE}/{line}/label.{kind}?size=50x25").content.startswith(begin)
    page(client, f"{HERE}/{line}/label?size=much", 422)
    page(client, f"{HERE}/1.pdf", 404)


def test_a_lot_that_is_not_accepted_gets_a_test_report(
    bench: tuple[TestClient, Records], tmp_path: Path
) -> None:
    client, records = bench
    put_in(records, tmp_path / "lot", sample(over=4))
    key(client)
    assert "it gets a test report" in page(client, HERE)
    paper = client.get(f"{HERE}/{issue(client)}.json").json()
    assert (paper["kind"], paper["results"]["verdict"]) == ("test report", "reject")


def test_what_the_question_lacks_is_told_and_nothing_typed_is_lost(
    bench: tuple[TestClient, Records], tmp_path: Path
) -> None:
    client, records = bench
    toml = QUESTION.replace('drawn = "by random numbers, from every box"\n', "")
    put_in(records, tmp_path / "lot", sample(), toml)
    key(client)
    answer = client.post(HERE, data=form_of(page(client, HERE), HERE) | {"customer": "The Hall"})
    assert answer.status_code == 422
    assert "[lot], key &#39;drawn&#39;" in answer.text
    assert "study.toml" not in answer.text
    assert 'value="The Hall"' in answer.text
    assert 'id="number-fault"' in client.post(HERE, data=form_of(answer.text, HERE) | {"number": ""}).text
    assert "No paper was issued" in page(client, HERE)


def test_a_number_is_given_once_over_cables_and_lots(client: TestClient, tmp_path: Path) -> None:
    key(client)
    year = re.sub("-.*", "", form_of(page(client, HERE), HERE)["number"])
    issue(client, number=f"{year}-014")
    with wiring.open_records(str(tmp_path / "shop.records")) as records:
        built = BuiltShop(shop=wiring.shop(records))
        built.whole()
    cable = f"/cables/{built.cable}/papers"
    said = form_of(page(client, cable), cable)
    assert said["number"] == f"{year}-015"
    answer = client.post(cable, data=said | {"number": f"{year}-014"})
    assert answer.status_code == 422
    assert "given already to study 1" in answer.text
    assert client.post(cable, data=said).status_code == 303
    answer = client.post(HERE, data=form_of(page(client, HERE), HERE) | {"number": f"{year}-015"})
    assert f"given already to cable {built.cable}" in answer.text


def test_a_changed_reading_outdates_it_and_the_next_one_takes_its_place(client: TestClient) -> None:
    key(client)
    line = issue(client, number="2026-001", customer="The Hall")
    file = client.get(f"{HERE}/{line}.json").content
    told = send(client, "p.json", file)
    assert "The records hold this very paper, of study 1." in told
    assert "The records hold the same study and the same readings." in told
    assert f'href="{HERE}"' in told
    seen = form_of(page(client, HERE), HERE)
    reading = re.search(r'href="(/studies/1/readings/\d+)"', page(client, "/studies/1/readings"))
    assert reading
    client.post(reading[1], data={"change": "leave-out", "reason": "the tip was off", "key": "w"})
    client.post(reading[1], data={"change": "withdraw", "reason": "the tip was off", "key": "w"})
    answer = client.post(HERE, data=seen | {"number": "2026-002"})
    assert "changed by Ada since this form was opened" in answer.text
    text = page(client, HERE)
    assert "no longer says what the study’s readings" in text
    assert "readings.csv, line" in text
    assert '<option value="2026-001" selected>' in text
    assert "The records say something else by now." in send(client, "p.json", file)
    answer = client.post(HERE, data=form_of(text, HERE) | {"supersedes": "2026-001"})
    assert 'id="reason-fault"' in answer.text
    issue(client, number="2026-002", supersedes="2026-001", reason="A reading was wrong.")
    text = page(client, HERE)
    assert "<strong>superseded</strong> by 2026-002" in text
    assert "no longer says" not in text
    assert client.get(f"{HERE}/{line}.json").content == file  # the earlier one is kept as it was
    assert "2026-002 takes its place. Why: A reading was wrong." in send(client, "p.json", file)


def test_a_form_that_is_sent_twice_issues_once(client: TestClient) -> None:
    key(client)
    sent = form_of(page(client, HERE), HERE)
    there = [client.post(HERE, data=sent).headers["location"] for _ in range(2)]
    assert there[0] == there[1]
    assert page(client, HERE).count("Data (JSON)") == 1


def test_the_command_asks_the_records_too(
    client: TestClient, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key(client)
    (tmp_path / "p.json").write_bytes(client.get(f"{HERE}/{issue(client)}.json").content)
    capsys.readouterr()
    records = ["--records", str(tmp_path / "shop.records")]
    assert run(["verify", str(tmp_path / "p.json"), *records, "--json"]) == 0
    said = [(one["name"], one["result"]) for one in json.loads(capsys.readouterr().out)["checks"]]
    assert said[-3:] == [("records", "holds"), ("current", "holds"), ("lot", "holds")]


def test_readers_look_and_benches_issue(tmp_path: Path) -> None:
    with guarded(tmp_path) as bench:
        bench.app.state.papers = wiring.paper_ports(tmp_path / "shop.key")
        study = put_in(bench.shop.records, tmp_path / "lot", sample())
        here = f"/studies/{study}/papers"
        rita, ben, olga = (bench.signed_in(name) for name in ("rita", "ben", "olga"))
        assert "The office makes it" in ben.get(here).text
        assert olga.post("/settings", data=SETTINGS).status_code == 303
        assert olga.post("/settings/key").status_code == 303
        sent = {"number": "1-1", "tested_by": "ben", "date": "2026-03-02", "key": "k", "seen": "9999"}
        assert rita.get(here).status_code == 200
        assert rita.post(here, data=sent).status_code == 403
        assert "Issue it" not in rita.get(here).text
        answer = ben.post(here, data=sent)
        assert answer.status_code == 303, answer.text
        number = answer.headers["location"].partition("issued=")[2]
        paper = rita.get(f"{here}/{number}.json")
        assert paper.json()["tested_by"] == "ben"
        assert rita.post("/cables/verify", files={"file": ("p.json", paper.content)}).status_code != 403


def test_papers_travel_with_the_folder_of_their_study(client: TestClient, tmp_path: Path) -> None:
    key(client)
    line = issue(client, number="2026-001")
    content = client.get(f"{HERE}/{line}.json").content
    with zipfile.ZipFile(io.BytesIO(client.get("/studies/1/folder.zip").content)) as folder:
        assert folder.read("study-1/certificate-2026-001.json") == content
        folder.extractall(tmp_path / "out")
    place = tmp_path / "other" / "shop.records"
    place.parent.mkdir()
    with wiring.open_records(str(place)) as records, served(records, place) as other:
        read = wiring.read_study_folder(tmp_path / "out" / "study-1")
        for known in (False, True):  # a second time brings nothing new
            found = import_study(records, read, "Lee", face_of, wiring.with_history)
            assert (found.study, found.known, found.passed_over) == (1, known, ())
        assert other.get(f"{HERE}/{line}.json").content == content
        assert page(other, HERE).count("<strong>current</strong>") == 1
        told = send(other, "p.json", content)
        assert "The records hold this very paper, of study 1." in told
        assert "The records hold the same study and the same readings." in told
        assert records.count("study", search="2026-001") == 1
