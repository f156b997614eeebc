"""One check standard for the bench, the plan and the answer: its rows, wherever they stand, feed the same charts."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.journeys.test_fitness import STUDY, checks, steady, trials

import ohmsworth as ow
from ohmsworth.cli.app import run

Captured = pytest.CaptureFixture[str]
NAMED = '[check_standard]\nname = "bar"\n'
HEADING = "specimen,condition,mating,polarity,date,voltage [mV],current [mA]"


def rows(values: np.ndarray, start: date | None, condition: str = "bar") -> list[str]:
    """Forward and reversed at 100 mA, as in `checks`; a mating and a day each."""
    found = []
    for i, value in enumerate(values.tolist()):
        day = "" if start is None else f"{start + timedelta(i)}"
        for sign in (1, -1):
            volt = 1e3 * (sign * 0.1 * value + 1.3e-6)
            found.append(f"bar,{condition},{i + 1},{'+' if sign > 0 else '-'},{day},{volt:.10f},{sign * 100}")
    return found


def contacts() -> list[str]:
    chance = np.random.default_rng(2)
    return [
        f"S{s},all,{m},{'+' if sign > 0 else '-'},,{sign * 0.2 * (1 + 0.02 * chance.normal()):.6f},{sign * 100}"
        for s in range(4)
        for m in (1, 2)
        for sign in (1, -1)
    ]


def folder(path: Path, study: str, check: str | None, readings: list[str] | None) -> str:
    path.mkdir(exist_ok=True)
    (path / "study.toml").write_text(study, "utf-8")
    if check is not None:
        (path / "check.csv").write_text(check, "utf-8")
    if readings is not None:
        (path / "readings.csv").write_text("\n".join([HEADING, *readings, ""]), "utf-8")
    return str(path)


def printed(command: str, path: str, capsys: Captured) -> dict[str, Any]:
    assert run([command, path, "--json"]) == 0, capsys.readouterr().err
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


def charted(path: str, capsys: Captured) -> list[float]:
    return [c["resistance"] for c in printed("fitness", path, capsys)["control"]["checks"]]


@pytest.mark.parametrize("cut", [1, 9, 20, 27])
def test_both_files_feed_one_chart_in_order_of_time(cut: int, tmp_path: Path, capsys: Captured) -> None:
    values = steady()
    whole = charted(folder(tmp_path / "a", STUDY + NAMED, checks(values), None), capsys)
    late = [*contacts(), *rows(values[cut:], date(2026, 3, 2) + timedelta(cut))]
    assert charted(
        folder(tmp_path / "b", STUDY + NAMED, checks(values[:cut]), late), capsys
    ) == pytest.approx(whole)
    # The earlier ones in readings.csv: dates decide, not files.
    early = [*contacts(), *rows(values[:cut], date(2026, 3, 2))]
    rest = checks(values).splitlines()
    kept = "\n".join([rest[0], *rest[1 + 2 * cut :], ""])
    assert charted(folder(tmp_path / "c", STUDY + NAMED, kept, early), capsys) == pytest.approx(whole)


def test_readings_alone_are_enough_for_a_chart(tmp_path: Path, capsys: Captured) -> None:
    values = steady()
    path = folder(tmp_path / "a", STUDY + NAMED, None, rows(values, None))
    told = printed("fitness", path, capsys)
    assert [c["resistance"] for c in told["control"]["checks"]] == pytest.approx(values)
    assert told["study"] is None
    assert told["control"]["name"] == "bar"
    assert told["verdict"] == "fit today"
    assert run(["answer", path]) == 2
    assert "nothing else" in capsys.readouterr().err


def test_check_rows_are_no_part_of_the_repeatability_study(tmp_path: Path, capsys: Captured) -> None:
    own = [*contacts(), *rows(steady(), date(2026, 3, 2))]
    found = printed("fitness", folder(tmp_path / "a", STUDY + NAMED, None, own), capsys)
    alone = printed("fitness", folder(tmp_path / "b", STUDY, None, contacts()), capsys)
    assert found["study"] == alone["study"]
    assert found["study"]["specimens"] == 4


def test_what_is_undated_comes_last_and_is_said_so(tmp_path: Path, capsys: Captured) -> None:
    values = steady()
    path = folder(tmp_path / "a", STUDY + NAMED, checks(values[:20]), [*contacts(), *rows(values[20:], None)])
    told = printed("fitness", path, capsys)
    assert [c["resistance"] for c in told["control"]["checks"]] == pytest.approx(values)
    assert [w["code"] for w in told["warnings"]] == ["CHECK_ORDER"]
    assert told["control"]["checks"][20]["check"] == "line 18"
    assert "CHECK_ORDER" in {w["code"] for w in printed("answer", path, capsys)["warnings"]}


@pytest.mark.parametrize("moved", [0.0, 0.03e-3])
def test_the_answer_says_what_fitness_says(moved: float, tmp_path: Path, capsys: Captured) -> None:
    values = steady()
    today = rows(values[25:] + moved, date(2026, 3, 27))
    path = folder(tmp_path / "a", STUDY + NAMED, checks(values[:25]), [*contacts(), *today])
    bench, answer = printed("fitness", path, capsys), printed("answer", path, capsys)
    assert answer["bench"]["verdict"] == bench["verdict"] == ("look first" if moved else "fit today")
    assert answer["bench"]["reasons"] == bench["reasons"]
    assert bench["sentence"].startswith(answer["bench"]["sentence"])
    assert answer["bench"]["checks"] == 28
    assert answer["bench"]["last"] == "2026-03-29"
    assert ("holds only if the bench was right" in answer["sentence"]) == bool(moved)
    assert any("ohmsworth fitness" in a["words"] for a in answer["actions"]) == bool(moved)
    page = tmp_path / "r.html"
    assert run(["answer", path, "--html", str(page)]) == 0
    assert (
        "Bench: fit today (28 checks of bar, last 2026-03-29)" in capsys.readouterr().out.replace("\n", " ")
    ) != bool(moved)
    assert "check-standard.svg" in page.read_text("utf-8")


def test_the_answer_itself_does_not_move_with_the_checks(tmp_path: Path, capsys: Captured) -> None:
    own = [*contacts(), *rows(steady(), date(2026, 3, 2))]
    found = printed("answer", folder(tmp_path / "a", STUDY + NAMED, None, own), capsys)
    alone = printed("answer", folder(tmp_path / "b", STUDY, None, contacts()), capsys)
    assert found["conditions"] == alone["conditions"]
    assert found["specimens"] == alone["specimens"]
    assert alone["bench"] is None


def test_a_check_that_the_owner_sets_aside_is_in_no_chart(tmp_path: Path, capsys: Captured) -> None:
    values = steady()
    slipped = values.copy()
    slipped[-1] *= 10
    aside = 'set_aside = [{row = 72, reason = "slip"}, {row = 73, reason = "slip"}]\n'
    path = folder(
        tmp_path / "a", aside + STUDY + NAMED, None, [*contacts(), *rows(slipped, date(2026, 3, 2))]
    )
    assert charted(path, capsys) == pytest.approx(values[:-1])


def test_an_old_folder_names_it_in_its_plan(tmp_path: Path, capsys: Captured) -> None:
    old = STUDY + '[plan]\ngoal = "detect"\neffect = "30 %"\ncheck_standard = "bar"\n'
    own = [*contacts(), *rows(steady(), date(2026, 3, 2))]
    new = printed("fitness", folder(tmp_path / "a", STUDY + NAMED, None, own), capsys)
    assert printed("fitness", folder(tmp_path / "b", old, None, own), capsys) == new
    both = folder(tmp_path / "c", old + NAMED.replace("bar", "Bar"), None, own)
    assert printed("answer", both, capsys)["bench"]["checks"] == 28  # the same name: no quarrel
    valued = folder(tmp_path / "d", old + "[check_standard]\nfirst = 10\n", None, own)
    assert printed("fitness", valued, capsys)["control"]["first"] == 10
    for command in ("answer", "plan", "fitness", "lot"):
        assert run([command, folder(tmp_path / "e", old + NAMED.replace("bar", "shunt"), None, own)]) == 2
        err = capsys.readouterr().err
        assert (
            "study.toml, [plan], key 'check_standard': found 'bar'; expected 'shunt', as in [check_standard]"
            in err
        )


@pytest.mark.parametrize("condition", ["dark", "BAR", "lot of bars"])
def test_the_check_standard_is_no_condition(condition: str, tmp_path: Path, capsys: Captured) -> None:
    text = f'reference = "{condition}"\n' + NAMED.replace("bar", condition)
    assert run(["answer", folder(tmp_path / "a", text, None, contacts())]) == 2
    assert "[check_standard], key 'name'" in capsys.readouterr().err


def test_the_plan_takes_it_and_its_sheet_has_room_for_the_date(tmp_path: Path, capsys: Captured) -> None:
    plan = (
        'reference = "new"\n[plan]\ngoal = "detect"\neffect = "40 %"\nconditions = ["dark", "new"]\n'
        'specimen = "12 %"\nmating = "10 %"\nreading = "1 %"\n'
    )
    path = folder(tmp_path / "a", plan + NAMED, None, None)
    sheet = tmp_path / "a" / "readings.csv"
    assert run(["plan", path, "--sheet", str(sheet)]) == 0
    assert "'bar' is read first, in the middle and last" in " ".join(
        capsys.readouterr().out.replace("|", " ").split()
    )
    lines = sheet.read_text("utf-8-sig").splitlines()
    assert "date" in lines[0].split(",")
    assert sum(",bar," in line for line in lines) == 6
    without = folder(tmp_path / "b", plan, None, None)
    assert run(["plan", without, "--sheet", str(tmp_path / "b" / "readings.csv")]) == 0
    assert "date" not in (tmp_path / "b" / "readings.csv").read_text("utf-8-sig").splitlines()[0]


def test_the_library_says_what_the_command_says(tmp_path: Path, capsys: Captured) -> None:
    path = tmp_path / "a"
    path.mkdir()
    (path / "study.toml").write_text(STUDY, "utf-8")
    (path / "check.csv").write_text(checks(steady()), "utf-8")
    (path / "readings.csv").write_text(trials(), "utf-8")
    assert ow.as_json(ow.fitness(path)) == printed("fitness", str(path), capsys)


def test_a_bench_from_arrays() -> None:
    values = steady()
    study = ow.Study(
        "?", limit=ow.Limit(3e-3, "datasheet"), reference="all", check=ow.CheckStandard("bar", first=20)
    )
    people = ["Ann", "Ann", "Ben", "Ben"] * 3
    names = [f"S{i // 4}" for i in range(12)]
    ohm = np.concatenate([2e-3 * (1 + 0.01 * np.random.default_rng(1).normal(size=12)), values])
    loaded = ow.from_arrays(
        study,
        specimen=names + ["bar"] * 28,
        condition=["all"] * 12 + ["Bar"] * 28,
        operator=people + ["Ann"] * 28,
        resistance=ohm,
    )
    told = ow.fitness(loaded)
    assert told.verdict == "fit today"
    assert told.control is not None
    assert [c.resistance for c in told.control.checks] == pytest.approx(values)
    assert told.study is not None
    assert (told.study.specimens, told.study.operators) == (3, 2)
    answer = ow.answer(loaded)
    assert answer.bench is not None
    assert answer.bench.verdict == "fit today"


@pytest.mark.parametrize("command", ["answer", "fitness"])
def test_a_name_that_is_nearly_the_check_standards_is_refused(
    command: str, tmp_path: Path, capsys: Captured
) -> None:
    text = STUDY + NAMED.replace("bar", "check bar")
    misspelt = [*contacts(), *rows(steady(3), None, "chek bar")]
    assert run([command, folder(tmp_path / "a", text, None, misspelt)]) == 2
    assert "found 'chek bar'; expected 'check bar', the check standard" in capsys.readouterr().err
    unlabelled = [*contacts(), *(row.replace("bar,bar", "check bar,all") for row in rows(steady(3), None))]
    assert run([command, folder(tmp_path / "b", text, None, unlabelled)]) == 2
    assert "as a specimen, under another condition" in capsys.readouterr().err


def test_a_condition_that_the_question_names_is_no_slip(tmp_path: Path, capsys: Captured) -> None:
    text = 'reference = "chek bar"\n' + STUDY + NAMED.replace("bar", "check bar")
    own = [row.replace(",all,", ",chek bar,") for row in contacts()]
    assert printed("answer", folder(tmp_path / "a", text, None, own), capsys)["bench"] is None


@pytest.mark.parametrize("moved", [0.0, 0.03e-3])
def test_a_lots_verdict_says_so_too(moved: float, tmp_path: Path, capsys: Captured) -> None:
    lot = '[lot]\nacceptable = "5 %"\nrejectable = "50 %"\n'
    values = np.append(steady()[:25], steady()[25:] + moved)
    told = printed("lot", folder(tmp_path / "a", STUDY + NAMED + lot, checks(values), contacts()), capsys)
    assert told["bench"]["verdict"] == ("look first" if moved else "fit today")
    assert told["sentence"].startswith("Look first") == bool(moved)
    assert any("by 28 checks of bar: fit today" in text for text in told["findings"]) != bool(moved)


def test_dates_with_dots_have_the_day_first(tmp_path: Path, capsys: Captured) -> None:
    values = steady(12)
    text = checks(values)
    dotted = "\n".join(
        [
            text.splitlines()[0],
            *(f"{r[8:10]}.{r[5:7].lstrip('0')}.{r[:4]}{r[10:]}" for r in text.splitlines()[1:]),
        ]
    )
    one = printed("fitness", folder(tmp_path / "a", STUDY, text, None), capsys)
    assert printed("fitness", folder(tmp_path / "b", STUDY, dotted + "\n", None), capsys) == one
    wrong = text.replace("2026-03-04", "31.2.2026")
    assert run(["fitness", folder(tmp_path / "c", STUDY, wrong, None)]) == 2
    assert "found '31.2.2026'" in capsys.readouterr().err


def test_a_lot_without_limit_hears_of_it_with_all_else(tmp_path: Path, capsys: Captured) -> None:
    assert (
        run(["lot", folder(tmp_path / "a", '[lot]\nacceptable = "x"\nrejectable = "6 %"\n', None, None)]) == 2
    )
    err = capsys.readouterr().err
    assert "Refused: 2 faults" in err
    assert "[limit] with a resistance" in err
    assert "key 'acceptable'" in err
    (tmp_path / "b").mkdir()
    assert run(["lot", str(tmp_path / "b")]) == 2
    assert "readings.csv" not in capsys.readouterr().err
