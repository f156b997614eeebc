"""What we know: the shop's comparisons over several studies, through the pages."""

import re
from pathlib import Path

import pytest
from tests.journeys.test_known import study
from tests.web.kept import Kept, in_memory, sent
from tests.web.policy import breaches

PLACE = "/studies/known"
ASKED = {"of": "worn", "against": "new"}


@pytest.fixture
def bench(tmp_path: Path) -> Kept:
    return in_memory(tmp_path, drawn=True)


def take_in(bench: Kept, folder: Path) -> None:
    files = [(f"{folder.name}/{one.name}", one.read_bytes()) for one in sorted(folder.iterdir())]
    told = bench.client.post("/records/take-in", files=sent(*files))
    assert told.status_code == 200, told.text


def page(bench: Kept, status: int = 200, **asked: str) -> str:
    answer = bench.client.get(PLACE, params=asked)
    assert answer.status_code == status, answer.text
    assert breaches(answer.text) == []
    return answer.text


def test_empty_records_say_what_to_do(bench: Kept) -> None:
    assert "Name conditions alike" in page(bench)
    assert PLACE in bench.client.get("/studies").text


def test_a_comparison_of_several_studies_is_chosen_and_told(bench: Kept, tmp_path: Path) -> None:
    for i, effect in enumerate([0.7, 0.5, 0.65]):
        take_in(bench, study(tmp_path / f"year {i}", effect, 0.05, base=5.0 + i))
    take_in(bench, study(tmp_path / "other", 0.5, 0.1, names=("wet", "dry"), base=9.0))
    text = page(bench)
    assert "worn against new" in text
    assert "in 3 studies" in text
    assert "wet against dry" not in text  # one study alone
    text = page(bench, **ASKED)
    assert "Three studies together: " in text
    assert 'aria-current="page">worn against new' in text
    data = bench.client.get(f"{PLACE}/answer.json", params=ASKED).json()
    assert [one["log_ratio"] for one in data["studies"]] == pytest.approx([0.7, 0.5, 0.65], abs=1e-5)
    assert data["sentence"].split(":")[0] in text
    assert bench.client.get(f"{PLACE}/report.pdf", params=ASKED).content.startswith(b"%PDF-")
    pictures = set(re.findall(r'href="(/studies/known/pictures/[^"]+)"', text))
    assert pictures
    for address in pictures:
        assert bench.client.get(address.replace("&amp;", "&")).status_code == 200, address


def test_a_study_that_cannot_be_answered_is_left_out_and_told(bench: Kept, tmp_path: Path) -> None:
    for i in range(2):
        take_in(bench, study(tmp_path / f"year {i}", 0.5 + 0.1 * i, 0.05, base=5.0 + i))
    single = study(tmp_path / "single", 0.5, 0.1)
    rows = "specimen,condition,mating,resistance [mΩ]\nA,new,1,5\nA,new,2,5.1\nA,worn,1,9\nA,worn,2,9.2\n"
    (single / "readings.csv").write_text(rows, "utf-8")
    (single / "study.toml").write_text('question = "One?"\nreference = "new"\n', "utf-8")
    take_in(bench, single)
    text = page(bench, **ASKED)
    assert re.search(r"is left out\.|Not counted: no\. 3", text)
    assert len(bench.client.get(f"{PLACE}/answer.json", params=ASKED).json()["studies"]) == 2


def test_what_no_study_has_is_refused(bench: Kept, tmp_path: Path) -> None:
    take_in(bench, study(tmp_path / "only", 0.5, 0.1))
    assert "It cannot be told yet" in page(bench, 422, of="worn", against="nwe")
    assert bench.client.get(f"{PLACE}/report.pdf").status_code in (404, 422)
