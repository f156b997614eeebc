"""A folder of the bench through the command line: verdicts, reports, JSON, and what is refused."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pytest
from tests.published.data_files import columns

from ohmsworth.cli.app import run

Captured = pytest.CaptureFixture[str]
SCHEMA = Path(__file__).parents[2] / "src/ohmsworth/report/fitness.schema.json"
STUDY = """\
[limit]
resistance = "3 mΩ"
source = "datasheet"
[bench.voltmeter]
percent_of_reading = 0.05
counts = 5
resolution = "0.1 µV"
[bench.ammeter]
percent_of_reading = 0.2
counts = 3
resolution = "10 µA"
"""


def checks(values: np.ndarray, dated: bool = True) -> str:
    """check.csv: forward and reversed at 100 mA, with a thermal EMF of 1.3 µV."""
    lines = [
        "date,polarity,voltage [mV],current [mA],note" if dated else "polarity,voltage [mV],current [mA]"
    ]
    for i, value in enumerate(values.tolist()):
        for sign in (1, -1):
            row = f"{'+' if sign > 0 else '-'},{1e3 * (sign * 0.1 * value + 1.3e-6):.10f},{sign * 100}"
            lines.append(f"{date(2026, 3, 2) + timedelta(i)},{row},x" if dated else row)
    return "\n".join(lines) + "\n"


def steady(n: int = 28, seed: int = 4) -> np.ndarray:
    return 1e-3 + 2e-6 * np.random.default_rng(seed).normal(0, 1, n)


def trials(
    specimens: int = 6, people: tuple[str, ...] = ("Ann", "Ben"), times: int = 3, noise: float = 0.01
) -> str:
    chance = np.random.default_rng(3)
    lines = ["specimen,operator,resistance [mΩ]"]
    for s in range(specimens):
        for k, person in enumerate(people):
            for _ in range(times):
                value = (2 + 0.4 * s) * (1 + 0.01 * k) * np.exp(noise * chance.normal())
                lines.append(f"S{s},{person},{value:.5f}")
    return "\n".join(lines) + "\n"


def folder(path: Path, check: str | None = None, readings: str | None = None, study: str = STUDY) -> str:
    (path / "study.toml").write_text(study, "utf-8")
    for name, text in (("check.csv", check), ("readings.csv", readings)):
        if text is not None:
            (path / name).write_text(text, "utf-8")
    return str(path)


def told(path: str, capsys: Captured) -> dict[str, Any]:
    assert run(["fitness", path, "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    answer: dict[str, Any] = json.loads(out)
    jsonschema.validate(answer, json.loads(SCHEMA.read_text("utf-8")))
    return answer


def test_a_steady_bench_is_fit(tmp_path: Path, capsys: Captured) -> None:
    path = folder(tmp_path, checks(steady()), trials())
    answer = told(path, capsys)
    assert answer["format"] == "ohmsworth fitness 1"
    assert answer["verdict"] == "fit today"
    assert answer["sentence"].startswith("Fit today: the last check (2026-03-29, ")
    assert "can judge 3 mΩ" in answer["sentence"]
    assert "re-mating" not in answer["sentence"]
    control = answer["control"]
    assert control["centre"] == pytest.approx(steady()[:20].mean(), rel=1e-9)
    assert control["mean_range"] == pytest.approx(np.abs(np.diff(steady()[:20])).mean(), rel=1e-6)
    assert control["standard_deviation"] == pytest.approx(control["mean_range"] / 1.128379, rel=1e-6)
    assert len(control["checks"]) == 28
    assert answer["study"]["form"] == "crossed"
    assert answer["study"]["operators"] == 2
    assert sum(line["share"] for line in answer["budget"]) == pytest.approx(1)
    able = answer["ability"]
    assert 2e-3 < able["within_up_to"] < 3e-3 < able["over_from"]
    assert [d["ohm"] for d in answer["differences"]] == sorted(
        (d["ohm"] for d in answer["differences"]), reverse=True
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda v: np.append(v[:-1], 1.02e-3), "above the upper limit"),
        (lambda v: np.append(v[:-1], 0.98e-3), "below the lower limit"),
        (lambda v: np.append(v[:20], v[20:] + 4.5e-6), "drifted"),
        (lambda v: v[:4], "4 checks so far"),
        (lambda v: np.full(9, 1e-3), "all alike"),
    ],
)
def test_what_asks_to_look_first(change: Any, words: str, tmp_path: Path, capsys: Captured) -> None:
    answer = told(folder(tmp_path, checks(change(steady()))), capsys)
    assert answer["verdict"] == "look first"
    assert answer["sentence"].startswith("Look first: ")
    assert words in answer["sentence"]
    assert "UNPOWERED" not in answer["sentence"]
    assert any(action["cautions"] for action in answer["actions"])


def test_a_study_alone_says_what_the_bench_can_tell_and_asks_for_checks(
    tmp_path: Path, capsys: Captured
) -> None:
    answer = told(folder(tmp_path, None, trials()), capsys)
    assert answer["verdict"] == "look first"
    assert "no check standard" in answer["sentence"]
    assert answer["ability"]["within_up_to"] > 2e-3
    assert "check.csv" in answer["actions"][0]["words"]


def test_a_calibration_that_disagrees(tmp_path: Path, capsys: Captured) -> None:
    standard = '[check_standard]\nname = "shunt"\nvalue = "1.03 mΩ"\nstandard_uncertainty = "1 µΩ"\n'
    answer = told(folder(tmp_path, checks(steady()), None, STUDY + standard), capsys)
    assert answer["verdict"] == "look first"
    assert "calibration says 1.03 mΩ" in answer["sentence"]
    near = standard.replace("1.03 mΩ", "1.001 mΩ")
    answer = told(folder(tmp_path, checks(steady()), None, STUDY + near), capsys)
    assert answer["verdict"] == "fit today"
    assert "re-mating and operators are not in it" in answer["sentence"]
    assert answer["control"]["name"] == "shunt"


def test_a_bench_too_coarse_for_its_limit(tmp_path: Path, capsys: Captured) -> None:
    answer = told(folder(tmp_path, checks(steady()), trials(noise=0.9), 'scale = "linear"\n' + STUDY), capsys)
    assert answer["ability"]["within_up_to"] is None
    assert "cannot judge 3 mΩ" in answer["sentence"]
    assert answer["ability"]["test_uncertainty_ratio"] < 1


def test_operators_do_not_change_an_answer(tmp_path: Path, capsys: Captured) -> None:
    found = []
    for people in (("Ann", "Ben"), ("", "")):
        assert run(["answer", folder(tmp_path, None, trials(people=people)), "--json"]) == 0
        found.append(json.loads(capsys.readouterr().out)["conditions"])
    assert found[0] == found[1]


def test_the_published_study_through_the_program(tmp_path: Path, capsys: Captured) -> None:
    """AIAG MSA 4th ed., memory: EV 0.199933, AV 0.226838, PV 1.042327, ndc 4; values stand in as milliohms."""
    data = columns("aiag_gage.csv")
    lines = ["specimen,operator,resistance [mΩ]"]
    lines += [f"{p},{o},{v}" for p, o, v in zip(data["part"], data["appraiser"], data["value"], strict=True)]
    answer = told(folder(tmp_path, None, "\n".join(lines) + "\n", 'scale = "linear"\n'), capsys)
    sizes = {c["component"]: c["ohm"] * 1e3 for c in answer["study"]["components"]}
    assert sizes["repeatability"] == pytest.approx(0.199933, abs=1e-6)
    assert sizes["reproducibility"] == pytest.approx(0.226838, abs=1e-6)
    assert sizes["between specimens"] == pytest.approx(1.042327, abs=1e-6)
    assert answer["study"]["distinct_categories"] == 4
    assert answer["study"]["anova"][2]["component"] < 0
    assert answer["ability"] is None


def test_the_reports(tmp_path: Path, capsys: Captured) -> None:
    bench = tmp_path / "bench"
    bench.mkdir()
    path = folder(bench, checks(np.append(steady(), 1.02e-3)), trials())
    html, pdf = tmp_path / "r.html", tmp_path / "r.pdf"
    assert run(["fitness", path, "--html", str(html), "--pdf", str(pdf)]) == 0
    out = capsys.readouterr().out
    assert "[ ? LOOK FIRST ]" in out
    assert f"Written: {html}" in out
    page = html.read_text("utf-8")
    for words in (
        "check-standard.csv",
        "check-ewma.svg",
        "check-cusum.svg",
        "check-range.svg",
        "operators.csv",
        "words.svg",
        "room.svg",
        "smallest-difference.svg",
    ):
        assert words in page
    assert "beyond its limits" in page
    assert pdf.read_bytes().startswith(b"%PDF-")


def test_rows_of_one_date_are_one_check_in_any_order(tmp_path: Path, capsys: Captured) -> None:
    text = checks(steady())
    heading, *rows = text.splitlines()
    backwards = "\n".join([heading, *rows[::-1]]) + "\n"
    one = told(folder(tmp_path, text), capsys)["control"]
    assert told(folder(tmp_path, backwards), capsys)["control"] == one
    undated = told(folder(tmp_path, checks(steady(), dated=False)), capsys)["control"]
    assert [c["resistance"] for c in undated["checks"]] == pytest.approx(
        [c["resistance"] for c in one["checks"]]
    )
    assert undated["checks"][-1]["check"] == "check 28"


GOOD = checks(steady(6))
REFUSED = {
    "no files": (None, None, "neither file"),
    "a date in another order": (GOOD.replace("2026-03-04", "04/03/2026"), None, "a date such as 2026-03-01"),
    "no date": (GOOD.replace("2026-03-04", ""), None, "an empty cell"),
    "a word for a number": (GOOD.replace(",100,", ",a lot,", 1), None, "column 'current'"),
    "no unit": (GOOD.replace("[mV]", ""), None, "voltage"),
    "nothing below the heading": (GOOD.splitlines()[0] + "\n", None, "a header and no readings"),
    "an empty file": ("", None, "an empty file"),
    "signs that disagree": (GOOD.replace("+,0.1", "+,-0.1", 1), None, "opposite sign"),
    "a row without an operator": (None, trials().replace("S1,Ann", "S1,", 1), "column 'operator'"),
    "readings at fault too": (GOOD.replace("2026-03-04", "x"), trials().replace("2.", "two", 1), "column 'resistance'"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_is_refused(case: str, tmp_path: Path, capsys: Captured) -> None:
    check, readings, words = REFUSED[case]
    assert run(["fitness", folder(tmp_path, check, readings)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err
    assert "Nothing was written" in err
    assert "Traceback" not in err


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ('value = "1 mΩ"', "one of value and standard_uncertainty"),
        ("first = 3", "5 to 10000"),
        ("first = 500", "no more than there are checks"),
        ('nmae = "x"', "unknown key"),
        ('value = "1 mV"\nstandard_uncertainty = "1 µΩ"', "resistance"),
    ],
)
def test_a_check_standard_at_fault(table: str, words: str, tmp_path: Path, capsys: Captured) -> None:
    assert run(["fitness", folder(tmp_path, GOOD, None, f"[check_standard]\n{table}\n")]) == 2
    assert words in capsys.readouterr().err


def test_all_faults_of_both_files_come_at_once(tmp_path: Path, capsys: Captured) -> None:
    check = GOOD.replace("2026-03-04", "x").replace("2026-03-06", "y")
    readings = trials().replace("S1,Ann", "S1,", 1)
    assert run(["fitness", folder(tmp_path, check, readings, "nonsense = 1\n")]) == 2
    err = capsys.readouterr().err
    for words in ("'x'", "'y'", "column 'operator'", "nonsense"):
        assert words in err


@pytest.mark.parametrize("name", ["check.csv", "readings.csv", "study.toml"])
def test_a_report_takes_the_place_of_no_file(name: str, tmp_path: Path, capsys: Captured) -> None:
    path = folder(tmp_path, GOOD, trials())
    assert run(["fitness", path, "--html", str(tmp_path / name)]) == 3
    assert "choose another name" in capsys.readouterr().err
