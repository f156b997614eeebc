"""A lot's certificate through the command line: issued, verified, superseded, printed over pages; and what is refused."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import pypdf
import pytest
from tests.lots_made import CORRECTED, FIRST, LOT, sample
from tests.papers_made import CABLE, RIGHT

from ohmsworth.cli.app import run

Captured = pytest.CaptureFixture[str]
ROOT = Path(__file__).parents[2]
NAME = "certificate-2026-020.json"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a lot that is accepted, in "lot", and a key."""
    monkeypatch.delenv("OHMSWORTH_KEY_PASSPHRASE", raising=False)
    write(tmp_path, LOT, sample())
    assert run(["make-key", str(tmp_path / "shop.key")]) == 0
    return tmp_path


def write(place: Path, study: str, readings: str | None) -> None:
    (place / "lot").mkdir(exist_ok=True)
    (place / "lot/study.toml").write_text(study, "utf-8")
    if readings is not None:
        (place / "lot/readings.csv").write_text(readings, "utf-8")


def certify(place: Path, *more: str) -> int:
    return run(["certify", str(place / "lot"), "--key", str(place / "shop.key"), *more])


def verify(place: Path, *more: str, name: str = f"lot/{NAME}") -> int:
    return run(["verify", str(place / name), *more])


def schema(name: str) -> jsonschema.Draft202012Validator:
    text = (ROOT / f"src/ohmsworth/report/{name}.schema.json").read_text("utf-8")
    return jsonschema.Draft202012Validator(json.loads(text))


def paper(place: Path, name: str = NAME) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((place / "lot" / name).read_text("utf-8"))
    return found


def test_from_the_sample_to_a_paper_that_anybody_can_check(shop: Path, capsys: Captured) -> None:
    pages = ["--html", str(shop / "c.html"), "--pdf", str(shop / "c.pdf"), "--label", str(shop / "l.svg")]
    assert certify(shop, *pages) == 0
    printed = capsys.readouterr().out
    assert "Certificate 2026-020\n====" in printed
    assert "✓ ACCEPTED" in printed
    made = paper(shop)
    schema("certify-lot").validate(made)
    assert made["kind"] == "certificate"
    assert made["lot"] == {
        "name": "three-pin plugs",
        "number": "B-77",
        "size": "200",
        "drawn": "by random numbers, from every box",
    }
    public = str(shop / "shop.key.pub")
    for name in (f"lot/{NAME}", "c.html", "c.pdf"):
        assert verify(shop, "--key", public, "--folder", str(shop / "lot"), "--json", name=name) == 0
        answer = json.loads(capsys.readouterr().out)
        schema("verify").validate(answer)
        checks = ["whole", "signature", "results", *([] if name.endswith("json") else ["page"]), "folder"]
        assert [check["name"] for check in answer["checks"]] == checks
        assert {check["result"] for check in answer["checks"]} == {"holds"}
        assert (answer["lot"], answer["lot_number"], answer["cable"]) == ("three-pin plugs", "B-77", "")
        assert "three-pin plugs, lot B-77 was accepted on 2026-03-02" in answer["sentence"]


def test_its_answer_is_that_of_the_lot(shop: Path, capsys: Captured) -> None:
    """Every value on the paper is one that 'ohmsworth lot' gives for the same folder."""
    assert certify(shop) == 0
    capsys.readouterr()
    assert run(["lot", str(shop / "lot"), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    made = paper(shop)
    assert made["results"]["verdict"] == answer["verdict"] == "accept"
    assert len(made["results"]["pieces"]) == len(answer["specimens"]) == 76
    pieces = {one["piece"]: one for one in made["results"]["pieces"]}
    for one in answer["specimens"]:
        mine = pieces[one["id"]]
        assert float(mine["resistance"]) == pytest.approx(one["resistance"], rel=1e-5)
        assert float(mine["standard_uncertainty"]) == pytest.approx(one["standard_uncertainty"], rel=1e-5)
        assert mine["verdict"] == one["verdict"]
    for key in ("sample", "accepted"):
        assert made["plan"][key] == str(answer["plan"][key])
    for key in ("accepts_acceptable", "accepts_rejectable"):
        assert float(made["plan"][key]) == pytest.approx(answer["plan"][key], rel=1e-5)


def test_the_pdf_holds_every_piece_over_several_pages(shop: Path) -> None:
    assert certify(shop, "--pdf", str(shop / "c.pdf")) == 0
    pages = [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(shop / "c.pdf").pages]
    for words in ("B-77", "200 pieces", "76 pieces", "by random numbers", "datasheet of the plug", "21 °C"):
        assert words in pages[0]
    for words in ("bench meter, serial 0042", "2026-01-15", "A. Tester", "2026-03-02", "The Hall"):
        assert words in pages[0]
    table = " ".join(pages[1:4])
    rows = [f"P{i} 2 " for i in range(1, 77)]
    assert all(row in table for row in rows)
    assert rows[0] in pages[1]
    assert rows[-1] not in pages[1]  # the table goes on
    whole = " ".join(pages)
    for words in (
        "at most 2 are over 3 mΩ",
        "producer's risk",
        "consumer's risk",
        "guard band for 95 % confidence",
    ):
        assert words.replace("'", "’") in whole.replace("'", "’")
    inside = pypdf.PdfReader(shop / "c.pdf").attachments
    assert {name: [json.loads(one) for one in many] for name, many in inside.items()} == {
        "data.json": [paper(shop)]
    }


def test_a_changed_reading_is_told(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    made = paper(shop)
    line = next(line for line in made["readings"].splitlines() if line.startswith(FIRST))
    volt = line.split(",")[4]
    made["readings"] = made["readings"].replace(line, line.replace(volt, f"{float(volt) + 0.01:.5f}"))
    (shop / "lot" / NAME).write_text(json.dumps(made, ensure_ascii=False), "utf-8")
    capsys.readouterr()
    assert verify(shop, "--json") == 1
    answer = json.loads(capsys.readouterr().out)
    failed = {check["name"] for check in answer["checks"] if check["result"] == "fails"}
    assert failed == {"whole", "signature", "results"}
    details = next(c["details"] for c in answer["checks"] if c["name"] == "results")
    assert any(told.startswith("piece P1, resistance: ") for told in details)


def test_a_folder_that_says_something_else_by_now_is_told(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    capsys.readouterr()
    write(shop, LOT.replace("The Hall", "The Barn"), sample())  # its own table alone
    assert verify(shop, "--folder", str(shop / "lot")) == 0
    write(shop, LOT.replace('"3 mΩ"', '"3.1 mΩ"'), sample())
    assert verify(shop, "--folder", str(shop / "lot")) == 1
    assert 'resistance = "3.1 mΩ" now' in " ".join(capsys.readouterr().out.replace("|", " ").split())


def test_a_corrected_one_names_the_old_one_and_why(shop: Path, capsys: Captured) -> None:
    assert certify(shop) == 0
    assert certify(shop) == 3  # a number is given once
    write(shop, CORRECTED, sample())
    assert certify(shop, "--pdf", str(shop / "new.pdf")) == 0
    reason = "The name of the customer was wrong."
    new = paper(shop, "certificate-2026-021.json")
    assert new["supersedes"] == {"number": "2026-020", "digest": paper(shop)["digest"], "reason": reason}
    assert reason in " ".join(pypdf.PdfReader(shop / "new.pdf").pages[0].extract_text().split())
    capsys.readouterr()
    assert verify(shop, name="lot/certificate-2026-021.json") == 0
    assert "takes the place of number 2026-020" in " ".join(capsys.readouterr().out.replace("|", " ").split())


def test_a_cables_paper_is_not_superseded_by_a_lots(shop: Path, capsys: Captured) -> None:
    (shop / "cable").mkdir()
    (shop / "cable/cable.toml").write_text(CABLE, "utf-8")
    (shop / "cable/test.csv").write_text(RIGHT, "utf-8")
    assert run(["certify", str(shop / "cable"), "--key", str(shop / "shop.key")]) == 0
    (shop / "cable/certificate-2026-014.json").rename(shop / "lot/certificate-2026-014.json")
    write(shop, CORRECTED.replace('supersedes = "2026-020"', 'supersedes = "2026-014"'), sample())
    assert certify(shop) == 2
    assert "a paper of another kind" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("drawn", "verdict", "told"),
    [
        ({"over": 5}, "reject", "not accepted: rejected"),
        ({"close": 4}, "cannot tell yet", "not accepted: cannot tell yet"),
    ],
)
def test_a_lot_that_is_not_accepted_gets_a_report_that_says_so(
    shop: Path, capsys: Captured, drawn: dict[str, int], verdict: str, told: str
) -> None:
    write(shop, LOT, sample(**drawn))
    assert certify(shop, "--pdf", str(shop / "c.pdf"), "--label", str(shop / "l.svg")) == 0
    made = paper(shop)
    assert (made["kind"], made["results"]["verdict"]) == ("test report", verdict)
    assert "Not accepted: test report 2026-020\n====" in capsys.readouterr().out
    pages = [page.extract_text() for page in pypdf.PdfReader(shop / "c.pdf").pages]
    assert pages[0].startswith("Not accepted: test report 2026-020")
    assert told in pages[0]
    assert "ertificate 2026-020" not in "".join(pages)
    assert verify(shop, name="c.pdf") == 0
    assert f"was not accepted ({verdict})" in " ".join(capsys.readouterr().out.replace("|", " ").split())


def test_everything_that_is_missing_is_told_at_once(shop: Path, capsys: Captured) -> None:
    bare = LOT[: LOT.index("[certificate]")].replace("2026-01-15", "2099-01-15")
    for key in ('name = "three', "number", "size", "drawn"):
        bare = "\n".join(line for line in bare.splitlines() if not line.startswith(key))
    write(shop, bare, sample(30))
    assert certify(shop) == 2
    err = capsys.readouterr().err
    assert "Refused: 7 faults" in err
    for words in (
        "'certificate'",
        "'name'",
        "'number'",
        "'size'",
        "'drawn'",
        "after the test",
        "more wanted",
    ):
        assert words in err
    assert sorted(os.listdir(shop / "lot")) == ["readings.csv", "study.toml"]


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("date = 2026-03-02", "date = 2999-03-02", "after today"),
        ('customer = "The Hall"', 'custmer = "The Hall"', "Did you mean 'customer'?"),
        ("size = 200", "size = 40", "of a lot of 40"),
        ('number = "B-77"', 'number = "–"', "a number such as 2026-014"),
        ('drawn = "by random', f'drawn = "{"x" * 201}by random', "at most 200"),
        ("[limit]", 'history = ["../last"]\n[limit]', "past studies"),
    ],
)
def test_a_slip_in_the_study_is_told(shop: Path, capsys: Captured, old: str, new: str, words: str) -> None:
    assert old in LOT
    write(shop, LOT.replace(old, new), sample())
    assert certify(shop) == 2
    assert words in capsys.readouterr().err


def test_a_lot_that_was_not_measured_is_refused(shop: Path, capsys: Captured) -> None:
    (shop / "lot/readings.csv").unlink()
    assert certify(shop) == 2
    assert "readings.csv: found no such file" in capsys.readouterr().err


def test_a_folder_of_both_kinds_is_refused(shop: Path, capsys: Captured) -> None:
    (shop / "lot/cable.toml").write_text(CABLE, "utf-8")
    assert certify(shop) == 2
    assert "cable.toml and study.toml in one folder" in capsys.readouterr().err


def test_the_study_is_asked_as_before_with_its_paper_stated(shop: Path) -> None:
    assert run(["answer", str(shop / "lot")]) == 0
