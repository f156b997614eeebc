"""The pages of papers: the shop's key, issuing, downloading and verifying, asked as a browser without scripts would."""

from __future__ import annotations

import io
import json
import re
import stat
import zipfile
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from tests.unit.work.builds.built import TOML, BuiltShop
from tests.web.doors import guarded
from tests.web.policy import breaches

from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.web.app import Serving, create_app
from ohmsworth.web.serve.start import key_beside

HERE = "/cables/1/papers"
SETTINGS = {"shop_name": "The Cable Bench", "shop_address": "1 Mill Lane\nMillbrook"}


def served(records: Any, place: Path) -> TestClient:
    serving = Serving(
        frozenset({"testserver"}), wiring.typeface_folder(), drawing=wiring.drawing(),
        keeping=wiring.keeping(str(place), str(place), place.parent / "copies"),
        papers=wiring.paper_ports(key_beside(str(place))),
    )  # fmt: skip
    return TestClient(create_app(wiring.shop(records), serving), follow_redirects=False)


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """Return a browser before a bench with one cable that is measured whole and right."""
    place = tmp_path / "shop.records"
    with wiring.open_records(str(place)) as records, served(records, place) as found:
        found.cookies.set("who", "Ada")
        built = BuiltShop(shop=wiring.shop(records))
        built.whole()
        assert built.cable == 1
        yield found


def page(client: TestClient, path: str, status: int = 200) -> str:
    """A page without anything that the content policy forbids."""
    answer = client.get(path)
    assert answer.status_code == status, answer.text
    assert breaches(answer.text) == []
    return answer.text


def key(client: TestClient) -> None:
    assert client.post("/settings", data=SETTINGS).status_code == 303
    assert client.post("/settings/key").headers["location"] == "/settings?said=key"


def form(text: str) -> dict[str, str]:
    """What the form of the page proposes."""
    return form_of(text, HERE)


def form_of(text: str, here: str) -> dict[str, str]:
    """The same of the form that is sent to `here`."""
    (shown,) = re.findall(rf'<form method="post" action="{here}".*?</form>', text, re.DOTALL)
    said = {}
    for tag in re.findall(r"<input[^>]*>", shown):
        name, value = (re.search(rf' {what}="([^"]*)"', tag) for what in ("name", "value"))
        assert name, tag
        assert value, tag
        said[name[1]] = value[1]
    return said


def issue(client: TestClient, **more: str) -> int:
    """Issue what the form proposes, and return the line that holds it."""
    answer = client.post(HERE, data=form(page(client, HERE)) | more)
    assert answer.status_code == 303, answer.text
    return int(answer.headers["location"].partition("issued=")[2])


def test_without_a_key_the_page_says_how_to_make_one(client: TestClient, tmp_path: Path) -> None:
    text = page(client, HERE)
    assert "there is none yet" in text
    assert 'href="/settings#key"' in text
    assert (
        client.post(HERE, data={"number": "1", "tested_by": "Ada", "date": "2026-01-01"}).status_code == 422
    )
    place = tmp_path / "shop.key"
    assert str(place) in page(client, "/settings")
    assert client.get("/settings/key.pub").status_code == 422
    key(client)
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
    text = page(client, "/settings?said=key")
    assert "Make the key" not in text
    assert "public key for papers" in text  # in the history, with whoever made it
    assert client.get("/settings/key.pub").content == (tmp_path / "shop.key.pub").read_bytes()
    before = place.read_bytes()
    assert client.post("/settings/key").status_code == 422
    assert place.read_bytes() == before


def test_from_the_form_to_every_file(client: TestClient, tmp_path: Path) -> None:
    key(client)
    said = form(page(client, HERE))
    assert (said["tested_by"], said["customer"]) == ("Ada", "")
    assert re.fullmatch(r"20[0-9]{2}-001", said["number"])
    assert re.fullmatch(r"20[0-9]{2}-[0-9]{2}-[0-9]{2}", said["date"])
    line = issue(client, customer="The Hall")
    text = page(client, f"{HERE}?issued={line}")
    assert f"Issued and kept: certificate {said['number']}." in text
    assert "<strong>current</strong>" in text
    paper = client.get(f"{HERE}/{line}.json")
    assert (paper.json()["customer"], paper.json()["address"]) == ("The Hall", "1 Mill Lane, Millbrook")
    for name in ("json", "html", "pdf"):
        content = client.get(f"{HERE}/{line}.{name}").content
        (tmp_path / f"paper.{name}").write_bytes(content)
        public = str(tmp_path / "shop.key.pub")
        assert run(["verify", str(tmp_path / f"paper.{name}"), "--key", public]) == 0
        # The command prints the same from the file of data, to the byte.
        if name != "json":
            target = tmp_path / f"again.{name}"
            assert run(["papers", str(tmp_path / "paper.json"), f"--{name}", str(target)]) == 0
            assert target.read_bytes() == content
    assert "no page" not in page(client, f"{HERE}/{line}/label")
    for kind, begin in (("pdf", b"%PDF-"), ("png", b"\x89PNG"), ("svg", b"<")):
        target = tmp_path / f"label.{kind}"
        assert (
            run(["papers", str(tmp_path / "paper.json"), "--label", str(target), "--label-size", "50x25"])
            == 0
        )
        content = client.get(f"{HERE}/{line}/label.{kind}?size=50x25").content
        assert content.startswith(begin)
        assert target.read_bytes() == content
    page(client, f"{HERE}/{line}/label?size=much", 422)
    assert client.get(f"{HERE}/{line}/label.pdf?size=5x5").status_code == 422
    page(client, f"{HERE}/2.pdf", 404)
    page(client, f"{HERE}/2/label", 404)


def test_a_number_that_was_given_is_refused_and_nothing_typed_is_lost(client: TestClient) -> None:
    key(client)
    given, following = (f"{datetime.now().astimezone().year}-{n}" for n in ("014", "015"))
    line = issue(client, number=given)
    answer = client.post(HERE, data=form(page(client, HERE)) | {"number": given, "customer": "The Other"})
    assert answer.status_code == 422
    assert breaches(answer.text) == []
    assert "given already to cable 1" in answer.text
    assert 'value="The Other"' in answer.text
    assert 'id="number-fault"' in answer.text
    made = client.post("/cables/new", data={"toml": TOML.replace("no. 12", "no. 13"), "key": "second"})
    other = f"{made.headers['location']}/papers"
    assert "Issue it" not in page(client, other)  # not measured
    assert "given already" in client.post(other, data={"number": given}).text
    assert form(page(client, HERE))["number"] == following
    assert page(client, HERE).count(f"/papers/{line}.pdf") == 1


def test_a_correction_marks_the_earlier_one(client: TestClient) -> None:
    key(client)
    issue(client, number="2026-001")
    answer = client.post(HERE, data=form(page(client, HERE)) | {"supersedes": "2026-001"})
    assert answer.status_code == 422
    assert 'id="reason-fault"' in answer.text
    assert "why the earlier paper is corrected" in answer.text
    assert '<option value="2026-001" selected>' in answer.text
    issue(client, number="2026-002", supersedes="2026-001", reason="The customer was wrong.")
    text = page(client, HERE)
    assert "<strong>superseded</strong> by 2026-002" in text
    assert "takes the place of 2026-001: The customer was wrong." in text
    assert '<option value="2026-001"' not in text
    assert text.count("<strong>current</strong>") == 1
    assert "no longer says" not in text


def test_a_changed_row_is_told_and_the_next_paper_is_proposed_as_its_correction(client: TestClient) -> None:
    key(client)
    issue(client, number="2026-001", customer="The Hall")
    sent = {"from": "A:1", "to": "B:1", "resistance": "0.851", "resistance_unit": "Ω", "key": "again"}
    assert client.post("/cables/1", data=sent).status_code == 200
    text = page(client, HERE)
    assert "Issue one that takes its place" in text
    assert "test.csv, line" in text
    assert form(text)["customer"] == "The Hall"
    assert '<option value="2026-001" selected>' in text
    issue(client, number="2026-002", supersedes="2026-001", reason="Wire 1 was read again.")
    text = page(client, HERE)
    assert "no longer says" not in text
    assert " selected>" not in text


def test_a_form_that_is_sent_twice_issues_once(client: TestClient) -> None:
    key(client)
    sent = form(page(client, HERE))
    there = [client.post(HERE, data=sent).headers["location"] for _ in range(2)]
    assert there[0] == there[1]
    assert page(client, HERE).count("Data (JSON)") == 1


def test_the_descriptions_own_table_is_said_not_to_count(client: TestClient) -> None:
    table = '\n[certificate]\nnumber = "7"\nshop = "Old"\ntested_by = "X"\ndate = 2026-01-01\ncustomer = "The Hall"\n'
    key(client)
    seen = re.search(r'name="seen" value="(\d+)"', page(client, "/cables/1/description"))
    assert seen
    sent = {"toml": TOML + table, "reason": "as the folder", "seen": seen[1], "key": "d"}
    assert client.post("/cables/1/description", data=sent).status_code == 303
    text = page(client, HERE)
    assert "What stands in this form counts" in text
    assert form(text)["customer"] == "The Hall"
    paper = client.get(f"{HERE}/{issue(client)}.json").json()
    assert (paper["shop"], paper["tested_by"]) == ("The Cable Bench", "Ada")
    assert client.get("/api/cables/1/description").text.endswith(table)


def send(client: TestClient, name: str, content: bytes, **more: bytes) -> str:
    files = {"file": (name, content)} | {field: (field, data) for field, data in more.items()}
    answer = client.post("/cables/verify", files=files)
    assert breaches(answer.text) == []
    return re.sub(r"\s+", " ", answer.text)


def test_a_paper_that_is_brought_is_held_against_the_records(
    client: TestClient, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key(client)
    line = issue(client, number="2026-001")
    files = {name: client.get(f"{HERE}/{line}.{name}").content for name in ("json", "html", "pdf")}
    public = (tmp_path / "shop.key.pub").read_bytes()
    page(client, "/cables/verify")
    for name, content in files.items():
        told = send(client, f"paper.{name}", content, public=public)
        assert "signed with the key that you hold" in told
        assert "The records hold this very paper, of cable 1." in told
        assert 'href="/cables/1/papers"' in told
    assert "The digest does not fit" in send(client, "p.json", files["json"].replace(b"Ada", b"Eve"))
    assert "paper with number 2026-009" in send(client, "p", files["json"].replace(b"2026-001", b"2026-009"))
    issue(client, number="2026-002", supersedes="2026-001", reason="A slip.")
    assert "2026-002 takes its place. Why: A slip." in send(client, "p.json", files["json"])
    row = re.search(r"/cables/1/rows/(\d+)", page(client, "/cables/1/rows"))
    assert row
    client.post(row[0], data={"change": "withdraw", "reason": "the tip was off", "key": "w"})
    told = send(client, "p.json", files["json"])
    assert "The records say something else by now." in told
    text = page(client, HERE)
    assert text.count("It no longer says what the cable’s rows") == 1  # the superseded one says so already
    assert "Finish the measurements" in text
    assert "in the certificate, nothing now" in text
    (tmp_path / "p.json").write_bytes(files["json"])
    capsys.readouterr()
    assert (
        run(["verify", str(tmp_path / "p.json"), "--records", str(tmp_path / "shop.records"), "--json"]) == 1
    )
    answer = json.loads(capsys.readouterr().out)
    said = [(check["name"], check["result"]) for check in answer["checks"]]
    assert said[3:] == [("records", "holds"), ("current", "fails"), ("cable", "fails")]
    for check in answer["checks"]:
        assert check["words"].replace("'", "&#39;") in told.replace("’", "&#39;")


def test_what_is_no_paper_is_said_so(client: TestClient) -> None:
    assert client.post("/cables/verify").status_code == 422
    assert "text that is not JSON" in send(client, "a.json", b"hello")
    assert client.post("/cables/verify", files={"file": ("a.pdf", b"%PDF-1.7 nothing")}).status_code == 422


def test_records_that_are_not_there_are_not_made(client: TestClient, tmp_path: Path) -> None:
    key(client)
    (tmp_path / "p.json").write_bytes(client.get(f"{HERE}/{issue(client)}.json").content)
    assert run(["verify", str(tmp_path / "p.json"), "--records", str(tmp_path / "none.records")]) == 2
    assert not (tmp_path / "none.records").exists()


def test_papers_are_in_folder_and_whole_export_and_the_private_key_is_in_none(
    client: TestClient, tmp_path: Path
) -> None:
    key(client)
    line = issue(client, number="2026-001", customer="The Hall")
    content = client.get(f"{HERE}/{line}.json").content
    with zipfile.ZipFile(io.BytesIO(client.get("/cables/1/folder.zip").content)) as folder:
        assert folder.read("cable-1/certificate-2026-001.json") == content
    assert (
        run(["records", "export", "1", str(tmp_path / "out"), "--records", str(tmp_path / "shop.records")])
        == 0
    )
    assert (tmp_path / "out/certificate-2026-001.json").read_bytes() == content
    assert (
        run(["verify", str(tmp_path / "out/certificate-2026-001.json"), "--folder", str(tmp_path / "out")])
        == 0
    )
    secret = b"".join((tmp_path / "shop.key").read_bytes().splitlines()[1:-1])
    whole = tmp_path / "all"
    assert run(["records", "export-all", str(whole), "--records", str(tmp_path / "shop.records")]) == 0
    assert (whole / "cables/000001 line cable no. 12/certificate-2026-001.json").read_bytes() == content
    copy = tmp_path / "copy.records"
    assert run(["records", "backup", str(copy), "--records", str(tmp_path / "shop.records")]) == 0
    for path in (copy, *(path for path in whole.rglob("*") if path.is_file())):
        assert secret not in path.read_bytes()
    for name, source in (("restored", whole), ("copied", copy)):
        place = tmp_path / name / "shop.records"
        place.parent.mkdir()
        into = ["import"] if source is whole else ["restore"]
        assert run(["records", *into, str(source), "--records", str(place)]) == 0
        with wiring.open_records(str(place)) as records, served(records, place) as other:
            assert other.get(f"{HERE}/{line}.json").content == content
            assert records.count("cable", search="2026-001") == 1
            text = page(other, HERE)
            assert "there is none yet" in text  # of keys
            assert "<strong>current</strong>" in text


def test_readers_look_benches_issue_and_the_office_makes_the_key(tmp_path: Path) -> None:
    with guarded(tmp_path) as bench:
        bench.app.state.papers = wiring.paper_ports(tmp_path / "shop.key")
        built = BuiltShop(shop=bench.shop)
        built.whole()
        here = f"/cables/{built.cable}/papers"
        rita, ben, olga = (bench.signed_in(name) for name in ("rita", "ben", "olga"))
        for nobody in (rita, ben):
            assert nobody.post("/settings/key").status_code == 403
        assert not (tmp_path / "shop.key").exists()
        assert "The office makes it" in ben.get(here).text
        assert olga.post("/settings", data=SETTINGS).status_code == 303
        assert olga.post("/settings/key").status_code == 303
        day = bench.shop.clock().date().isoformat()
        sent = {
            "number": "1-1",
            "tested_by": "ben",
            "date": min(day, "2026-03-02"),
            "key": "k",
            "seen": "999",
        }
        assert rita.post(here, data=sent).status_code == 403
        assert "Issue it" not in rita.get(here).text
        answer = ben.post(here, data=sent)
        assert answer.status_code == 303, answer.text
        number = answer.headers["location"].partition("issued=")[2]
        paper = rita.get(f"{here}/{number}.json")
        assert paper.json()["tested_by"] == "ben"
        files = {"file": ("p.json", paper.content)}
        assert rita.post("/cables/verify", files=files).status_code != 403
