"""What ``meaning`` and a study say where a mains feed is among the uses: no word of it gives leave to anything."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import pytest
from tests.unit.consequence.uses.test_mains_words import VALUES, permissive

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.consequence.uses.mains_feed import CAUTIONS, PROVISO
from ohmsworth.report.answer import Answer
from ohmsworth.report.meaning_pages import meaning_report, meaning_summary
from ohmsworth.work.meaning import explain
from ohmsworth.work.report_study import report_study

MAINS = "mains feed"
ASKED: list[tuple[float, ...]] = [(), (1e-3,), (3e-3, 50e-3), (2.0, 10e3, 1e9)]
#: The verdicts on a datasheet's limit and on a margin, the name of a document, and what is forbidden until more is known:
#: of these a study has to speak.
OF_A_STUDY = re.compile(
    r"enough to matter|too small to matter|as the maker\s+allows|within the limit of [0-9.]+ mΩ|judged within the limit"
    r"|that are\s+still '|safety\s+data\s+sheet|before you pass any|do not pass",
    re.IGNORECASE,
)


def texts(data: Any) -> Iterator[str]:
    """Every text in `data`, however deep, keys too."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for key, value in data.items():
            yield from (key, *texts(value))
    elif isinstance(data, list | tuple):
        for one in data:
            yield from texts(one)


@pytest.mark.parametrize("values", VALUES)
@pytest.mark.parametrize("asked", ASKED)
def test_no_word_of_meaning_gives_leave(values: dict[str, float | str], asked: tuple[float, ...]) -> None:
    answer = explain([ow.UseRequest(MAINS, "stage feed", values)], asked)
    told = list(texts(ow.as_json(answer)))
    told += wiring.as_text(meaning_report(answer), 10_000).splitlines()
    told += wiring.as_text(meaning_summary(answer), 100).replace("\n| ", "\n").split("\n\n")
    assert len(told) > 100
    assert not permissive(iter(told))


@pytest.mark.parametrize("asked", ASKED)
@pytest.mark.parametrize("others", [(), ("balanced line",), ("headphone", "loudspeaker")])
def test_the_proviso_stands_in_the_sentence(asked: tuple[float, ...], others: Sequence[str]) -> None:
    answer = explain([*others, MAINS], asked)
    assert answer.sentence.endswith(PROVISO)
    assert not permissive(iter([answer.sentence, *answer.findings]))
    own = answer.sentence.partition("Mains feed: ")[2]
    assert own.startswith("the first threshold lies at 3.9 mΩ")
    # Never that something is below a threshold.
    assert "reach no" not in own
    assert "reaches no" not in own
    for finding in answer.findings:
        if finding.startswith("Next comes 3.9 mΩ"):
            assert finding.endswith(PROVISO)


def test_the_cautions_stand_before_the_numbers_on_the_first_page() -> None:
    text = " ".join(wiring.as_text(meaning_summary(explain([MAINS], (3e-3,))), 100).split())
    for caution in CAUTIONS:
        assert text.count(caution) == 1
        assert text.index(caution) < text.index("what the contacts do")


def study(
    middle: float, ratio: float = 1.0, margin: float | None = None, limit: float | None = 3e-3
) -> Answer:
    """Three contacts of each of two conditions, three matings each, in a mains feed and in a microphone's line."""
    chance = np.random.default_rng(5)
    specimen, condition, mating, ohm = [], [], [], []
    for name, factor in (("new", 1.0), ("dark", ratio)):
        for i in range(3):
            for again in range(3):
                specimen.append(f"{name} {i}")
                condition.append(name)
                mating.append(str(again))
                ohm.append(middle * factor * np.exp(0.03 * chance.standard_normal()))
    asked = ow.Study(
        "May they go on stage?",
        reference="new",
        limit=None if limit is None else ow.Limit(limit, "datasheet"),
        margin=margin,
        bench=ow.Bench(ohmmeter=ow.Accuracy(gain=0.002)),
        uses=(ow.UseRequest(MAINS, "stage feed"), ow.UseRequest("dynamic microphone", "vocal")),
    )
    return ow.answer(
        ow.from_arrays(asked, specimen=specimen, condition=condition, mating=mating, resistance=ohm)
    )


STUDIES = {
    "within": (1e-3, 1.0, None, 3e-3),
    "over": (5e-3, 2.0, None, 3e-3),
    "too close": (3e-3, 1.0, None, 3e-3),
    "too small by a margin": (2e-3, 1.1, 1e-3, 3e-3),
    "enough by a margin": (2e-3, 2.0, 1e-3, 3e-3),
    "past the other use": (10.0, 2.0, None, None),
    "below the other use": (1e-3, 1.0, None, None),
}


@pytest.mark.parametrize("name", STUDIES)
def test_no_word_of_a_study_gives_leave(name: str) -> None:
    answer = study(*STUDIES[name])
    (mains,) = (use for use in answer.uses if use.kind == MAINS)
    steps = [text for action in answer.actions for text in (action.words, action.why, *action.cautions)]
    told = [answer.sentence, *answer.findings, *steps, *texts(ow.as_json(answer)["uses"][0])]
    assert mains.name == answer.uses[0].name
    assert not permissive(OF_A_STUDY.sub("", text) for text in told)
    assert answer.sentence.count(PROVISO) == 1
    assert sum("stage feed" in finding and PROVISO in finding for finding in answer.findings) == 1


@pytest.mark.parametrize("name", STUDIES)
def test_the_last_step_leaves_the_feed_to_a_licensed_electrician(name: str) -> None:
    answer = study(*STUDIES[name])
    last = answer.actions[-1]
    assert last.words == "Leave 'stage feed' to a licensed electrician, whatever stands here."
    assert last.why == PROVISO
    assert last.cautions == CAUTIONS
    for action in answer.actions[:-1]:
        assert "stage feed" not in action.words
        assert "the uses named" not in action.words + action.why
        assert "may be passed" not in action.words


def test_another_use_still_lends_its_margin_by_name() -> None:
    answer = study(1e-3, 1.0, None, None)
    assert answer.margin is not None
    assert answer.margin.source.startswith("vocal: ")
    assert any(action.words.endswith("as far as 'vocal' goes.") for action in answer.actions)


def test_a_feed_that_does_not_hold_by_itself_is_no_matter_of_contacts() -> None:
    asked = ow.Study("?", uses=(ow.UseRequest(MAINS, "long feed", {"length": 200.0}),))
    answer = ow.answer(
        ow.from_arrays(asked, specimen=["A", "A", "B", "B"], resistance=[1e-3, 1.1e-3, 1e-3, 1.2e-3])
    )
    assert "the circuit itself does not meet" in answer.actions[-1].why.lower()
    assert answer.actions[-1].why.endswith(PROVISO)
    assert not any("ask less of it" in action.words for action in answer.actions)


def test_the_report_of_a_study_gives_no_leave(tmp_path: Any) -> None:
    wiring.write_new_study(tmp_path / "study")
    file = tmp_path / "study/study.toml"
    text = file.read_text("utf-8").replace('kind = "dynamic microphone"', f'kind = "{MAINS}"')
    file.write_text(text, "utf-8")
    report = wiring.as_text(report_study(ow.load_study(tmp_path / "study")).report, 100)
    about = [part for part in report.split("\n\n") if "mains" in part.lower()]
    assert len(about) > 5
    assert not permissive(OF_A_STUDY.sub("", part) for part in about)
