"""An order in the workshop from its descriptions to its report, through the command line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import pytest
from tests.unit.work.workshop.ordered import LEAD, REELS
from tests.unit.work.workshop.ordered import LINE as PLAIN

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.advice.cautions import CUTTING, SOLDERING
from ohmsworth.cli.app import run
from ohmsworth.report.answer import as_json

Captured = pytest.CaptureFixture[str]
ROOT = Path(__file__).parents[2]
SCHEMA = json.loads((ROOT / "src/ohmsworth/report/workshop.schema.json").read_text("utf-8"))
LINE = PLAIN.replace("bulk", 'length_tolerance = "1 %"\nbulk').replace(
    "[ends.A]", '[ends.A]\nconnector = "3-pin, male"'
)
PRICES = """\
currency = "€"
hourly_rate = 60
surcharge = "10 %"
tax = "20 %"
[parts]
"3-pin, male" = 4.20
"3-pin, female" = 4.60
[wires]
strand = 0.25
"two cores" = 1.10
[minutes]
termination = 2
cable = 10
measurement = 0.5
"""


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    for name, text in (("lead", LEAD), ("line", LINE)):
        (tmp_path / name).mkdir()
        (tmp_path / name / "cable.toml").write_text(text, "utf-8")
    (tmp_path / "reels.csv").write_text(REELS, "utf-8")
    (tmp_path / "prices.toml").write_text(PRICES, "utf-8")
    return tmp_path


def answer(capsys: Captured, *arguments: object) -> dict[str, Any]:
    code = run(["workshop", *map(str, arguments), "--json"])
    out, err = capsys.readouterr()
    assert code == 0, err
    found: dict[str, Any] = json.loads(out)
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    return found


def test_a_whole_order(shop: Path, capsys: Captured) -> None:
    found = answer(
        capsys, shop / "lead", shop / "line", "--reels", shop / "reels.csv", "--prices", shop / "prices.toml"
    )
    assert found["format"] == "ohmsworth workshop 1"
    assert found["verdict"] == "enough in stock"
    # Twelve pieces of 3.1 m; one of 40 m with 20 cm for its ends and the 40 cm by which it may be longer.
    assert [(p["stock"], p["number"], p["cut"]) for p in found["pieces"]] == [
        ("strand", 12, 3.1),
        ("two cores", 1, 40.6),
    ]
    strand, line = found["stocks"]
    (reel,) = strand["reels"]
    assert (reel["name"], reel["left"], reel["kept"]) == ("S1", 2.8, True)
    # The short reel would leave 0.4 m of scrap; the long one leaves a useful rest.
    assert [(r["name"], r["left"], r["kept"]) for r in line["reels"]] == [("T2", 59.4, True)]
    assert (line["scrap"], line["proven"], line["missing"]) == (0.0, True, [])
    assert found["unused_reels"] == ["rope"]
    assert found["parts"] == [["3-pin, male", 5], ["3-pin, female", 4]]
    # 4 x 3 wires with 2 ends and 1 x 2 wires; each of the leads: 3 wires and 2 more measurements, the line: 2 and 1.
    assert found["steps"] == [["termination", 28], ["joint", 0], ["cable", 5], ["measurement", 23]]
    told = found["estimate"]
    # 5 x 4.20 + 4 x 4.60 + 37.2 x 0.25 + 40.6 x 1.10 = 93.36; 10 %: 9.34; 56 + 50 + 11.5 minutes at 1 € each: 117.50
    assert (told["materials"], told["surcharge"], told["labour"]) == ("93.36", "9.34", "117.50")
    assert (told["total"], told["tax"], told["total_with_tax"]) == ("220.20", "44.04", "264.24")
    assert told["complete"]
    assert "220.20 € without tax, 264.24 € with it" in found["sentence"]
    assert "No connector is stated for 'B' of line" in " ".join(found["findings"])


def test_the_cut_list_alone(shop: Path, capsys: Captured) -> None:
    found = answer(capsys, shop / "lead", "--quantity", 7)
    assert (found["verdict"], found["estimate"], found["stocks"][0]["reels"]) == (None, None, None)
    assert found["sentence"] == "7 cables need 21 pieces: 65.100 m of 'strand'."


def test_what_is_missing_is_told(shop: Path, capsys: Captured) -> None:
    found = answer(capsys, shop / "lead", shop / "line", "--reels", shop / "reels.csv", "--quantity", 5)
    assert found["verdict"] == "not enough in stock"
    strand, line = found["stocks"]
    assert (strand["missing_length"], [cut["number"] for cut in strand["missing"]]) == (9.3, [3])
    assert (line["missing_length"], [cut["number"] for cut in line["missing"]]) == (81.2, [2])
    assert found["sentence"].startswith(
        "There is not enough in stock for 10 cables: 9.300 m of 'strand' and 81.200 m of 'two cores' are missing."
    )
    assert any("has room for 2 pieces of 40.600 m for line" in words for words in found["findings"])
    assert found["actions"][0]["words"].startswith("Get 9.300 m of 'strand'")


def test_a_price_that_lacks_is_never_left_out_in_silence(shop: Path, capsys: Captured) -> None:
    text = PRICES.replace('"3-pin, male"', '"3-pin, mail"').replace("termination = 2\n", "")
    (shop / "prices.toml").write_text(text, "utf-8")
    found = answer(capsys, shop / "lead", "--prices", shop / "prices.toml")
    assert not found["estimate"]["complete"]
    assert "That is not the whole: 2 lines have no price." in found["sentence"]
    assert "No price stated: '3-pin, male' (did you mean '3-pin, mail'?)." in found["findings"]
    assert "No time stated: minutes for each termination." in found["findings"]
    assert run(["workshop", str(shop / "lead"), "--prices", str(shop / "prices.toml")]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "no price stated" in printed
    assert "The total is not the whole: 2 lines without a price" in printed


def test_scrap_is_paid_for_on_a_line_of_its_own(shop: Path, capsys: Captured) -> None:
    (shop / "reels.csv").write_text("wire,length [m],useful [m]\ntwo cores,41,1\n", "utf-8")
    found = answer(capsys, shop / "line", "--reels", shop / "reels.csv", "--prices", shop / "prices.toml")
    (line,) = [line for line in found["estimate"]["lines"] if line["group"] == "scrap"]
    assert (line["name"], line["number"], line["amount"]) == ("two cores", 0.4, "0.44")
    assert "0.400 m is scrap, 1.0 % of what is used up" in found["sentence"]


def test_every_report_is_written_with_cautions_beside_the_work(shop: Path, capsys: Captured) -> None:
    targets = ["--html", str(shop / "r.html"), "--pdf", str(shop / "r.pdf"), "--pictures", str(shop / "p")]
    named = ["--reels", str(shop / "reels.csv"), "--prices", str(shop / "prices.toml")]
    assert run(["workshop", str(shop / "lead"), str(shop / "line"), *named, *targets]) == 0
    page = (shop / "r.html").read_text("utf-8")
    assert page.count(CUTTING) == 3  # below each step that cuts or strips, and above the cut list
    strip, test = page.index("Strip and terminate"), page.index("Test each finished cable")
    assert page.index(CUTTING) < strip < page.index(CUTTING, strip) < test
    assert strip < page.index(SOLDERING) < test
    assert "From which reel" in page
    assert (shop / "r.pdf").read_bytes().startswith(b"%PDF")
    assert (shop / "p" / "reels.svg").exists()


@pytest.mark.parametrize(
    ("arguments", "where"),
    [
        ([], "the command"),
        (["{shop}/lead", "--quantity", "0"], "--quantity"),
        (["{shop}/lead", "--seconds", "0"], "--seconds"),
        (["{shop}/lead", "--reels", "{shop}/none.csv"], "none.csv"),
        (["{shop}/lead", "--prices", "{shop}/none.toml"], "none.toml"),
        (["{shop}/nothing"], "nothing"),
    ],
)
def test_what_cannot_be_is_refused(shop: Path, capsys: Captured, arguments: list[str], where: str) -> None:
    assert run(["workshop", *(one.format(shop=shop) for one in arguments)]) == 2
    told = capsys.readouterr().err
    assert where in told
    assert "Traceback" not in told


@pytest.mark.parametrize("name", ["reels.csv", "prices.toml", "lead/cable.toml", "lead/test.csv"])
def test_nothing_takes_the_place_of_what_is_read(shop: Path, capsys: Captured, name: str) -> None:
    named = ["--reels", str(shop / "reels.csv"), "--prices", str(shop / "prices.toml")]
    before = {path: path.read_bytes() for path in shop.rglob("*") if path.is_file()}
    assert run(["workshop", str(shop / "lead"), *named, "--html", str(shop / name)]) != 0
    assert before == {path: path.read_bytes() for path in shop.rglob("*") if path.is_file()}


def test_the_library_says_the_same(shop: Path, capsys: Captured) -> None:
    by_command = answer(
        capsys, shop / "lead", "--reels", shop / "reels.csv", "--prices", shop / "prices.toml"
    )
    found = ow.workshop(shop / "lead", reels=shop / "reels.csv", prices=shop / "prices.toml")
    assert json.loads(json.dumps(as_json(found))) == by_command
    assert ow.workshop([str(shop / "lead")] * 2, quantity=2).stocks[0].pieces == 12
    with pytest.raises(ow.ArgumentFault):
        ow.workshop(shop / "lead", quantity=0)
    with pytest.raises(ow.ArgumentFault):
        ow.workshop([])


def test_cables_of_one_name_are_told_apart_by_their_folders(shop: Path, capsys: Captured) -> None:
    (shop / "other").mkdir()
    (shop / "other" / "cable.toml").write_text(LEAD.replace('"3 m"', '"2 m"'), "utf-8")
    found = answer(capsys, shop / "lead", shop / "other")
    assert [cable["name"] for cable in found["cables"]] == ["lead (lead)", "lead (other)"]


def test_the_demonstrations_cable_has_its_cut_list(tmp_path: Path) -> None:
    wiring.write_demo_cable(tmp_path)
    found = ow.workshop(tmp_path)
    assert [(p.what, p.number, p.cut) for p in found.pieces] == [("screen", 8, 40.7), ("core", 16, 40.7)]
