"""Published data and the demonstration raise no doubt about units, names or copies."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from ohmsworth import wiring
from ohmsworth.cli.app import run

DATA = Path(__file__).parents[1] / "published" / "data"
DOUBTS = {
    "UNLIKELY_SCALE",
    "WHOLE_CONDITION_OFF",
    "WHOLE_SPECIMEN_OFF",
    "NEAR_NAMES",
    "FEW_ROWS",
    "COPIED",
}
#: File, its columns and the headings they are given.
STUDIES = [
    ("lme4_Dyestuff.csv", "Batch Yield", "specimen,resistance [mΩ]", ""),
    ("lme4_Pastes.csv", "batch cask strength", "specimen,mating,resistance [Ω]", ""),
    ("lme4_Pastes.csv", "batch cask strength", "specimen,contact,resistance [Ω]", ""),
    ("aiag_gage.csv", "part appraiser value", "plug,socket,resistance [Ω]", ""),
    ("mass_oats.csv", "B V N Y", "specimen,contact,condition,resistance [Ω]", "0.0cwt"),
    ("nist_auto83b.csv", "line group mpg", "specimen,condition,resistance [Ω]", "us"),
    ("anova_SiRstv.csv", "treatment y", "specimen,resistance [Ω]", ""),
    ("anova_SmLs01.csv", "treatment y", "specimen,resistance [mΩ]", ""),
]


def codes(folder: Path, capsys: pytest.CaptureFixture[str]) -> set[str]:
    assert run(["answer", str(folder), "--json"]) == 0
    return {warning["code"] for warning in json.loads(capsys.readouterr().out)["warnings"]}


@pytest.mark.parametrize(("name", "columns", "header", "reference"), STUDIES)
def test_published_data(
    name: str, columns: str, header: str, reference: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        found = [{"line": str(i), **row} for i, row in enumerate(csv.DictReader(file))]
    lines = [header, *(",".join(row[column] for column in columns.split()) for row in found)]
    (tmp_path / "readings.csv").write_text("\n".join(lines) + "\n", "utf-8")
    asked = 'question = "?"\nscale = "linear"\n' + (f'reference = "{reference}"\n' if reference else "")
    (tmp_path / "study.toml").write_text(asked, "utf-8")
    assert not codes(tmp_path, capsys) & DOUBTS


def test_the_demonstration(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wiring.write_demo_study(tmp_path / "study")
    wiring.write_demo_shop(*(tmp_path / name for name in ("bench", "plan", "lot", "earlier")))
    wiring.write_demo_known(tmp_path / "known")
    studies = {path.parent.name: path.parent for path in tmp_path.rglob("readings.csv")}
    known = {"club", "church", "theatre", "school", "festival"}
    assert set(studies) == {"study", "bench", "lot", "earlier"} | known
    for study in studies.values():
        assert not codes(study, capsys) & DOUBTS
