"""Care for a specimen of the records: the form, the shop's own outcomes, the report, and what cannot be used."""

import io
import re
import zipfile
from pathlib import Path

import pytest
from tests.web.kept import Kept, in_memory, sent
from tests.web.policy import breaches

from ohmsworth import wiring
from ohmsworth.readings.meters import Accuracy
from ohmsworth.report.answer import as_json
from ohmsworth.work.care.care_study import care_study

ASKED = {
    "limit": "8 mΩ", "limit_source": "the shop", "currency": "€", "labour": "48", "failure": "120,50", "retest": "3 min",
    "material.clean": "0,8", "material.replace": "9.5", "maker": "the connector maker", "maker_words": "Never lubricate.",
    "forbids": "re-lubricate", "before": "as found", "after.clean": "cleaned",
}  # fmt: skip
BEFORE = {"A1": 12.0, "A2": 9.4, "A3": 15.0, "A4": 7.1}
AFTER = {"A1": 3.1, "A2": 2.9, "A3": 8.9, "A4": 3.0}


@pytest.fixture
def bench(tmp_path: Path) -> Kept:
    """Return a bench with a specimen that was read last as found, and a study of four that were cleaned."""
    kept = in_memory(tmp_path, drawn=True)
    kept.client.post("/cards/new/specimens", data={"serial": "S1", "key": "s"})
    rows = [
        f"{s},{c},1,{v}" for c, ohms in (("as found", BEFORE), ("cleaned", AFTER)) for s, v in ohms.items()
    ]
    take_in(
        kept,
        "Does cleaning help?",
        ["specimen,condition,mating,resistance [mΩ]", *rows],
        'reference = "as found"\n',
    )
    rows = [f"S1,as found,{m},2026-02-0{m} 10:00,{v}" for m, v in enumerate([9.6, 9.1, 9.9, 9.3], start=1)]
    take_in(kept, "How is it?", ["specimen,condition,mating,time,resistance [mΩ]", *rows])
    named = {"name": "S1", "serial": "S1", "change": "known", "key": "n"}
    assert kept.client.post("/studies/3/specimens", data=named).status_code == 303
    return kept


def take_in(bench: Kept, question: str, lines: list[str], more: str = "") -> None:
    toml = f'question = "{question}"\n{more}'.encode()
    told = bench.client.post(
        "/records/take-in", files=sent(("study.toml", toml), ("readings.csv", "\n".join(lines).encode()))
    )
    assert told.status_code == 200, told.text


def page(bench: Kept, status: int = 200, **changes: str) -> str:
    answer = bench.client.get("/specimens/1/care", params=ASKED | changes)
    assert answer.status_code == status, answer.text
    assert breaches(answer.text) == []
    return answer.text


def test_the_empty_form_has_what_is_known(bench: Kept) -> None:
    assert 'href="/specimens/1/care"' in bench.client.get("/specimens/1").text
    answer = bench.client.get("/specimens/1/care")
    assert answer.status_code == 200
    assert breaches(answer.text) == []
    assert '<option value="cleaned">' in answer.text
    assert "Step by step" not in answer.text


def test_the_shops_own_outcomes_decide(bench: Kept) -> None:
    text = page(bench)
    assert text.index("The connector maker forbids lubricating") < text.index("Step by step")
    data = bench.client.get("/specimens/1/care/answer.json", params=ASKED).json()
    helps = {one["name"]: one for one in data["helps"]}
    # A4 did not matter before; A3 still did after.
    assert [helps["clean"][key] for key in ("good", "cases", "not_counted")] == [2, 3, 1]
    assert data["changes"][0]["contacts"] == 4
    assert data["resistance"] == pytest.approx(9.475e-3)
    assert {one["name"] for one in data["options"]} == {
        "leave", "measure again", "exercise", "wipe", "clean", "replace",
    }  # fmt: skip
    assert data["sentence"].split(":")[0] in text
    assert data["asked_on"] == "2026-02-04"
    assert bench.client.get("/specimens/1/care/report.pdf", params=ASKED).content.startswith(b"%PDF-")
    pictures = set(re.findall(r'href="(/specimens/1/care/pictures/[^"]+)"', text))
    assert pictures
    for address in pictures:
        assert bench.client.get(address.replace("&amp;", "&")).status_code == 200, address


def test_its_folder_asks_the_command_line_the_same(bench: Kept, tmp_path: Path) -> None:
    packed = bench.client.get("/specimens/1/care/folder.zip", params=ASKED).content
    with zipfile.ZipFile(io.BytesIO(packed)) as files:
        files.extractall(tmp_path / "out")
    loaded = wiring.load_care(tmp_path / "out" / "care-1")
    told = bench.client.get("/specimens/1/care/answer.json", params=ASKED).json()
    assert as_json(care_study(loaded, loaded.request.found_on))["options"] == told["options"]


def test_a_stated_uncertainty_takes_the_place_of_the_scatter(bench: Kept) -> None:
    page(bench, uncertainty="0.5 mΩ")
    asked = ASKED | {"uncertainty": "0.5 mΩ"}
    data = bench.client.get("/specimens/1/care/answer.json", params=asked).json()
    assert (data["resistance"], data["standard_uncertainty"]) == pytest.approx((9.9e-3, 0.5e-3))


def test_what_cannot_be_used_is_told_beside_its_field(bench: Kept) -> None:
    changes = {
        "limit": "8",
        "labour": "much",
        "material.clean": "x",
        "clean_since": "soon",
        "environment": "G1",
    }
    text = page(bench, 422, **changes)
    for name in ("limit", "labour", "material.clean", "clean_since"):
        assert f'id="{name}-fault"' in text, name
    assert 'value="much"' in text
    assert "care.toml" not in text


def test_a_specimen_that_was_never_read_says_so(tmp_path: Path) -> None:
    kept = in_memory(tmp_path, drawn=True)
    kept.client.post("/cards/new/specimens", data={"serial": "S1", "key": "s"})
    assert "It has not been read" in kept.client.get("/specimens/1/care").text
    assert kept.client.get("/specimens/1/care/report.pdf", params=ASKED).status_code == 404


METERS = """
[bench]
emf_allowance = "1 µV"
[bench.voltmeter]
accuracy = "0.5 % + 2 counts"
resolution = "0.001 mV"
[bench.ammeter]
standard_uncertainty = "0.2 mA"
"""


@pytest.fixture
def measured(tmp_path: Path) -> Kept:
    """Return a bench with a specimen that a study with stated meters read in volts and amperes, once with a slip."""
    kept = in_memory(tmp_path, drawn=True)
    kept.client.post("/cards/new/specimens", data={"serial": "S1", "key": "s"})
    head = "specimen,condition,mating,time,polarity,voltage [mV],current [mA]"
    rows = [
        f"P{specimen},as found,{mating},2026-02-0{mating} 10:0{minute},{sign},{sign.strip('+')}{volts:.3f},{sign.strip('+')}100"
        for specimen in range(4)
        for mating, volts in enumerate((0.960, 0.911, 0.991, 0.932), start=1)
        for minute, sign in enumerate("+-+-")
    ]
    rows[2] = rows[2].replace("0.960", "9.600")
    take_in(kept, "How are they?", [head, *rows], METERS)
    named = {"name": "P0", "serial": "S1", "change": "known", "key": "n"}
    assert kept.client.post("/studies/2/specimens", data=named).status_code == 303
    return kept


def care_folder(bench: Kept, place: Path) -> Path:
    packed = bench.client.get("/specimens/1/care/folder.zip", params=ASKED).content
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        archive.extractall(place)
    return place / "care-1"


def test_the_meters_are_those_of_the_study(measured: Kept, tmp_path: Path) -> None:
    told = measured.client.get("/specimens/1/care/answer.json", params=ASKED).json()
    assert "NO_METER" not in {one["code"] for one in told["warnings"]}
    loaded = wiring.load_care(care_folder(measured, tmp_path / "out"))
    assert loaded.readings is not None
    bench = loaded.readings.study.bench
    assert (bench.voltmeter, bench.ammeter) == (Accuracy(0.005, 2, 1e-6), Accuracy(standard=0.2e-3))
    assert (bench.ohmmeter, bench.emf_allowance) == (None, pytest.approx(1e-6))
    assert as_json(care_study(loaded, loaded.request.found_on))["options"] == told["options"]
    # 0.5 % of reading as a rectangle is shared by all readings: so much at the least.
    assert told["standard_uncertainty"] > told["resistance"] * 0.005 / 3**0.5


def test_a_slip_is_no_part_of_what_was_found(measured: Kept) -> None:
    told = measured.client.get("/specimens/1/care/answer.json", params=ASKED).json()
    assert told["resistance"] == pytest.approx(9.485e-3, rel=1e-3)
    text = measured.client.get("/specimens/1").text
    assert "1 reading left out, which looks like a slip of a unit or decimal mark, as in the study" in text


def test_a_reading_that_its_owner_keeps_is_a_part_of_it(measured: Kept, tmp_path: Path) -> None:
    change = {"change": "keep", "reason": "read twice", "key": "k"}
    answer = measured.client.post("/studies/2/readings/4", data=change)
    assert answer.status_code == 303, answer.text
    assert (care_folder(measured, tmp_path / "out") / "care.toml").read_text().count("keep = [4]") == 1
    told = measured.client.get("/specimens/1/care/answer.json", params=ASKED).json()
    assert told["resistance"] > 12e-3
    assert "left out" not in measured.client.get("/specimens/1").text
