"""From a question to a plan, from its sheet to readings, and from those to the answer."""

from __future__ import annotations

import csv
import io
import json
import math
import random
from pathlib import Path

import jsonschema  # type: ignore[import-untyped]  # published without types
import pypdf
import pytest
from tests.journeys.test_command_line import Captured, everything

import ohmsworth as ow
from ohmsworth.cli.app import NOT_WRITTEN, OK, REFUSED, run
from ohmsworth.report.plan_answer import FORMAT

ROOT = Path(__file__).parents[2]
TOP = 'question = "Do dark contacts read higher?"\nreference = "cleaned"\n'
SCATTER = 'specimen = "12 %"\nresponse = "6 %"\nmating = "10 %"\nreading = "1 %"\n'
DETECT = '[plan]\ngoal = "detect"\neffect = "40 %"\nconditions = ["dark", "cleaned"]\n' + SCATTER
EQUIVALENCE = (
    '[plan]\ngoal = "equivalence"\nexpected = "2.5 mΩ"\nconditions = ["dark", "cleaned"]\n' + SCATTER
)
LIMIT = (
    '[limit]\nresistance = "5 mΩ"\nsource = "datasheet"\n[plan]\ngoal = "limit"\nexpected = "2.5 mΩ"\n'
    + SCATTER
)
CHECK = 'check_standard = "check bar"\ndays = 2\noperators = ["Ann", "Bob"]\n'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    study = tmp_path / "study"
    study.mkdir()
    return study


def ask(folder: Path, text: str) -> None:
    (folder / "study.toml").write_text(text, "utf-8")


def plan_of(folder: Path, out: Captured, *more: str) -> dict[str, object]:
    assert run(["plan", str(folder), "--json", *more]) == OK, out.readouterr().err
    found: dict[str, object] = json.loads(out.readouterr().out)
    return found


def filled(sheet: str, ratio: float = 1.4) -> str:
    """The sheet with figures as two meters would show them; dark contacts are `ratio` times the others."""
    chance = random.Random(3)
    rows = list(csv.DictReader(io.StringIO(sheet.removeprefix("\ufeff"))))
    scatter: dict[tuple[str, ...], float] = {}
    for row in rows:
        specimen = scatter.setdefault((row["specimen"],), chance.gauss(0, 0.12))
        mating = scatter.setdefault((row["specimen"], row["condition"], row["mating"]), chance.gauss(0, 0.1))
        ohm = 2.5e-3 * math.exp(specimen + mating) * (ratio if row["condition"] == "dark" else 1)
        ohm = (1e-3 if row["condition"] == "check bar" else ohm) * (1 + chance.gauss(0, 0.003))
        sign = 1 if row["polarity"] == "+" else -1
        row["voltage [mV]"], row["current [mA]"] = f"{sign * 100 * ohm + 1e-3:.4f}", f"{sign * 100:.2f}"
    out = io.StringIO()
    writer = csv.DictWriter(out, list(rows[0]))
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (TOP + DETECT, "a difference of 40 % is seen"),
        (TOP + 'margin = "1 mΩ"\n' + EQUIVALENCE, "differ too little to matter (margin 1 mΩ)"),
        (TOP + 'margin = "1 mΩ"\n' + EQUIVALENCE + 'effect = "2 mΩ"\n', "differ enough to matter"),
        (TOP + 'scale = "linear"\n' + DETECT, "a difference of 40 % is seen"),
        (TOP + DETECT + 'assignment = "before and after"\n', "measure each under every condition"),
        (
            TOP.replace('reference = "cleaned"\n', "") + LIMIT,
            "shown to lie within 5 mΩ (95 % of all its matings)",
        ),
    ],
    ids=["detect", "too small", "enough", "linear", "paired", "limit"],
)
def test_a_question_alone_gets_a_plan(folder: Path, text: str, words: str, capsys: Captured) -> None:
    ask(folder, text)
    assert run(["plan", str(folder)]) == OK
    told = " ".join(capsys.readouterr().out.replace("|", " ").split())
    assert words in told
    assert "stated in study.toml" in told
    assert "half the effort" in told
    assert "unpowered" in told
    assert list(folder.iterdir()) == [folder / "study.toml"]


@pytest.mark.parametrize("text", [TOP + DETECT + CHECK, TOP + 'margin = "1 mΩ"\n' + EQUIVALENCE, LIMIT])
def test_the_json_meets_its_schema(folder: Path, text: str, capsys: Captured) -> None:
    ask(folder, text)
    found = plan_of(folder, capsys)
    schema = json.loads((ROOT / "src/ohmsworth/report/plan.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(found)
    assert found["format"] == FORMAT
    assert run(["schema", "plan"]) == OK
    assert json.loads(capsys.readouterr().out) == schema


def test_a_plan_that_nobody_can_carry_out_is_said(folder: Path, capsys: Captured) -> None:
    ask(folder, TOP + DETECT.replace("40 %", "2 %") + "most_specimens = 12\n")
    found = plan_of(folder, capsys)
    assert found["best"] is None
    assert "No plan with up to 12 specimens a condition" in str(found["sentence"])
    assert run(["plan", str(folder), "--sheet", str(folder / "readings.csv")]) == REFUSED
    assert "no plan" in capsys.readouterr().err
    assert run(["plan", str(folder), "--html", str(folder / "plan.html")]) == OK


@pytest.mark.parametrize("assignment", ["separate", "either order", "before and after"])
def test_sheet_to_readings_to_answer(folder: Path, assignment: str, capsys: Captured) -> None:
    ask(folder, TOP + DETECT + CHECK + f'assignment = "{assignment}"\n')
    readings = folder / "readings.csv"
    assert run(["plan", str(folder), "--sheet", str(readings), "--seed", "11"]) == OK
    assert "seed 11" in capsys.readouterr().out
    empty = readings.read_text("utf-8")
    assert run(["answer", str(folder)]) == REFUSED  # nothing has been read yet
    assert "an empty cell" in capsys.readouterr().err
    readings.write_text(filled(empty), "utf-8")
    answer = ow.answer(folder)
    assert {c.condition for c in answer.conditions} == {"dark", "cleaned"}
    (comparison,) = answer.comparisons
    assert comparison.paired == (assignment != "separate")
    assert comparison.ratio.value == pytest.approx(1.4, rel=0.15)
    (told,) = [w for w in answer.warnings if w.code == "CHECK_STANDARD"]
    assert told.set_aside
    assert len(told.rows) == 12
    assert "on average of 6" in told.words
    assert {w.code for w in answer.warnings} - {"ONE_MATING"} == {"CHECK_STANDARD", "NO_METER"}
    assert answer.rows + 12 == len(empty.splitlines()) - 1
    assert run(["answer", str(folder)]) == OK


def test_a_sheet_with_readings_is_never_overwritten(folder: Path, capsys: Captured) -> None:
    ask(folder, TOP + DETECT)
    sheet = folder / "readings.csv"
    command = ["plan", str(folder), "--sheet", str(sheet)]
    assert run(command) == OK
    assert run([*command, "--seed", "2"]) == OK  # still empty: drawn anew
    lines = sheet.read_text("utf-8").splitlines()
    lines[5] = lines[5].replace(",,,", ",0.25,,")
    sheet.write_text("\n".join(lines), "utf-8")
    before = everything(folder)
    capsys.readouterr()
    assert run(command) == NOT_WRITTEN
    assert "holds readings already" in capsys.readouterr().err
    sheet.write_text(lines[0] + "\n" + lines[1].replace(",,,", ",about 2,,") + "\n", "utf-8")
    assert run(command) == NOT_WRITTEN
    sheet.write_bytes(before[str(sheet)])
    assert everything(folder) == before


@pytest.mark.parametrize("name", ["study.toml", "notes.txt"])
def test_no_other_file_is_overwritten_by_a_sheet(folder: Path, name: str, capsys: Captured) -> None:
    ask(folder, TOP + DETECT)
    (folder / "notes.txt").write_text("keep me\n")
    before = everything(folder)
    assert run(["plan", str(folder), "--sheet", str(folder / name)]) == NOT_WRITTEN
    assert "choose another name" in capsys.readouterr().err
    assert everything(folder) == before


def test_targets_that_are_one_file_are_refused(folder: Path) -> None:
    ask(folder, TOP + DETECT)
    same = str(folder / "one")
    assert run(["plan", str(folder), "--html", same, "--pdf", same]) == NOT_WRITTEN
    assert run(["plan", str(folder), "--html", str(folder / "readings.csv")]) == NOT_WRITTEN
    assert not (folder / "one").exists()


def test_the_printed_pages_hold_plan_and_sheet(folder: Path) -> None:
    ask(folder, TOP + DETECT + CHECK)
    html, pdf = folder / "plan.html", folder / "plan.pdf"
    assert run(["plan", str(folder), "--html", str(html), "--pdf", str(pdf)]) == OK
    page = html.read_text("utf-8")
    assert 'class="writing"' in page
    assert "Bench sheet: day 2, Bob" in page
    assert page.index("unpowered") < page.index("Bench sheet: day 1, Ann") < page.rindex("unpowered")
    text = "".join(p.extract_text() for p in pypdf.PdfReader(pdf).pages)
    assert "Bench sheet: day 1, Ann" in text
    assert "check standard, first" in text


def test_scatter_comes_from_past_studies_and_is_said_so(
    folder: Path, tmp_path: Path, capsys: Captured
) -> None:
    past = tmp_path / "last year"
    assert run(["new", str(past)]) == OK
    ask(folder, 'reference = "new"\n[plan]\ngoal = "detect"\neffect = "1 mΩ"\nconditions = ["old", "new"]\n')
    capsys.readouterr()
    found = plan_of(folder, capsys, "--from", str(past))
    scatter = {s["level"]: s for s in found["scatter"]}  # type: ignore[attr-defined]
    assert set(scatter) == {"specimen", "mating", "reading"}
    assert "found in 'last year'" in scatter["specimen"]["source"]
    assert scatter["reading"]["standard_deviation"] == 0
    assert found["expected_source"] == "found in 'last year'"
    fitted = {s.level: s for s in ow.answer(past).scatter}
    assert fitted["specimen"].standard_deviation > 0
    # Guesses do not count where there is a study.
    ask(folder, (folder / "study.toml").read_text("utf-8") + 'specimen = "300 %"\n')
    assert plan_of(folder, capsys, "--from", str(past))["best"] == found["best"]


FAULTS = [
    (TOP, ["no table [plan]"]),
    (TOP + '[plan]\ngoal = "win"\n', ["goal", "detect"]),
    (TOP + '[plan]\neffect = "5 %"\n', ["goal", "no such key"]),
    (TOP + DETECT.replace("40 %", "-100 %"), ["effect", "−99"]),
    (TOP + DETECT.replace("40 %", "forty"), ["effect"]),
    (TOP + DETECT.replace("40 %", "1 mΩ"), ["expected"]),
    (TOP + DETECT.replace("40 %", "0 %"), ["effect", "not zero"]),
    (TOP + DETECT.replace('"12 %"', "12"), ["specimen", "without a unit"]),
    (TOP + DETECT.replace('specimen = "12 %"\n', ""), ["specimen", "--from"]),
    (TOP + DETECT + 'assignment = "before or after"\n', ["assignment", "Did you mean"]),
    (TOP + DETECT + "chance = 80\n", ["chance", "0.999"]),
    (TOP + DETECT + "days = 0\n", ["days"]),
    (TOP + DETECT + 'speciman = "1 %"\n', ["speciman", "specimen"]),
    (TOP + DETECT + 'check_standard = "Dark"\n', ["check_standard", "no condition"]),
    (TOP + DETECT.replace('"cleaned"]', '"cleaned", "Dark"]'), ["conditions", "second time"]),
    (TOP + DETECT.replace(', "cleaned"', ""), ["conditions", "two conditions"]),
    (TOP.replace("cleaned", "new") + DETECT, ["reference"]),
    (TOP + EQUIVALENCE, ["margin"]),
    ("margin = '1 mΩ'\n" + TOP + EQUIVALENCE.replace('expected = "2.5 mΩ"\n', ""), ["expected", "--from"]),
    (LIMIT.replace('[limit]\nresistance = "5 mΩ"\nsource = "datasheet"\n', ""), ["limit"]),
    (LIMIT.replace("2.5", "7"), ["expected", "less than the limit"]),
    (LIMIT + 'effect = "1 %"\n', ["effect"]),
    (LIMIT + 'assignment = "either order"\n', ["assignment", "one condition"]),
]


@pytest.mark.parametrize(("text", "words"), FAULTS, ids=[f"{i} {w[0]}" for i, (_, w) in enumerate(FAULTS)])
def test_bad_input_is_refused_with_words(folder: Path, text: str, words: list[str], capsys: Captured) -> None:
    ask(folder, text)
    assert run(["plan", str(folder)]) == REFUSED
    told = capsys.readouterr().err
    assert "Traceback" not in told
    assert all(word in told for word in words), told


def test_all_faults_come_at_once(folder: Path, capsys: Captured) -> None:
    ask(folder, '[plan]\ngoal = "equivalence"\n')
    assert run(["plan", str(folder), "--json"]) == REFUSED
    faults = json.loads(capsys.readouterr().out)["faults"]
    assert len(faults) == 6  # conditions, margin, expected; specimen, mating, reading


def test_a_folder_without_a_study_is_refused(tmp_path: Path, capsys: Captured) -> None:
    assert run(["plan", str(tmp_path / "nothing")]) == REFUSED
    assert "no such folder" in capsys.readouterr().err


def test_only_the_check_standard_is_no_study(folder: Path, capsys: Captured) -> None:
    ask(folder, TOP + DETECT + CHECK)
    (folder / "readings.csv").write_text(
        "specimen,condition,polarity,voltage [mV],current [mA]\nbar,check bar,+,0.1,100\nbar,check bar,-,-0.1,-100\n",
        "utf-8",
    )
    assert run(["answer", str(folder)]) == REFUSED
    assert "check standard" in capsys.readouterr().err


def test_the_library_plans_as_the_command_does(folder: Path, tmp_path: Path, capsys: Captured) -> None:
    ask(folder, TOP + DETECT)
    found = plan_of(folder, capsys)
    assert ow.as_json(ow.plan(folder)) == found
    study = ow.Study(
        "?", reference="cleaned", plan=ow.PlanRequest("detect", 0.4, conditions=("dark", "cleaned"))
    )
    with pytest.raises(ow.InputRefused, match="no guess of the scatter"):
        ow.plan(study)
    past = tmp_path / "past"
    assert run(["new", str(past)]) == OK
    assert ow.plan(study, [past]).best == ow.plan(study, [ow.load_study(past)]).best
