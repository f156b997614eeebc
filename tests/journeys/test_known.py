"""What several studies know together, from their folders to the sentence, through the command line."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
import pytest
from tests.journeys.known_told import Captured, answer, refusal
from tests.published.printed import assert_printed
from tests.published.test_shop_history import TRIALS, trials

from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.report.answer import as_json
from ohmsworth.work.care.known_studies import known_studies

ROOT = Path(__file__).parents[2]
SCHEMA = json.loads((ROOT / "src/ohmsworth/report/known.schema.json").read_text("utf-8"))
CONTACTS = 4


def study(
    place: Path,
    effect: float,
    uncertainty: float,
    names: tuple[str, str] = ("worn", "new"),
    question: str = "",
    base: float = 5.0,
) -> Path:
    """Contacts read under both conditions whose logarithms differ by `effect`, with a standard error of `uncertainty`.

    Four differences of effect ± u√3, two of each sign, have the mean `effect` and s/√4 = u.
    """
    place.mkdir(parents=True)
    lines = ["specimen,condition,resistance [mΩ]"]
    for k in range(CONTACTS):
        ohm = base * math.exp(0.9 * k)  # far apart, so that their own scatter is no doubt
        more = effect + uncertainty * math.sqrt(3) * (1 if k % 2 else -1)
        lines += [f"S{k},{names[1]},{ohm:.12f}", f"S{k},{names[0]},{ohm * math.exp(more):.12f}"]
    (place / "readings.csv").write_text("\n".join(lines) + "\n", "utf-8")
    keep = list(range(2, len(lines) + 1))
    text = f'question = "Worn in {place.name}?"\nreference = "{names[1]}"\nscatter = "equal"\nkeep = {keep}\n{question}'
    text += '[bench.ohmmeter]\nstandard_uncertainty = "1 nΩ"\n'
    (place / "study.toml").write_text(text, "utf-8")
    return place


def test_the_published_thirteen_trials_through_the_whole_command(tmp_path: Path, capsys: Captured) -> None:
    """Source: Colditz1994, printed: REML, t with 12 degrees of freedom; each trial as contacts that say the same as it."""
    folders = [study(tmp_path / f"T{i:02}", one.value, one.uncertainty) for i, one in enumerate(trials())]
    found = answer(capsys, SCHEMA, *folders)
    assert len(found["studies"]) == len(TRIALS)
    for one, trial in zip(found["studies"], trials(), strict=True):
        assert one["log_ratio"] == pytest.approx(trial.value, abs=1e-6)
        assert one["standard_error"] == pytest.approx(trial.uncertainty, rel=1e-5)
    between = found["between"]
    assert_printed("0.3132", between["spread"] ** 2)
    assert_printed("92.22", 100 * between["share"])
    assert_printed("152.23", between["square"])
    assert_printed("-0.7145", found["log_mean"])
    assert_printed("0.1808", found["standard_error"])
    assert_printed("-1.1084", math.log(found["together"]["low"]))
    assert_printed("-0.3206", math.log(found["together"]["high"]))
    assert_printed("0.0019", found["p_value"])
    assert found["sentence"].startswith("13 studies together: 'worn' contacts have 0.49 times (0.33 to 0.73)")
    assert not any(one["decides"] for one in found["without"])


def test_a_study_that_decides_alone_is_named(tmp_path: Path, capsys: Captured) -> None:
    folders = [study(tmp_path / f"A{i}", y, 0.1) for i, y in enumerate([1.0, 1.1, 0.9, 1.05])]
    found = answer(capsys, SCHEMA, *folders, study(tmp_path / "odd", -6.0, 0.1))
    assert [one["name"] for one in found["without"] if one["decides"]] == ["odd"]
    assert any("would change without 'odd' (without it 2.7" in words for words in found["findings"])
    assert "which of both is the higher is not known" in found["sentence"]


def test_one_study_says_nothing_of_a_new_lot(tmp_path: Path, capsys: Captured) -> None:
    found = answer(capsys, SCHEMA, study(tmp_path / "only", 0.7, 0.1))
    assert found["between"] is None
    assert found["next_lot"] is None
    assert found["sentence"].startswith("One study alone: 'worn' contacts have 2.01 times")
    assert found["sentence"].endswith("It says nothing of how studies differ, and so nothing of a new lot.")
    # Its own three degrees of freedom, not those of a large sample.
    assert found["degrees_of_freedom"] == pytest.approx(3, rel=1e-3)


def test_two_studies_are_told_to_be_few(tmp_path: Path, capsys: Captured) -> None:
    found = answer(capsys, SCHEMA, study(tmp_path / "a", 0.7, 0.1), study(tmp_path / "b", 0.5, 0.1))
    assert found["degrees_of_freedom"] == 1
    assert any(words.startswith("Two studies show hardly anything") for words in found["findings"])
    assert found["next_lot"]["low"] <= found["together"]["low"]


def test_the_other_way_about_is_the_inverse(tmp_path: Path, capsys: Captured) -> None:
    """One study takes the other condition for its reference; the comparison is the same."""
    one = study(tmp_path / "a", 0.7, 0.1)
    turned = study(tmp_path / "b", 0.5, 0.2)
    (turned / "study.toml").write_text(
        (turned / "study.toml").read_text("utf-8").replace('reference = "new"', 'reference = "worn"'), "utf-8"
    )
    found = answer(capsys, SCHEMA, one, turned, "--of", "worn", "--against", "new")
    back = answer(capsys, SCHEMA, one, turned, "--of", "new", "--against", "worn")
    assert [s["log_ratio"] for s in found["studies"]] == pytest.approx([0.7, 0.5], abs=1e-6)
    assert found["together"]["value"] * back["together"]["value"] == pytest.approx(1)
    assert found["next_lot"]["low"] * back["next_lot"]["high"] == pytest.approx(1)


def test_in_ohm_against_the_margin(tmp_path: Path, capsys: Captured) -> None:
    """By hand: bases 5 mΩ e^(0.9·1.5) alike in all; a ratio of e^0.05 changes them by 5.1 %, and 100 Ω matters."""
    margin = 'margin = "100 Ω"\n'
    folders = [study(tmp_path / f"A{i}", 0.05, 0.01, question=margin, base=5 + 1e-9 * i) for i in range(5)]
    found = answer(capsys, SCHEMA, *folders)["in_ohm"]
    base = 5e-3 * math.exp(0.9 * 1.5)
    assert found["base"] == pytest.approx(base, rel=1e-5)
    assert found["difference"]["value"] == pytest.approx(base * math.expm1(0.05), rel=1e-4)
    assert found["verdict"] == found["next_verdict"] == "too small to matter"


def test_what_does_not_count_is_told_with_its_reason(tmp_path: Path, capsys: Captured) -> None:
    folders = [study(tmp_path / "a", 0.7, 0.1), study(tmp_path / "b", 0.5, 0.1)]
    other = study(tmp_path / "other", 0.5, 0.1, names=("wet", "dry"))
    single = tmp_path / "single"
    single.mkdir()
    (single / "study.toml").write_text('reference = "new"\n', "utf-8")
    read = {"S1": ("new", 5.0), "S2": ("new", 6.0), "S3": ("worn", 9.0)}
    rows = [f"{s},{c},{m},{v + 0.1 * m}" for s, (c, v) in read.items() for m in range(3)]
    (single / "readings.csv").write_text(
        "specimen,condition,mating,resistance [mΩ]\n" + "\n".join(rows) + "\n", "utf-8"
    )
    found = answer(capsys, SCHEMA, *folders, other, single)
    unused = {one["name"]: one["why"] for one in found["unused"]}
    assert set(unused) == {"other", "single"}
    assert unused["other"] == "It has no 'worn' and no 'new'."
    assert "one specimen only" in unused["single"]
    assert len(found["studies"]) == 2


def test_refusals_name_every_folder(tmp_path: Path, capsys: Captured) -> None:
    good = study(tmp_path / "good", 0.7, 0.1)
    bad = study(tmp_path / "bad", 0.7, 0.2)
    (bad / "readings.csv").write_text("specimen,condition,resistance [mΩ]\nA,new,x\nB,worn,y\n", "utf-8")
    copy = study(tmp_path / "copy", 0.7, 0.1)
    told = refusal(capsys, good, bad, copy, good, tmp_path / "none")
    for words in (
        "bad: readings.csv, line 2, column 'resistance'",
        "bad: readings.csv, line 3, column 'resistance'",
        "copy: readings.csv: the same readings as in 'good'",
        "the same folder twice",
        "none: ",
    ):
        assert words in told, told


def test_a_pair_that_cannot_be_told_is_asked_for(tmp_path: Path, capsys: Captured) -> None:
    folders = [study(tmp_path / "a", 0.7, 0.1), study(tmp_path / "b", 0.5, 0.1, names=("wet", "dry"))]
    assert "'worn' against 'new'; 'wet' against 'dry'" in refusal(capsys, *folders)
    assert answer(capsys, SCHEMA, *folders, "--of", "wet")["against"] == "dry"
    told = refusal(capsys, *folders, "--of", "worm", "--against", "neww")
    assert "--of: 'worm' / Did you mean 'worn'?" in told
    assert "--against: 'neww' / Did you mean 'new'?" in told
    assert "FOLDERS: none" in refusal(capsys)


def test_a_resistance_without_a_logarithm_is_told_with_its_study(tmp_path: Path, capsys: Captured) -> None:
    place = study(tmp_path / "a", 0.7, 0.1)
    text = (place / "readings.csv").read_text("utf-8")
    (place / "readings.csv").write_text(text.replace("5.000000000000", "-5"), "utf-8")
    toml = (place / "study.toml").read_text("utf-8")
    (place / "study.toml").write_text('scale = "linear"\n' + toml, "utf-8")
    assert "a: readings.csv, line 2: a resistance of -5 mΩ" in refusal(
        capsys, place, study(tmp_path / "b", 0.5, 0.1)
    )


def test_pictures_reports_and_the_use_case_say_the_same(tmp_path: Path, capsys: Captured) -> None:
    rng = np.random.default_rng(4)
    folders = [study(tmp_path / f"lot {i}", float(rng.normal(0.7, 0.2)), 0.1) for i in range(4)]
    targets = ["--html", tmp_path / "a.html", "--pdf", tmp_path / "a.pdf", "--pictures", tmp_path / "p"]
    assert run(["known", *map(str, folders), *map(str, targets)]) == 0
    printed = capsys.readouterr().out
    assert "a new lot" in printed
    assert {path.stem for path in (tmp_path / "p").iterdir()} == {"known-studies", "known-without"}
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")
    assert "lot 3" in (tmp_path / "a.html").read_text("utf-8")
    found = known_studies(wiring.load_studies(folders))
    assert answer(capsys, SCHEMA, *folders) == json.loads(json.dumps(as_json(found)))
