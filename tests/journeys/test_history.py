"""Leaning on past studies, from folders to the page: off by default, always said, robust, and refused where it cannot be."""

from pathlib import Path

import pytest
from tests.journeys.pasts import Kind, write_kind

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.report.answer import Answer, as_json
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.report_study import report_study

PASTS = 'history = ["../past0", "../past1", "../past2"]'


def written(
    folder: Path, kind: Kind | None = None, more: str = PASTS, specimens: int = 2, seed: int = 5
) -> Path:
    for i in range(3):
        if not (folder / f"past{i}").exists():
            write_kind(folder / f"past{i}", i, 5)
    return write_kind(
        folder / f"now{len(list(folder.iterdir()))}", seed, specimens, kind or Kind(), more=more
    )


def answered(folder: Path) -> Answer:
    return answer_study(wiring.load_study(folder))


def width(answer: Answer) -> float:
    ratio = answer.comparisons[0].ratio
    assert ratio.low is not None
    assert ratio.high is not None
    return ratio.high / ratio.low


def test_off_by_default_and_the_numbers_without_are_those_told(tmp_path: Path) -> None:
    alone, leaning = answered(written(tmp_path, more="")), answered(written(tmp_path))
    assert alone.history is None
    assert not any("past stud" in text for text in alone.findings)
    assert leaning.history is not None
    told = leaning.history.estimates
    assert [(one.of, one.against) for one in told] == [("dark", None), ("cleaned", None), ("dark", "cleaned")]
    for one, condition in zip(told, alone.conditions, strict=False):
        assert (one.alone.low, one.alone.high) == (condition.low, condition.high)
    assert told[2].alone == alone.comparisons[0].difference
    assert told[2].verdict_alone == alone.comparisons[0].verdict
    assert alone.conditions[0].tolerance_bound == leaning.conditions[0].tolerance_bound
    assert [s.verdict for s in alone.specimens] == [s.verdict for s in leaning.specimens]


def test_a_fitting_history_narrows_and_says_so(tmp_path: Path) -> None:
    """Over ten drawn studies, for one alone may happen to lie close together."""
    widths, words = [], []
    for seed in range(20, 30):
        leaning = answered(written(tmp_path, seed=seed))
        assert leaning.history is not None
        words += [one.word for one in leaning.history.estimates]
        widths.append(leaning.history.estimates[2].width)
    assert sum(widths) / len(widths) < 0.85
    assert words.count("fits") > 20


def test_it_is_said_everywhere(tmp_path: Path) -> None:
    told = report_study(wiring.load_study(written(tmp_path)))
    lead = "lean on the scatter of 3 past studies (30 specimens) with a weight of 50 %"
    assert any(lead in text for text in told.answer.findings)
    assert sum("Without it the interval would be" in text for text in told.answer.findings) == 3
    assert any("prior on the scatter" in text for text in told.answer.method)
    assert lead in wiring.as_text(told.summary, 300)
    page = wiring.as_html(told.report)
    assert "What past studies lend" in page
    assert "both together" in page
    record = as_json(told.answer)["history"]
    assert record["specimens"] == 30
    assert len(record["studies"]) == 3


def test_a_history_that_does_not_fit_is_found_out_and_leaves_the_interval(tmp_path: Path) -> None:
    odd = answered(written(tmp_path, Kind(specimen=1.2), specimens=3, seed=8))
    assert odd.history is not None
    words = [one.word for one in odd.history.estimates]
    assert words == ["does not fit"] * 3
    assert all(one.width == pytest.approx(1, abs=0.05) for one in odd.history.estimates)
    assert any("it does not fit for 'dark'" in text for text in odd.findings)


def test_a_study_off_as_a_whole_takes_the_proportions(tmp_path: Path) -> None:
    off = answered(written(tmp_path, Kind(0.45, 0.15, 0.03), specimens=3, seed=12))
    assert off.history is not None
    assert {one.word for one in off.history.estimates} == {"in proportion"}
    assert any("as a whole scatters otherwise" in text for text in off.findings)


def test_conditions_of_other_names_take_all_of_the_past(tmp_path: Path) -> None:
    folder = written(tmp_path, more="")
    study = write_kind(folder.parent / "other", 9, 2, conditions=("salt", "cleaned"), more=PASTS)
    found = answered(study)
    assert found.history is not None
    assert found.history.strangers == ("salt",)
    assert any("No past study has 'salt'" in text for text in found.findings)


def test_a_past_study_may_lean_on_others_and_is_not_followed(tmp_path: Path) -> None:
    write_kind(tmp_path / "old", 1, 4, more='history = ["../now"]')
    now = write_kind(tmp_path / "now", 2, 2, more='history = ["../old"]')
    assert answered(now).history is not None


def test_one_specimen_a_condition_leans_on_nothing_and_says_so(tmp_path: Path) -> None:
    written(tmp_path)
    single = write_kind(tmp_path / "single", 3, 1, conditions=("dark",), more=PASTS)
    found = answered(single)
    assert found.history is not None
    assert found.history.estimates == ()
    assert any("says nothing of these readings" in text for text in found.findings)


def refusals(folder: Path) -> list[str]:
    with pytest.raises(InputRefused) as refused:
        wiring.load_study(folder)
    return [str(fault) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('history = ["../nowhere"]', "which is no folder"),
        ('history = ["."]', "which is this study"),
        ('history = ["../past0", "../past1/../past0"]', "a second time"),
        ("history = [3]", "a list of folders of past studies"),
        ('history = [" "]', "a folder without a name"),
        ('scale = "linear"\nhistory = ["../past0"]', "'../past0' with scale = \"log\""),
        ('history = ["../past0/readings.csv"]', "which is no folder"),
    ],
)
def test_a_history_that_cannot_be_is_refused(tmp_path: Path, more: str, words: str) -> None:
    faults = refusals(written(tmp_path, more=more))
    assert len(faults) == 1
    assert words in faults[0]
    assert "history" in faults[0]


def test_faults_inside_a_past_study_are_listed_with_its_folder(tmp_path: Path) -> None:
    folder = written(tmp_path)
    (tmp_path / "past1" / "readings.csv").write_text("specimen,resistance [mΩ]\nA,x\nB,y\n", "utf-8")
    faults = refusals(folder)
    assert len(faults) >= 2
    assert all("'../past1': " in fault for fault in faults)
