"""A lot from its question to its verdict, through the command line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pytest

from ohmsworth.cli.app import run

Captured = pytest.CaptureFixture[str]
STUDY = """question = "Can I sell this lot?"
[limit]
resistance = "3 mΩ"
source = "datasheet"
[bench.voltmeter]
percent_of_reading = 0.1
counts = 3
resolution = "0.1 µV"
[bench.ammeter]
percent_of_reading = 0.2
counts = 3
resolution = "10 µA"
[lot]
acceptable = "1 %"
rejectable = "6 %"
"""


def readings(values: list[float], contacts: int = 0, condition: str = "lot", mating: float = 0.02) -> str:
    """Two matings of every piece (and contact), forward and reversed."""
    rng = np.random.default_rng(5)
    rows = ["specimen,condition,mating,contact,polarity,voltage [mV],current [mA]"]
    for i, value in enumerate(values):
        for contact in range(max(contacts, 1)):
            ohm = value if contact == 0 else 1e-3 * (1 + 0.05 * rng.standard_normal())
            for turn in (1, 2):
                now = ohm * float(np.exp(mating * rng.standard_normal()))
                for sign, current in (("+", 100.0), ("-", -100.0)):
                    volt = now * current + 0.002 + 0.0002 * float(rng.standard_normal())
                    name = f"{contact + 1}" if contacts else "1"
                    rows.append(f"P{i + 1},{condition},{turn},{name},{sign},{volt:.5f},{current:.2f}")
    if not contacts:
        rows = [",".join(row.split(",")[:3] + row.split(",")[4:]) for row in rows]
    return "\n".join(rows) + "\n"


def values(n: int, median: float = 2e-3, spread: float = 0.08) -> list[float]:
    return list(median * np.exp(spread * np.random.default_rng(n).standard_normal(n)))


def folder(tmp_path: Path, lot: str = "", table: str | None = None) -> Path:
    (tmp_path / "study.toml").write_text(STUDY + lot, "utf-8")
    if table is not None:
        (tmp_path / "readings.csv").write_text(table, "utf-8")
    return tmp_path


def answer(place: Path, capsys: Captured) -> dict[str, Any]:
    code = run(["lot", str(place), "--json"])
    out, err = capsys.readouterr()
    assert code == 0, err
    found: dict[str, Any] = json.loads(out)
    assert found["format"] == "ohmsworth lot 1"
    return found


def test_a_plan_before_anything_is_read(tmp_path: Path, capsys: Captured) -> None:
    place = folder(tmp_path, "size = 200\n")
    assert run(["lot", str(place)]) == 0
    out = capsys.readouterr().out
    for words in (
        "Draw 76 pieces at random from the lot of 200",
        "at most 2 are over 3 mΩ",
        "What to do",
        "CAUTION",
    ):
        assert words in " ".join(out.replace("| ", "").split())
    found = answer(place, capsys)
    assert found["verdict"] is None
    assert (found["plan"]["sample"], found["plan"]["accepted"]) == (76, 2)
    assert found["plan"]["accepts_rejectable"] <= 0.10
    assert {other["kind"] for other in found["others"]} == {"double", "variables"}
    assert (found["published"]["sample"], found["published"]["accepted"]) == (50, 1)
    chances = [point["accepted"] for point in found["curve"]]
    assert chances == sorted(chances, reverse=True)


@pytest.mark.parametrize(
    ("bad", "verdict", "words"),
    [(0, "accept", "Sell the lot"), (2, "accept", "Keep back"), (3, "reject", "Hold the lot")],
)
def test_counting(bad: int, verdict: str, words: str, tmp_path: Path, capsys: Captured) -> None:
    sample = values(76)
    sample[:bad] = [5e-3] * bad
    found = answer(folder(tmp_path, "size = 200\n", readings(sample)), capsys)
    assert found["verdict"] == verdict
    assert (found["measured"]["over"], found["measured"]["close"]) == (bad, 0)
    assert found["measured"]["share"] == pytest.approx(bad / 76)
    assert found["measured"]["share_high"] > bad / 76
    assert words in " ".join(action["words"] for action in found["actions"])
    assert found["sentence"].startswith(verdict.capitalize())


def test_pieces_too_close_to_call_hold_the_verdict_back(tmp_path: Path, capsys: Captured) -> None:
    sample = values(76)
    sample[:4] = [5e-3, 3e-3, 3.01e-3, 2.99e-3]
    found = answer(folder(tmp_path, "size = 200\n", readings(sample)), capsys)
    assert found["verdict"] == "cannot tell yet"
    assert found["measured"]["more"] == 0
    assert found["measured"]["close"] >= 2
    assert "P2" in found["actions"][0]["words"]


def test_an_incomplete_sample_says_how_many_more(tmp_path: Path, capsys: Captured) -> None:
    found = answer(folder(tmp_path, "size = 200\n", readings(values(30))), capsys)
    assert (found["verdict"], found["measured"]["more"]) == ("cannot tell yet", 46)
    assert "46 more" in found["sentence"]
    few = values(30)
    few[:3] = [5e-3] * 3  # no completion can mend that
    assert answer(folder(tmp_path, "size = 200\n", readings(few)), capsys)["verdict"] == "reject"


def test_two_samples(tmp_path: Path, capsys: Captured) -> None:
    lot = 'size = 200\nsampling = "double"\n'
    first = answer(folder(tmp_path, lot, readings(values(42))), capsys)
    assert first["verdict"] == "accept"
    one = values(42)
    one[0] = 5e-3
    second = answer(folder(tmp_path, lot, readings(one)), capsys)
    assert (second["verdict"], second["measured"]["more"]) == ("cannot tell yet", 42)
    both = values(84)
    both[:2] = [5e-3] * 2
    assert answer(folder(tmp_path, lot, readings(both)), capsys)["verdict"] == "accept"


@pytest.mark.parametrize(("median", "verdict"), [(2e-3, "accept"), (2.8e-3, "reject")])
def test_measuring(median: float, verdict: str, tmp_path: Path, capsys: Captured) -> None:
    lot = 'size = 200\nmethod = "variables"\n'
    found = answer(folder(tmp_path, lot, readings(values(42, median, 0.1))), capsys)
    assert found["verdict"] == verdict
    measured = found["measured"]
    assert measured["distance_least"] < measured["distance"] < measured["distance_most"]
    assert measured["held_against"] == pytest.approx(1.90, abs=0.01)
    assert measured["share"] < measured["share_high"] < 1


def test_what_the_measurement_hides_holds_a_variables_verdict_back(tmp_path: Path, capsys: Captured) -> None:
    """The same pieces; matings that scatter by a tenth hide whether it is them or the pieces."""
    lot = 'size = 200\nmethod = "variables"\n'
    noisy = readings(values(42, 2.45e-3, 0.07), mating=0.12)
    found = answer(folder(tmp_path, lot, noisy), capsys)
    assert found["verdict"] == "cannot tell yet"
    assert "more often" in found["actions"][0]["words"]


@pytest.mark.parametrize("method", ["variables", "attributes"])
def test_readings_that_do_not_settle_accept_no_lot(method: str, tmp_path: Path, capsys: Captured) -> None:
    """The same pieces, far below the limit, read once more while they settle and once while they do not."""
    lot = f'size = 200\nmethod = "{method}"\n'
    found = answer(folder(tmp_path, lot, readings(values(84, 0.5e-3, 0.08))), capsys)
    assert found["verdict"] == "accept"
    restless = readings(values(84, 0.5e-3, 0.08), mating=0.5).replace(",1,+", ",2,+").replace(",1,-", ",2,-")
    found = answer(folder(tmp_path, lot, restless), capsys)
    assert found["verdict"] == "cannot tell yet"
    assert "do not settle" in found["sentence"]
    assert found["actions"][0]["words"].startswith("Let these contacts settle")


def test_one_bad_contact_makes_a_bad_piece(tmp_path: Path, capsys: Captured) -> None:
    sample = values(76)
    sample[0] = 5e-3
    found = answer(folder(tmp_path, "size = 200\n", readings(sample, contacts=3)), capsys)
    assert found["measured"]["specimens"] == 76
    assert found["measured"]["over"] == 1
    worst = next(piece for piece in found["specimens"] if piece["id"] == "P1")
    assert (worst["verdict"], round(1e3 * worst["resistance"])) == ("over", 5)


@pytest.mark.parametrize(
    ("record", "state"),
    [("", "normal"), ("rr", "tightened"), ("a" * 10, "reduced"), ("r" * 7, "discontinued")],
)
def test_the_record_decides_how_strictly(record: str, state: str, tmp_path: Path, capsys: Captured) -> None:
    lots = ", ".join('"accepted"' if letter == "a" else '"rejected"' for letter in record)
    found = answer(folder(tmp_path, f"record = [{lots}]\n"), capsys)
    assert found["inspection"] == state
    normal = {"normal": 110, "tightened": 175, "reduced": 43, "discontinued": 175}[state]
    assert found["plan"]["sample"] == pytest.approx(normal, abs=3)
    assert ("Take no" in found["sentence"]) == (state == "discontinued")


@pytest.mark.parametrize("guard", ["none", "U", "1.645 u", "0.1 %"])
def test_guard_bands_by_policy_and_by_risk(guard: str, tmp_path: Path, capsys: Captured) -> None:
    sample = values(76, 2.2e-3, 0.1)
    sample[:8] = [5e-3, 4.5e-3, *[3e-3] * 6]
    found = answer(folder(tmp_path, f'size = 200\nguard = "{guard}"\n', readings(sample)), capsys)
    assert (found["measured"]["close"] == 0) == (guard == "none")
    chosen = next(risk for risk in found["piece_risks"] if risk["chosen"])
    if guard == "0.1 %":
        assert chosen["consumer"] <= 0.001 * (1 + 1e-6)
    passed = [point["consumer"] for point in found["guard_curve"]]
    assert passed == sorted(passed, reverse=True)


def test_reports_are_written(tmp_path: Path, capsys: Captured) -> None:
    place = folder(tmp_path, "size = 200\n", readings(values(76)))
    page, paper = tmp_path / "lot.html", tmp_path / "lot.pdf"
    assert run(["lot", str(place), "--html", str(page), "--pdf", str(paper)]) == 0
    assert page.read_text("utf-8").count("<svg") == 3
    assert paper.read_bytes().startswith(b"%PDF")
    assert "accept" in capsys.readouterr().out.lower()
    assert run(["lot", str(place), "--html", str(place / "study.toml")]) == 3


@pytest.mark.parametrize(
    ("lot", "words"),
    [
        ('acceptable = "1 %"\n', ["rejectable", "no such key"]),
        ('acceptable = "6 %"\nrejectable = "1 %"\n', ["acceptable", "less than the rejectable"]),
        ('acceptable = 0.01\nrejectable = "6 %"\n', ["acceptable", "quotation marks"]),
        ('acceptable = "1 %"\nrejectable = "60 %"\n', ["rejectable", "50 %"]),
        ('acceptable = "1 %"\nrejectable = "6 %"\nsize = 1\n', ["size", "whole number from 2"]),
        (
            'acceptable = "1 %"\nrejectable = "6 %"\nmethod = "variable"\n',
            ["method", 'Did you mean "variables"'],
        ),
        ('acceptable = "1 %"\nrejectable = "6 %"\nguard = "V"\n', ["guard", "confidence"]),
        ('acceptable = "1 %"\nrejectable = "6 %"\nguard = "30 %"\n', ["guard", "20 %"]),
        ('acceptable = "1 %"\nrejectable = "6 %"\nrecord = ["ok"]\n', ["record", "accepted"]),
        ('acceptable = "1 %"\nrejectable = "6 %"\nsampling = "double"\nmethod = "variables"\n', ["sampling"]),
        ('acceptable = "1 %"\nrejectable = "6 %"\nproducer_risk = "60 %"\n', ["producer_risk", "40 %"]),
        ('acceptable = "1 %"\nrejectable = "6 %"\nsise = 3\n', ["sise", "Did you mean 'size'"]),
        ('acceptable = "1 %"\nrejectable = "1.01 %"\n', ["5000 pieces", "apart"]),
        (
            'acceptable = "1 %"\nrejectable = "6 %"\nsize = 10\nmethod = "variables"\n',
            ["10 pieces", "counted whole"],
        ),
        (None, ["key 'lot'", "acceptable"]),
    ],
)
def test_a_bad_question_is_refused(
    lot: str | None, words: list[str], tmp_path: Path, capsys: Captured
) -> None:
    text = STUDY.partition("[lot]")[0] + ("" if lot is None else f"[lot]\n{lot}")
    (tmp_path / "study.toml").write_text(text, "utf-8")
    assert run(["lot", str(tmp_path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    for word in words:
        assert word in err
    assert "Traceback" not in err


def test_a_lot_without_a_limit_is_refused(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "study.toml").write_text('[lot]\nacceptable = "1 %"\nrejectable = "6 %"\n', "utf-8")
    assert run(["lot", str(tmp_path)]) == 2
    assert "key 'limit'" in capsys.readouterr().err


def test_which_condition_is_the_lot_must_be_said(tmp_path: Path, capsys: Captured) -> None:
    table = readings(values(6)) + readings(values(6), condition="golden").partition("\n")[2].replace("P", "G")
    top = 'reference = "golden"\n'
    for key, code in (("", 2), ('condition = "lod"\n', 2), ('condition = "lot"\n', 0)):
        (tmp_path / "study.toml").write_text(top + STUDY + key, "utf-8")
        (tmp_path / "readings.csv").write_text(table, "utf-8")
        assert run(["lot", str(tmp_path)]) == code
        said = capsys.readouterr()
        assert ("condition" in said.err) == (code == 2)
    assert "6 pieces measured" in said.out


def test_no_folder_is_refused(tmp_path: Path, capsys: Captured) -> None:
    assert run(["lot", str(tmp_path / "nothing")]) == 2
    assert "no such folder" in capsys.readouterr().err


@pytest.mark.parametrize(
    "lot", ["", "size = 200\n", 'size = 200\nmethod = "variables"\n', 'sampling = "double"\n']
)
def test_what_is_printed_meets_the_published_schema(lot: str, tmp_path: Path, capsys: Captured) -> None:
    assert run(["schema", "lot"]) == 0
    validator = jsonschema.Draft202012Validator(json.loads(capsys.readouterr().out))
    validator.validate(answer(folder(tmp_path, lot), capsys))
    validator.validate(answer(folder(tmp_path, lot, readings(values(45))), capsys))


@pytest.mark.parametrize(
    "lot", ["", "size = 12\n", 'method = "variables"\n', 'sampling = "double"\nguard = "0.2 %"\n']
)
@pytest.mark.parametrize("pieces", [1, 2, 3, 45])
@pytest.mark.parametrize("spread", [0.0, 1e-6, 1e-3, 1.5])
def test_odd_samples_have_an_answer(
    spread: float, pieces: int, lot: str, tmp_path: Path, capsys: Captured
) -> None:
    """Hardly any scatter, hardly any pieces, or scatter over decades; read once each, no meters stated."""
    rows = [f"P{i},{1e3 * value:.9g}" for i, value in enumerate(values(pieces, 2e-3, spread))]
    place = folder(tmp_path, lot, "\n".join(["specimen,resistance [mΩ]", *rows]) + "\n")
    found = answer(place, capsys)
    assert found["verdict"] in ("accept", "reject", "cannot tell yet")
    assert found["actions"]
    assert "nan" not in found["sentence"]
    assert run(["lot", str(place)]) == 0
