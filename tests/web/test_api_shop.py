"""Care, what is known, and papers for other programs: what the commands and the pages say, and refused in their words."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

import jsonschema  # type: ignore[import-untyped]  # published without types
import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from starlette.testclient import TestClient
from tests.journeys.test_known import study
from tests.unit.work.builds.built import TOML, BuiltShop
from tests.web.aged import Aged, take_in
from tests.web.doors import guarded
from tests.web.kept import Kept, sent

from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.web.api.care import CareAsked, Remedy
from ohmsworth.web.api.describe import description
from ohmsworth.web.app import Serving, create_app
from ohmsworth.web.care.specimen_care import PLAIN
from ohmsworth.web.serve.start import key_beside
from ohmsworth.work.care.form import BOUGHT, USUAL_NAMES

Captured = pytest.CaptureFixture[str]
ROOT = Path(__file__).parents[2]
CARE = {
    "limit": "8 mΩ", "limit_source": "the shop", "currency": "€", "labour": "48", "failure": "120,50", "retest": "3 min",
    "material.clean": "0,8", "material.replace": "9.5", "maker": "the connector maker", "maker_words": "Never lubricate.",
    "forbids": "re-lubricate",
}  # fmt: skip
PAPERS = "/api/cables/{}/papers"


@dataclass
class Bench:
    """A bench with its records in a file, and the commands over the same file."""

    client: TestClient
    place: Path
    cable: int
    capsys: Captured

    def get(self, path: str, status: int = 200, **asked: object) -> Any:
        answer = self.client.get(path, params=asked)
        assert answer.status_code == status, answer.text
        return answer.json()

    def post(self, path: str, status: int, **body: object) -> Any:
        answer = self.client.post(path, json=body)
        assert answer.status_code == status, answer.text
        return answer.json()

    def told(self, *command: object, code: int = 0) -> Any:
        """What a command prints as JSON."""
        self.capsys.readouterr()
        assert run([*map(str, command), "--json"]) == code
        return json.loads(self.capsys.readouterr().out)

    @property
    def papers(self) -> str:
        return PAPERS.format(self.cable)

    def issue(self, status: int = 201, **more: object) -> Any:
        return self.post(self.papers, status, **{"key": "paper-key-1", "tested_by": "Ada", **more})


def served(records: Any, place: Path) -> TestClient:
    serving = Serving(
        frozenset({"127.0.0.1"}), wiring.typeface_folder(), drawing=wiring.drawing(),
        keeping=wiring.keeping(str(place), str(place), place.parent / "copies"),
        papers=wiring.paper_ports(key_beside(str(place))),
    )  # fmt: skip
    app = create_app(wiring.shop(records), serving)
    found = TestClient(app, base_url="http://127.0.0.1", follow_redirects=False)
    found.cookies.set("who", "Ada")
    return found


@pytest.fixture
def bench(tmp_path: Path, capsys: Captured) -> Iterator[Bench]:
    """Contacts of gold and of silver over years, a limit, three studies of worn and new ones, and a cable measured whole."""
    place = tmp_path / "shop.records"
    with wiring.open_records(str(place)) as records, served(records, place) as client:
        shop = wiring.shop(records)
        said = {"name": "own", "resistance": "8 mΩ", "source": "the shop", "key": "limit"}
        assert client.post("/cards/new/limits", data=said).status_code == 303
        limit = records.cards("limit")[0].number
        kept = Kept(client, records, shop, wiring.keeping(str(place), str(place), tmp_path))
        gold = [Aged(f"G{k}", g, {"plating": "gold"}) for k, g in enumerate([0.018, 0.024, 0.015])]
        card = {"plating": "silver", "limit": str(limit)}
        silver = [Aged(f"S{k}", g, card) for k, g in enumerate([0.13, 0.11, 0.12])]
        take_in(kept, [*gold, *silver])
        for i, effect in enumerate([0.7, 0.5, 0.65]):
            folder = study(tmp_path / f"year {i}", effect, 0.05, base=5.0 + i)
            files = [(f"{folder.name}/{one.name}", one.read_bytes()) for one in sorted(folder.iterdir())]
            assert client.post("/records/take-in", files=sent(*files)).status_code == 200
        built = BuiltShop(shop=shop)
        built.whole()
        assert client.post("/settings", data={"shop_name": "The Cable Bench"}).status_code == 303
        assert client.post("/settings/key").status_code == 303
        yield Bench(client, place, built.cable, capsys)


def specimen(bench: Bench, serial: str) -> int:
    (found,) = [one for one in bench.get("/api/cards", kind="specimen") if one["title"].startswith(serial)]
    return int(found["number"])


def faults(answer: Any) -> dict[str, str]:
    return {one["where"]: one["mend"] for one in answer["faults"]}


def published(name: str, told: Any) -> None:
    text = (ROOT / f"src/ohmsworth/report/{name}.schema.json").read_text("utf-8")
    jsonschema.Draft202012Validator(json.loads(text)).validate(told)


def test_care_is_what_the_page_and_the_command_say(bench: Bench, tmp_path: Path) -> None:
    number = specimen(bench, "S0")
    told = bench.get(f"/api/specimens/{number}/care", **CARE)
    published("care", told)
    page = f"/specimens/{number}/care"
    assert told == bench.client.get(f"{page}/answer.json", params=CARE).json()
    assert told["limit"] == {"resistance": pytest.approx(8e-3), "source": "the shop"}
    assert told["maker"]["forbids"] == ["re-lubricate"]
    assert {one["name"] for one in told["options"]} >= {"leave", "clean", "replace"}
    packed = tmp_path / "care.zip"
    packed.write_bytes(bench.client.get(f"{page}/folder.zip", params=CARE).content)
    import zipfile

    zipfile.ZipFile(packed).extractall(tmp_path / "care")
    (folder,) = (tmp_path / "care").iterdir()
    assert bench.told("care", folder) == told


def test_care_takes_the_limit_of_the_card_where_none_is_asked_for(bench: Bench) -> None:
    number = specimen(bench, "S0")
    asked = {"labour": "48", "failure": "120", "retest": "3 min"}
    assert bench.get(f"/api/specimens/{number}/care", **asked)["limit"]["source"] == "own"
    gold = specimen(bench, "G0")
    assert "limit" in faults(bench.get(f"/api/specimens/{gold}/care", 422, **asked))


def test_care_that_cannot_be_told_is_refused_by_field(bench: Bench) -> None:
    number = specimen(bench, "S0")
    wrong = CARE | {"labour": "much", "material.clean": "some", "limit": "8 mV"}
    found = faults(bench.get(f"/api/specimens/{number}/care", 422, **wrong))
    assert {"labour", "material.clean", "limit"} <= set(found)
    assert faults(bench.get(f"/api/specimens/{number}/care", 422, colour="red"))
    bench.client.post("/cards/new/specimens", data={"serial": "N1", "key": "n"})
    found = faults(bench.get(f"/api/specimens/{specimen(bench, 'N1')}/care", 422, **CARE))
    assert found == {"the specimen": "Read it in a study first."}
    bench.get(f"/api/specimens/{bench.cable}/care", 404, **CARE)


def test_the_fields_of_care_are_those_of_the_page() -> None:
    names = {field.alias or name for name, field in CareAsked.model_fields.items()}
    page = {*PLAIN, "forbids", *(f"material.{n}" for n in BOUGHT), *(f"after.{n}" for n in USUAL_NAMES)}
    assert names == page
    assert get_args(Remedy) == USUAL_NAMES


def test_a_service_card_is_what_the_command_prints(bench: Bench) -> None:
    number = specimen(bench, "S1")
    told = bench.get(f"/api/specimens/{number}/service-card", air="G2")
    published("service-card", told)
    assert told == bench.told("service-card", "S1", "--air", "G2", "--records", bench.place)
    assert faults(bench.get(f"/api/specimens/{number}/service-card", 422, air="mild")) == {
        "the air": "Choose one of them, or leave it out."
    }
    told = bench.get(f"/api/cables/{bench.cable}/service-card")
    published("service-card-cable", told)
    assert told == bench.told("service-card", "no. 12", "--records", bench.place)
    assert told["verdict"] == "right"
    for path in (f"specimens/{number}", f"cables/{bench.cable}"):
        html = bench.client.get(f"/api/{path}/service-card.html")
        assert html.content == bench.client.get(f"/{path}/service-card.html").content
        assert "Service card: " in html.text
        assert bench.client.get(f"/api/{path}/service-card.pdf").content.startswith(b"%PDF-")
        bench.get(f"/api/{path.split('/')[0]}/999/service-card", 404)


def test_what_is_known_is_what_the_page_says(bench: Bench) -> None:
    (one,) = bench.get("/api/known/comparisons")
    assert (one["of"], one["against"], len(one["studies"])) == ("worn", "new", 3)
    told = bench.get("/api/known", of="worn", against="new")
    published("known", told)
    # Planted.
    assert [one["log_ratio"] for one in told["studies"]] == pytest.approx([0.7, 0.5, 0.65], abs=1e-5)
    page = bench.client.get("/studies/known/answer.json", params={"of": "worn", "against": "new"}).json()
    assert told == {**page, "left_out": []}
    refused = bench.get("/api/known", 422, of="wet", against="new")["faults"]
    assert [one["found"] for one in refused] == ["'wet' against 'new', which no study has"]
    assert "against" in faults(bench.get("/api/known", 422, of="new", against="new"))
    assert "against" in faults(bench.get("/api/known", 422, of="worn"))


def test_what_is_known_is_what_the_command_says_of_the_folders(bench: Bench, tmp_path: Path) -> None:
    told = bench.get("/api/known", of="worn", against="new")
    folders = [tmp_path / f"year {i}" for i in range(3)]
    command = bench.told("known", *folders, "--of", "worn", "--against", "new")
    for key in ("together", "next_lot", "between", "in_ohm", "log_mean", "standard_error"):
        assert told[key] == command[key]


def test_ageing_is_what_the_command_prints(bench: Bench) -> None:
    told = bench.get("/api/ageing", by="plating")
    published("ageing", told)
    assert told == bench.told("known", "--by", "plating", "--records", bench.place)
    assert [one["name"] for one in told["levels"]] == ["gold", "silver"]
    only = bench.get("/api/ageing", by="condition", only="plating=Gold")
    assert only == bench.told(
        "known", "--by", "condition", "--only", "plating=Gold", "--records", bench.place
    )
    assert only["levels"][0]["specimens"] == 3
    found = faults(bench.get("/api/ageing", 422, by="colour", only="gold"))
    assert found["only"] == "Write it such as plating=gold."
    assert "by" in found


def test_a_paper_is_issued_once_and_kept_to_the_byte(bench: Bench, tmp_path: Path) -> None:
    assert bench.get(bench.papers) == []
    begin = bench.get(f"{bench.papers}/proposal")
    assert (begin["shop"], begin["supersedes"]) == ("The Cable Bench", "")
    made = bench.issue(customer="The Hall")
    assert made["number"] == begin["number"]
    assert (made["kind"], made["result"], made["current"], made["by"]) == (
        "certificate",
        "right",
        True,
        "Ada",
    )
    assert bench.issue(customer="Another") == made
    assert bench.get(bench.papers) == [made]
    for form in ("json", "html", "pdf"):
        content = bench.client.get(f"{bench.papers}/{made['line']}.{form}").content
        assert content == bench.client.get(f"/cables/{bench.cable}/papers/{made['line']}.{form}").content
        (tmp_path / f"paper.{form}").write_bytes(content)
    kept = json.loads((tmp_path / "paper.json").read_text("utf-8"))
    published("certify", kept)
    assert (kept["customer"], kept["tested_by"], kept["digest"]) == ("The Hall", "Ada", made["digest"])
    public = tmp_path / "had.pub"
    public.write_bytes(bench.client.get("/api/papers/public-key").content)
    for form in ("json", "html", "pdf"):
        file = tmp_path / f"paper.{form}"
        body = {
            "name": file.name,
            "content": base64.b64encode(file.read_bytes()).decode(),
            "public_key": public.read_text("utf-8"),
        }
        told = bench.post("/api/papers/verify", 200, **body)
        published("verify", told)
        assert told == bench.told("verify", file, "--key", public, "--records", bench.place)
        assert told["fits"]
        assert told["signer"] == "known"
    label = bench.client.get(f"{bench.papers}/{made['line']}/label", params={"kind": "svg", "size": "80x40"})
    assert label.headers["content-type"] == "image/svg+xml"
    wrong = bench.get(f"{bench.papers}/{made['line']}/label", 422, size="5x5")
    assert faults(wrong) == {"size": "Measure the label."}
    assert b'width="226.77' in label.content  # 80 mm in points


def test_a_paper_that_was_changed_does_not_fit(bench: Bench, tmp_path: Path) -> None:
    made = bench.issue()
    content = bench.client.get(f"{bench.papers}/{made['line']}.json").content.replace(b"0.85", b"0.84")
    (tmp_path / "paper.json").write_bytes(content)
    body = {"name": "paper.json", "content": base64.b64encode(content).decode()}
    told = bench.post("/api/papers/verify", 200, **body)
    assert told == bench.told("verify", tmp_path / "paper.json", "--records", bench.place, code=1)
    assert not told["fits"]
    failing = {one["name"] for one in told["checks"] if one["result"] == "fails"}
    assert failing == {"whole", "signature", "results", "cable"}


def test_a_correction_and_what_is_outdated(bench: Bench) -> None:
    first = bench.issue()
    rows = bench.get(f"/api/cables/{bench.cable}/rows")
    path = f"/api/cables/{bench.cable}/rows/{rows[0]['number']}/changes"
    bench.post(path, 200, key="withdraw-1", change="withdraw", reason="the probe slipped")
    (paper,) = bench.get(bench.papers)
    assert paper["outdated"]
    told = bench.issue(422, key="paper-key-2", supersedes=first["number"], reason="a row was wrong")
    assert any("test that is not complete" in one["found"] for one in told["faults"])
    bench.post(path, 200, key="put-back-1", change="put back", reason="it had not")
    second = bench.issue(key="paper-key-3", supersedes=first["number"], reason="The customer was wrong.")
    new, old = bench.get(bench.papers)
    assert new == second
    assert (old["later"], old["current"], old["outdated"]) == (second["number"], False, [])
    assert second["supersedes"] == first["number"]


def test_what_is_wrong_with_a_paper_is_told_by_field(bench: Bench) -> None:
    seen = bench.get(f"{bench.papers}/proposal")["line"]
    first = bench.issue()
    found = faults(bench.issue(422, key="paper-key-2", number=first["number"], reason="none", tested_by=" "))
    assert set(found) == {"number", "supersedes", "tested_by"}
    assert faults(bench.issue(422, key="paper-key-2", supersedes="1-1", reason="x"))["supersedes"]
    rows = bench.get(f"/api/cables/{bench.cable}/rows")
    path = f"/api/cables/{bench.cable}/rows/{rows[0]['number']}/changes"
    for change in ("withdraw", "put back"):
        bench.post(path, 200, key=f"{change}-key".replace(" ", "-"), change=change, reason="a look")
    found = faults(bench.issue(422, key="paper-key-2", line=seen))
    assert found == {"the cable": "Look at its rows, then issue it."}
    assert len(bench.get(bench.papers)) == 1
    bench.post(bench.papers, 422, key="paper-key-4")
    bench.get(PAPERS.format(1), 404)
    body = {"name": "x.json", "content": base64.b64encode(b"{}").decode()}
    assert bench.post("/api/papers/verify", 422, **body)["faults"]
    assert faults(bench.post("/api/papers/verify", 422, name="x", content="no base64"))["content"]
    content = bench.client.get(f"{bench.papers}/{first['line']}.json").content
    sent_key = {"name": "p.json", "content": base64.b64encode(content).decode(), "public_key": "no key"}
    assert bench.post("/api/papers/verify", 422, **sent_key)["faults"]


def test_without_a_key_no_paper_is_issued(tmp_path: Path) -> None:
    place = tmp_path / "shop.records"
    with wiring.open_records(str(place)) as records, served(records, place) as client:
        BuiltShop(shop=wiring.shop(records)).whole()
        answer = client.post("/api/cables/1/papers", json={"key": "paper-key-1", "tested_by": "Ada"})
        assert answer.status_code == 422
        assert answer.json()["faults"]
        assert client.get("/api/papers/public-key").status_code == 422
        assert client.get("/api/cables/1/papers").json() == []


def test_a_reader_may_verify_and_not_issue(tmp_path: Path) -> None:
    with guarded(tmp_path) as door:
        BuiltShop(toml=TOML, shop=door.shop).whole()
        rita = door.signed_in("rita")
        cable = door.shop.records.cards("cable")[0].number
        body = {"key": "paper-key-1", "tested_by": "Rita"}
        assert rita.post(PAPERS.format(cable), json=body).status_code == 403
        assert rita.get(PAPERS.format(cable)).status_code == 200
        assert rita.post("/api/papers/verify", json={"name": "x", "content": "e30="}).status_code == 422
        assert door.browser().get(PAPERS.format(cable)).status_code == 401


def test_nothing_that_is_sent_about_papers_and_care_brings_it_down(bench: Bench) -> None:
    """Requests of every kind from the description, to a bench that has what they ask about."""
    bench.issue()
    schema = schemathesis.openapi.from_dict(description(bench.client.app))  # type: ignore[arg-type]
    asked = set()
    for found in schema.include(tag=["papers", "care", "known"]).get_all_operations():
        operation = found.ok()

        @settings(
            max_examples=15,
            deadline=None,
            derandomize=True,
            suppress_health_check=list(HealthCheck),
            database=None,
        )
        @given(case=operation.as_strategy())
        def one(case: schemathesis.Case) -> None:
            address = case.path.replace("{specimen}", "2").replace("{cable}", str(bench.cable))
            body = None if isinstance(case.body, schemathesis.core.NotSet) else case.body
            answer = bench.client.request(
                case.method, address.replace("{paper}", "14"), params=case.query or None, json=body
            )
            asked.add((case.method, case.path))
            assert answer.status_code < 500, answer.text

        one()
    assert len(asked) == 19
