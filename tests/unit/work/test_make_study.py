"""A study out of a form, the steps of its sheet, and what they lead to."""

from dataclasses import replace

import pytest
from tests.unit.work.bench_shop import FORM, BenchShop

from ohmsworth.errors import InputRefused
from ohmsworth.work.make_study import make_study, plain_sheet
from ohmsworth.work.steps import ahead, skip_step, step_for


def test_a_form_becomes_a_question_with_a_sheet() -> None:
    bench = BenchShop()
    question = bench.desk.question(bench.study, bench.state)
    assert question.reference == "new"
    assert question.limit is not None
    assert question.limit.resistance == pytest.approx(0.004)
    rows = bench.state.sheet
    assert len(rows) == 2 * 3 * 2 * 2
    assert {row.specimen for row in rows} == {f"{c} {i}" for c in ("new", "tarnished") for i in (1, 2, 3)}


def test_specimens_that_serve_in_all_conditions_have_one_name() -> None:
    sheet = plain_sheet(replace(FORM, assignment="before and after"))
    assert {row.specimen for row in sheet} == {"S1", "S2", "S3"}
    conditions = [row.condition for row in sheet]
    assert conditions == sorted(conditions)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"question": " "}, "question"),
        ({"conditions": ()}, "conditions"),
        ({"conditions": ("new", "new")}, "conditions"),
        ({"reference": "old"}, "reference"),
        ({"specimens": "many"}, "specimens"),
        ({"matings": "0"}, "matings"),
        ({"specimens": "1" * 400}, "specimens"),
    ],
)
def test_a_field_at_fault_is_named(change: dict[str, object], field: str) -> None:
    bench = BenchShop()
    with pytest.raises(InputRefused) as refused:
        make_study(bench.shop, replace(FORM, **change), "Ada", "another")  # type: ignore[arg-type]
    assert field in {bench.shop.field_of(fault) or fault.where for fault in refused.value.faults}
    assert bench.shop.records.count("study") == 1


def test_the_sheet_leads_in_its_order() -> None:
    bench = BenchShop()
    for step in range(1, 25):
        leading = step_for(bench.state)
        assert leading is not None
        assert leading.row.step == step
        bench.take(step, anyway="it is so")
    assert step_for(bench.state) is None


def test_a_skipped_step_is_led_past() -> None:
    bench = BenchShop()
    skip_step(bench.shop, bench.study, bench.state, 1, "Ada", "s1")
    leading = step_for(bench.state)
    assert leading is not None
    assert leading.row.step == 2
    with pytest.raises(InputRefused, match="step 77"):
        skip_step(bench.shop, bench.study, bench.state, 77, "Ada", "s2")


def test_what_will_be_said_is_what_is_said() -> None:
    """The page goes on without the server with the very words that the server would have said."""
    bench = BenchShop()
    told = [step.words for step in ahead(bench.state, 400)]
    said = []
    for step in range(1, 25):
        leading = step_for(bench.state)
        assert leading is not None
        said.append(leading.words)
        bench.take(step, anyway="it is so")
    assert told == said


def test_beside_the_sheet() -> None:
    bench = BenchShop()
    bench.take(1)
    again = step_for(bench.state, "repeat")
    assert again is not None
    assert (again.row.step, again.row.polarity) == (0, bench.state.sheet[0].polarity)
    mating = step_for(bench.state, "mating")
    assert mating is not None
    assert mating.row.mating == 3
    assert step_for(bench.state, "free") is None
