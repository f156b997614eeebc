"""Whatever is being measured, there is an answer after every reading, in words and finite figures."""

from __future__ import annotations

import dataclasses
import math
import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.journeys.studies import Plan, plans, readings, studies

from ohmsworth.errors import InputRefused
from ohmsworth.report.live_answer import AS_READ, AT_END, CHECK, GO_ON, NOT_HERE, STOP, LiveAnswer
from ohmsworth.wiring import load_study
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.live_answer import live_answer
from ohmsworth.work.live_progress import Planned
from ohmsworth.work.ports import LoadedStudy


def written(study: str, table: str) -> LoadedStudy | None:
    """The study of these two files; None where they are refused."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "study.toml").write_text(study, "utf-8")
        (Path(folder) / "readings.csv").write_text(table, "utf-8")
        try:
            return load_study(Path(folder))
        except InputRefused:
            return None


def sound(answer: LiveAnswer) -> None:
    """Words, and no figure that is none."""
    assert answer.stop in (STOP, GO_ON, NOT_HERE, CHECK)
    # Nobody is sent to check without being told what, nor told to stop while most is in grave doubt.
    assert answer.stop != CHECK or answer.doubts
    assert not (answer.doubtful and answer.stop == STOP)
    assert answer.sentence
    assert answer.rule
    for text in (answer.sentence, answer.rule, *answer.findings):
        words = text.replace("(", " ").split()
        assert not {"nan", "inf", "None", "-inf"} & set(words)

    def look(thing: object) -> None:
        if dataclasses.is_dataclass(thing):
            for field in dataclasses.fields(thing):
                look(getattr(thing, field.name))
        elif isinstance(thing, tuple):
            for part in thing:
                look(part)
        elif isinstance(thing, float):
            assert math.isfinite(thing)

    look(answer)


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(
    plan=plans(),
    study=studies(),
    share=st.floats(0, 1),
    sheet=st.sampled_from((None, Planned(3, 2, 1), Planned(1), Planned(2, 1, 2))),
    looks=st.sampled_from((AS_READ, AS_READ, AT_END)),
)
def test_any_part_of_a_study_is_answered(
    plan: Plan, study: str, share: float, sheet: Planned | None, looks: str
) -> None:
    whole = written(study, readings(plan))
    if whole is None:
        return
    for n in {0, 1, 2, round(share * len(whole.table)), len(whole.table)}:
        part = replace(whole, table=whole.table.take(np.arange(min(n, len(whole.table)))))
        sound(live_answer(part, sheet, looks))
    try:
        ordinary = answer_study(whole)
    except InputRefused:
        assert live_answer(whole, sheet, looks).faults
        return
    live = live_answer(whole, sheet, looks)
    for mine, theirs in zip(live.comparisons, ordinary.comparisons, strict=True):
        assert mine.difference.value == theirs.difference.value
        if mine.margin is not None:
            assert mine.plain_verdict == theirs.verdict


@settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow])
@given(seed=st.integers(0, 1000), specimens=st.integers(2, 3), until=st.floats(0.2, 1))
def test_the_order_of_rows_within_a_mating_changes_nothing(seed: int, specimens: int, until: float) -> None:
    """Rows that stand for a resistance each; forward and reversed readings find their partners by order."""
    rng = np.random.default_rng(seed)
    rows = [
        (f"{c}{s}", c, str(m), f"{2.5 * (1.3 if c == 'old' else 1) * math.exp(rng.normal(0, 0.05)):.5f}")
        for s in range(specimens)
        for c in ("new", "old")
        for m in range(2)
        for _ in range(3)
    ]
    mixed = [rows[3 * i + j] for i in range(len(rows) // 3) for j in rng.permutation(3)]
    n = 3 * max(round(until * len(rows) / 3), 1)
    study = 'question = "q"\nreference = "new"\nmargin = "0.5 mΩ"\n[limit]\nresistance = "3 mΩ"\n'
    heading = "specimen,condition,mating,resistance [mΩ]\n"
    first, second = (
        written(study, heading + "\n".join(",".join(row) for row in some) + "\n") for some in (rows, mixed)
    )
    assert first is not None
    assert second is not None
    one, other = (
        live_answer(replace(whole, table=whole.table.take(np.arange(n))), Planned(3, 2, 3))
        for whole in (first, second)
    )
    assert one.stop == other.stop
    assert one.done == other.done
    assert [c.verdict for c in one.comparisons] == [c.verdict for c in other.comparisons]
    for mine, theirs in zip(one.specimens, other.specimens, strict=True):
        assert (mine.id, mine.verdict, mine.done) == (theirs.id, theirs.verdict, theirs.done)
        assert math.isclose(mine.resistance, theirs.resistance, rel_tol=1e-9)
