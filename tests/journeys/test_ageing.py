"""How contacts age, from the records to the sentence, through the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.journeys.known_told import Captured, answer, refusal
from tests.web.aged import two_platings
from tests.web.kept import in_file

from ohmsworth.cli.app import run

SCHEMA = json.loads(
    (Path(__file__).parents[2] / "src/ohmsworth/report/ageing.schema.json").read_text("utf-8")
)


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Records with four contacts of gold and four of silver, each read in five years."""
    path = tmp_path_factory.mktemp("aged") / "shop.records"
    with in_file(path) as kept:
        two_platings(kept)
    return path


def test_platings_of_a_file_of_records(shop: Path, capsys: Captured) -> None:
    found = answer(capsys, SCHEMA, "--by", "plating", "--records", shop)
    assert found["sentence"].startswith("'silver' contacts age faster than 'gold' contacts")
    gold, silver = found["levels"]
    # Planted: 2 % and 12 % a year.
    assert gold["per_year"]["low"] < 1.0195 < gold["per_year"]["high"]
    assert silver["per_year"]["low"] < 1.123 < silver["per_year"]["high"]
    assert gold["age"] == pytest.approx(3, abs=0.01)
    assert silver["doubles"]["value"] == pytest.approx(0.6931 / silver["log_slope"], rel=1e-3)
    again = answer(capsys, SCHEMA, "--by", "plating", "--records", shop)
    assert again == found


def test_a_lot_of_one_plating(shop: Path, capsys: Captured) -> None:
    found = answer(
        capsys, SCHEMA, "--by", "lot", "--only", "plating=gold", "--only", "part=Socket 3", "--records", shop
    )
    assert [one["specimens"] for one in found["levels"]] == [2, 2]
    assert "(of those with plating 'gold' and part 'Socket 3')" in found["sentence"]
    assert not found["own_scatter"]


def test_words_pictures_and_reports(shop: Path, tmp_path: Path, capsys: Captured) -> None:
    targets = ["--html", tmp_path / "a.html", "--pdf", tmp_path / "a.pdf", "--pictures", tmp_path / "p"]
    assert run(["known", "--by", "plating", "--records", str(shop), *map(str, targets)]) == 0
    assert "In a year: with its 95 % interval" in capsys.readouterr().out.replace("\n", " ")
    names = {path.stem for path in (tmp_path / "p").iterdir()}
    assert names == {"ageing-slopes", "ageing-differences", "ageing-course"}
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")
    assert "age faster than" in (tmp_path / "a.html").read_text("utf-8")


def test_what_does_not_go_together_is_refused_at_once(shop: Path, tmp_path: Path, capsys: Captured) -> None:
    told = refusal(capsys, tmp_path, "--only", "colour=red", "--records", shop)
    assert "--only: 'colour=red' / Write it such as --only plating=gold." in told
    assert "--by: nothing" in told
    assert "--by: folders beside it" in told
    assert "--by: --of or --against beside it" in refusal(
        capsys, "--by", "part", "--of", "worn", "--records", shop
    )
    told = refusal(capsys, "--by", "part", "--only", "plating=gould", "--records", shop)
    assert told == "only plating: 'gould' / Did you mean 'gold'?"


def test_empty_records_give_no_number(tmp_path: Path, capsys: Captured) -> None:
    found = answer(capsys, SCHEMA, "--by", "treatment", "--records", tmp_path / "new.records")
    assert found["levels"] == []
    assert "cannot be told yet: that takes two specimens of a kind" in found["sentence"]
