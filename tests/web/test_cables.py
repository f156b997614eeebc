"""The pages of built cables, asked as a browser without scripts would, and as one with them."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from tests.journeys.test_cable_sheet import Rows, as_it_is, filled, quoted, rows_of, semicolons
from tests.unit.work.builds.built import TOML, WIRE, demo
from tests.web.policy import breaches
from tests.web.test_study_pages import hidden, page

from ohmsworth import wiring
from ohmsworth.report.answer import as_json
from ohmsworth.web.app import Serving, create_app
from ohmsworth.work.cable_study import cable_study

PART = {"HX-Request": "true"}
FORM = {
    "make": "form", "name": "stage line", "serial": "no. 3", "length": "20 m", "ends.0": "stage", "ends.1": "desk",
    "ways": "2", "contacts": "3", "conductor": "0.22 mm²", "tolerance": "5 %", "accuracy": "0.1 % + 2 counts",
    "resolution": "1 mΩ", "leads": "0.12 Ω", "leads_uncertainty": "5 mΩ", "shell": "yes", "key": "the-form",
}  # fmt: skip


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """Return a browser before a bench with one cable."""
    place = str(tmp_path / "shop.records")
    with wiring.open_records(place) as records:
        serving = Serving(
            frozenset({"testserver"}), wiring.typeface_folder(), drawing=wiring.drawing(),
            keeping=wiring.keeping(place, place, tmp_path),
        )  # fmt: skip
        with TestClient(create_app(wiring.shop(records), serving), follow_redirects=False) as found:
            found.cookies.set("who", "Ada")
            answer = found.post("/cables/new", data={"toml": TOML, "key": "the-cable"})
            assert answer.headers["location"] == "/cables/1"
            yield found


def keep(client: TestClient, text: str, shown: str, status: int = 200, cable: int = 1, **more: str) -> str:
    """Send the figure for what the page `text` leads to, as a page with scripts does."""
    sent = {name: hidden(text, name) for name in ("key", "from", "to")}
    sent |= {"resistance": shown, "resistance_unit": "Ω"} | more
    answer = client.post(f"/cables/{cable}", data=sent, headers=PART)
    assert answer.status_code == status, answer.text
    assert breaches(answer.text, whole=False) == []
    return answer.text


def measured(client: TestClient) -> str:
    """Measure the whole cable, sound."""
    text = page(client, "/cables/1")
    for _ in range(20):
        if 'name="from" value=' not in text:
            return text
        shown = (
            WIRE
            if "(good|wire" in text or "a good wire lies" in text
            else "0.001"
            if "nearly nothing" in text
            else "open"
        )
        text = keep(client, text, shown)
    raise AssertionError("it never ends")


def test_a_cable_is_measured_row_by_row_until_it_is_right(client: TestClient) -> None:
    text = page(client, "/cables/1")
    assert "not tested" in text
    assert re.search(r"from</small> A:1 <small>to</small> B:1", text)
    assert "a good wire lies between" in text
    text = keep(client, text, WIRE)
    assert "Wire 1 has 850" in text
    assert re.search(r"from</small> A:2 <small>to</small> B:2", text)
    assert "1 of 3 wires read" in text
    text = measured(client)
    assert "Everything is measured" in text
    assert 'data-state="right"' in text
    listed = page(client, "/cables?state=right&search=no.+12")
    assert "line cable no. 12" in listed
    assert "✓ right" in listed
    assert "None is like that" in page(client, "/cables?state=wrong")


def test_without_scripts_the_whole_page_comes_back(client: TestClient) -> None:
    text = page(client, "/cables/1")
    sent = {name: hidden(text, name) for name in ("key", "from", "to")}
    answer = client.post("/cables/1", data=sent | {"resistance": "0,851", "resistance_unit": "Ω"})
    assert answer.status_code == 200
    assert breaches(answer.text) == []
    assert "<h1" in answer.text
    assert answer.cookies["mark"] == "comma"
    again = client.post("/cables/1", data=sent | {"resistance": "0,851", "resistance_unit": "Ω"})
    assert again.status_code == 200
    assert "1 row." in page(client, "/cables/1/rows")


def test_the_unit_that_was_typed_last_is_remembered(client: TestClient) -> None:
    text = keep(client, page(client, "/cables/1"), "850", resistance_unit="mΩ")
    assert "<option selected>mΩ</option>" in text
    assert "<option selected>mΩ</option>" in page(client, "/cables/1")


def test_open_is_a_button(client: TestClient) -> None:
    text = keep(client, page(client, "/cables/1"), "", open="yes")
    assert "Wire 1 does not reach" in text
    assert 'data-state="wrong"' in text


def test_a_slip_is_asked_about(client: TestClient) -> None:
    text = page(client, "/cables/1")
    asked = keep(client, text, "8.5", 409)
    assert "10 times more than wire 1 should read" in asked
    assert 'value="8.5"' in asked
    assert "Say why" in keep(client, asked, "8.5", 409, keep="yes")
    kept = keep(client, asked, "8.5", keep="yes", anyway="the meter shows it so")
    assert "kept: the meter shows it so" in kept
    assert "over the" in kept


@pytest.mark.parametrize(
    ("shown", "words"), [("", "what the meter shows"), ("much", "Found"), ("-1", "zero or more")]
)
def test_what_cannot_be_read_stands_in_its_field(client: TestClient, shown: str, words: str) -> None:
    text = keep(client, page(client, "/cables/1"), shown, 422)
    assert 'aria-invalid="true"' in text
    assert words in text
    assert "Nothing was measured yet" in page(client, "/cables/1/rows")


def test_undo_leads_to_the_same_measurement_again(client: TestClient) -> None:
    text = keep(client, page(client, "/cables/1"), "0.9")
    sent = {"key": "undo-1", "of": re.search(r'name="of" value="(\d+)"', text)[1]}  # type: ignore[index]
    undone = client.post("/cables/1/undo", data=sent, headers=PART)
    assert undone.status_code == 200
    assert "Row 1 is withdrawn" in undone.text
    assert hidden(undone.text, "from") == "A:1"
    assert client.post("/cables/1/undo", data=sent, headers=PART).status_code == 200
    assert "withdrawn</strong>: undone at once" in page(client, "/cables/1/rows")


def test_contacts_of_ones_own_choice_are_measured(client: TestClient) -> None:
    text = page(client, "/cables/1?from=A:3&to=rest")
    assert "Measure this" in text
    assert hidden(text, "to") == "rest"
    text = keep(client, text, "open")
    assert "no path" in text
    assert "which end A does not have" in page(client, "/cables/1?from=A:9&to=B:1")


def test_rows_are_withdrawn_and_put_back(client: TestClient) -> None:
    keep(client, page(client, "/cables/1"), "0.9")
    assert client.post("/cables/1/rows/2", data={"change": "withdraw", "key": "k1"}).status_code == 422
    there = "/cables/1/rows"
    answer = client.post("/cables/1/rows/2", data={"change": "withdraw", "reason": "wrong wire", "key": "k1"})
    assert answer.headers["location"] == there
    assert "Put it back" in page(client, there)
    client.post("/cables/1/rows/2", data={"change": "back", "reason": "it was right", "key": "k2"})
    assert "put back</strong>: it was right" in page(client, there)
    assert client.post("/cables/1/note", data={"text": "for the hall", "key": "k3"}).status_code == 303
    assert "for the hall" in page(client, there)


def test_files_are_taken_in_and_given_out_alike(client: TestClient, tmp_path: Path) -> None:
    folder = demo(tmp_path / "demo")
    files = {
        name: (name, (folder / there).read_bytes())
        for name, there in (("file", "cable.toml"), ("test", "test.csv"))
    }
    answer = client.post("/cables/new", data={"key": "both"}, files=files)
    there = answer.headers["location"]
    told = as_json(cable_study(wiring.load_cable(folder)))
    assert client.get(f"/api{there}/answer").json() == told
    packed = zipfile.ZipFile(io.BytesIO(client.get(f"{there}/folder.zip").content))
    packed.extractall(tmp_path / "out")
    assert as_json(cable_study(wiring.load_cable(tmp_path / f"out/{there[1:].replace('s/', '-')}"))) == told
    again = client.post(f"{there}/test", data={"key": "f"}, files={"file": files["test"]})
    assert "new=0" in again.headers["location"]
    assert "Rows of the file that were new: 0" in page(client, again.headers["location"])


def test_a_file_at_fault_keeps_nothing(client: TestClient) -> None:
    bad = {"file": ("test.csv", b"from,to,resistance [ohm]\nA:7,B:1,1\n")}
    answer = client.post("/cables/1/test", data={"key": "f"}, files=bad)
    assert answer.status_code == 422
    assert "test.csv, line 2" in answer.text
    answer = client.post("/cables/new", data={"key": "n", "toml": TOML}, files={"test": bad["file"]})
    assert answer.status_code == 422
    assert "from = " in answer.text  # the text is still there
    assert "1 cable" in page(client, "/cables")


def test_the_report_is_a_page_and_files(client: TestClient) -> None:
    measured(client)
    assert "is right" in page(client, "/cables/1/report")
    assert client.get("/cables/1/report.pdf").content.startswith(b"%PDF-")
    assert "is right" in client.get("/cables/1/report.html").text
    assert client.get("/cables/1/answer.json").json()["verdict"] == "right"
    (picture, *_) = re.findall(r'href="(/cables/1/pictures/[^"]+)"', page(client, "/cables/1/report"))
    assert client.get(picture).status_code == 200


def test_a_plain_form_makes_the_text_and_the_cable(client: TestClient) -> None:
    shown = client.post("/cables/new", data=FORM | {"make": "text"})
    assert shown.status_code == 200
    assert "from = &#34;stage:1-2.1-3&#34;" in shown.text
    assert "1 cable" in page(client, "/cables")
    there = client.post("/cables/new", data=FORM).headers["location"]
    assert client.post("/cables/new", data=FORM).headers["location"] == there
    answer = client.get(f"/api{there}/answer").json()
    assert [(wire["start"], wire["stop"]) for wire in answer["wires"]] == [
        *((f"stage:{way}.{contact}", f"desk:{way}.{contact}") for way in (1, 2) for contact in (1, 2, 3)),
        ("stage:shell", "desk:shell"),
    ]  # fmt: skip
    assert "120 mΩ of leads among it" in page(client, there)


@pytest.mark.parametrize(
    ("field", "text"),
    [("ways", "many"), ("contacts", ""), ("length", "far"), ("ends.1", "stage"), ("conductor", "thick")],
)
def test_a_form_at_fault_says_so_at_its_field(client: TestClient, field: str, text: str) -> None:
    answer = client.post("/cables/new", data=FORM | {field: text})
    assert answer.status_code == 422
    assert breaches(answer.text) == []
    assert 'aria-invalid="true"' in answer.text
    assert "1 cable" in page(client, "/cables")


def test_a_description_is_changed_with_a_reason(client: TestClient) -> None:
    text = page(client, "/cables/1/description")
    sent = {"toml": TOML.replace("10 m", "11 m"), "seen": hidden(text, "seen"), "key": "d1"}
    assert client.post("/cables/1/description", data=sent).status_code == 422
    answer = client.post("/cables/1/description", data=sent | {"reason": "measured again"})
    assert answer.headers["location"] == "/cables/1"
    text = page(client, "/cables/1/description")
    assert "11 m" in text
    assert "measured again" not in re.sub(r"<details.*", "", text, flags=re.DOTALL)
    assert "What it said before" in text


def test_without_a_meter_the_page_says_what_is_missing(client: TestClient) -> None:
    there = client.post("/cables/new", data={"toml": TOML[: TOML.index("[meter]")], "key": "m"}).headers[
        "location"
    ]
    assert "The meter is not stated yet" in page(client, there)


def test_a_cable_is_found_and_has_one_page(client: TestClient) -> None:
    assert 'href="/cables/1"' in page(client, "/search?q=line+cable")
    assert client.get("/cards/1").headers["location"] == "/cables/1"
    for path in ("", "/rows", "/report", "/description"):
        page(client, f"/cables/2{path}", 404)
    client.post("/cards/new/specimens", data={"serial": "S-1", "key": "s"})
    page(client, "/cables/2", 404)


def test_programs_measure_too(client: TestClient) -> None:
    made = client.post("/api/cables", json={"key": "api-cable", "toml": TOML})
    assert made.status_code == 201
    number = made.json()["number"]
    row = {"key": "api-row-1", "from": "A:1", "to": "B:1", "resistance": "8.5 Ω"}
    asked = client.post(f"/api/cables/{number}/rows", json=row)
    assert (asked.status_code, asked.json()["number"]) == (409, None)
    assert client.post(f"/api/cables/{number}/rows", json=row | {"resistance": "850 mΩ"}).status_code == 200
    assert (
        client.post(
            f"/api/cables/{number}/rows", json=row | {"key": "api-row-2", "resistance": "5"}
        ).status_code
        == 422
    )
    (kept,) = client.get(f"/api/cables/{number}/rows").json()
    assert (kept["from"], kept["line"], kept["resistance"]["si"]) == ("A:1", 2, 0.85)
    change = {"key": "api-change", "change": "withdraw", "reason": "wrong wire"}
    changed = client.post(f"/api/cables/{number}/rows/{kept['number']}/changes", json=change)
    assert (changed.json()["state"], changed.json()["line"]) == ("withdrawn", None)
    assert client.get("/api/cables?state=not tested").json()[0]["number"] == number
    assert client.get(f"/api/cables/{number}/description").text.startswith("name = ")


@pytest.mark.parametrize("saved", [semicolons, quoted, as_it_is])
def test_a_sheet_is_filled_in_with_a_spreadsheet_and_sent_again(
    client: TestClient, saved: Callable[[Rows], bytes]
) -> None:
    keep(client, page(client, "/cables/1"), WIRE)
    assert 'href="/cables/1/rows#from-file"' in page(client, "/cables/1")
    assert 'href="/cables/1/sheet.csv"' in page(client, "/cables/1/rows")
    answer = client.get("/cables/1/sheet.csv")
    assert "text/csv" in answer.headers["content-type"]
    rows = rows_of(answer.content)
    assert rows[1][:4] == ["1", "A:2", "B:2", ""]  # the first was measured
    sheet = {"file": ("cable-1-sheet.csv", saved(filled(rows)))}
    sent = client.post("/cables/1/test", data={"key": "sheet"}, files=sheet)
    assert sent.headers["location"] == f"/cables/1/rows?new={len(rows) - 1}&known=0"
    assert "✓ right" in page(client, "/cables/1/rows")
    assert "nothing left to measure" in page(client, "/cables/1/sheet.csv", 422)


SCREENED = {"screen": "25 mΩ/m", "screen_tolerance": "10 %", "shell": ""}


@pytest.mark.parametrize(
    ("ways", "contacts", "names", "pair"),
    [
        ("1", "3", ["screen", "hot", "cold"], "line"),
        ("2", "3", ["screen 1", "screen 2", "hot 1", "hot 2", "cold 1", "cold 2"], "way 1"),
        ("1", "2", ["screen", "wire"], ""),
        ("1", "4", ["screen", "wire 2", "wire 3", "wire 4"], ""),
    ],
)
def test_the_plain_form_knows_a_screen(
    client: TestClient, ways: str, contacts: str, names: list[str], pair: str
) -> None:
    """20 m of 25 mΩ/m have 0.5 Ω; as a core of 0.22 mm² the screen would be far under its bounds."""
    there = client.post("/cables/new", data=FORM | SCREENED | {"ways": ways, "contacts": contacts}).headers[
        "location"
    ]
    wires = client.get(f"/api{there}/answer").json()["wires"]
    assert [wire["name"] for wire in wires] == names
    assert (wires[0]["role"], wires[-1]["role"]) == ("screen", "core")
    assert wires[0]["usual"] == pytest.approx(0.5)
    assert next((wire["pair"] for wire in wires if wire["name"].startswith("hot")), "") == pair


@pytest.mark.parametrize(
    ("sent", "field"),
    [
        ({"screen": "thick"}, "screen"),
        ({"screen": "25 mΩ/m", "screen_tolerance": "much"}, "screen_tolerance"),
        ({"screen": "25 mΩ/m", "contacts": "1"}, "screen"),
    ],
)
def test_a_screen_at_fault_is_told_at_its_field(client: TestClient, sent: dict[str, str], field: str) -> None:
    answer = client.post("/cables/new", data=FORM | {"screen_tolerance": "10 %"} | sent)
    assert answer.status_code == 422
    assert re.search(rf'id="{field}"[^>]*aria-invalid="true"', answer.text)


def test_what_to_do_about_a_wrong_cable_stands_where_it_was_measured(client: TestClient) -> None:
    """Wires 1 and 2 touch: once nothing is left, the page leads to the two readings that tell where."""
    text = page(client, "/cables/1")
    for _ in range(30):
        if 'id="resistance"' not in text:
            break
        one, other = (hidden(text, name).split() for name in ("from", "to"))
        wire = one[0].replace("A:", "B:") == other[0] and len(one) == len(other) == 1
        touch = any({"A:1"} <= {*a} and {"A:2"} <= {*b} for a, b in ((one, other), (other, one)))
        text = keep(client, text, "0.850" if wire else "0.3" if touch else "open")
    assert "Everything is measured" in text
    assert "Measure A:1 against A:2 and B:1 against B:2" in text
    assert "carries no voltage" in text
    (more,) = re.findall(r'href="(/cables/1\?from=[^"]+)"', text)
    text = page(client, more.replace("&amp;", "&"))
    assert "Where do these touch?" in text
    told = keep(client, text, "1.3")
    assert "Wire 1 and wire 2, 2.06 m from A: it lies in the cable" in told
    assert "?from=" not in told


def test_a_link_that_reads_too_much_is_told_at_once(client: TestClient) -> None:
    linked = TOML.replace("[meter]", '[[links]]\ncontacts = ["A:1", "A:2"]\n[meter]')
    there = client.post("/cables/new", data={"toml": linked, "key": "linked"}).headers["location"]
    told = keep(client, page(client, f"{there}?from=A:1&to=A:2"), "700", cable=int(there.rpartition("/")[2]))
    assert "it is missing or bad" in told
    assert "a path was found" not in told
