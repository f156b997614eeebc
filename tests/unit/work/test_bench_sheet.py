"""The bench sheet: complete, balanced, in an order that only the seed knows."""

from collections import Counter, defaultdict
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from ohmsworth.errors import InputRefused
from ohmsworth.readings.check import CheckStandard
from ohmsworth.readings.plan_request import BEFORE_AND_AFTER, EITHER_ORDER, SEPARATE, Assignment, PlanRequest
from ohmsworth.readings.study import Study
from ohmsworth.report.plan_answer import DesignAnswer, PlanAnswer
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.bench_sheet import draw_sheet
from ohmsworth.work.plan_study import plan_study

REQUEST = PlanRequest(
    "detect",
    effect=0.25,
    conditions=("dark", "cleaned"),
    specimen=0.1,
    response=0.1,
    mating=0.2,
    reading=0.02,
)


def planned(request: PlanRequest, seed: int = 1, **design: int) -> tuple[PlanAnswer, tuple[SheetRow, ...]]:
    """A sheet of so many specimens, matings and readings, whatever the chance."""
    study = Study("?", reference="cleaned", plan=request, check=CheckStandard("bar"))
    answer = plan_study(study, seed=seed)
    counts = {"specimens": 6, "matings": 3, "readings": 2, **design}
    rows = 2 * 2 * counts["specimens"] * counts["matings"] * counts["readings"]
    answer = replace(
        answer, best=DesignAnswer(**counts, specimens_in_all=12, rows=rows, minutes=1.0, chance=0.8)
    )
    return answer, draw_sheet(study, answer)


def contacts(rows: tuple[SheetRow, ...]) -> list[SheetRow]:
    return [row for row in rows if not row.note]


@pytest.mark.parametrize("assignment", [SEPARATE, EITHER_ORDER, BEFORE_AND_AFTER])
def test_every_reading_stands_there_once(assignment: Assignment) -> None:
    answer, rows = planned(replace(REQUEST, assignment=assignment))
    found = Counter((r.specimen, r.condition, r.mating, r.polarity) for r in contacts(rows))
    assert answer.best is not None
    assert sum(found.values()) == answer.best.rows
    assert set(found.values()) == {2}  # two readings of each mating
    specimens = {r.specimen for r in contacts(rows)}
    assert len(specimens) == (12 if assignment == SEPARATE else 6)
    assert [r.step for r in rows] == list(range(1, len(rows) + 1))


def test_polarity_alternates_within_a_mating() -> None:
    rows = planned(REQUEST)[1]
    assert [r.polarity for r in rows] == ["+", "-"] * (len(rows) // 2)
    for first, second in zip(rows[::2], rows[1::2], strict=True):
        assert (first.specimen, first.mating) == (second.specimen, second.mating)


def test_a_mating_is_never_interrupted() -> None:
    rows = planned(REQUEST)[1]
    keys = [(r.specimen, r.condition, r.mating) for r in rows]
    changes = sum(a != b for a, b in pairwise(keys))
    assert changes == len(set(keys)) - 1


def test_the_same_seed_draws_the_same_sheet_and_another_one_another() -> None:
    assert planned(REQUEST, 7)[1] == planned(REQUEST, 7)[1]
    assert planned(REQUEST, 7)[1] != planned(REQUEST, 8)[1]


@pytest.mark.parametrize("assignment", [SEPARATE, EITHER_ORDER])
def test_a_steady_drift_falls_on_all_conditions_alike(assignment: Assignment) -> None:
    # An even number of turns, every second one the other way round: the conditions' mean places are equal.
    rows = contacts(planned(replace(REQUEST, assignment=assignment))[1])
    place = defaultdict(list)
    for row in rows:
        place[row.condition].append(row.step)
    assert np.mean(place["dark"]) == pytest.approx(np.mean(place["cleaned"]))


def test_conditions_take_turns() -> None:
    rows = contacts(planned(REQUEST)[1])
    order = [r.condition for r in rows[::4]]
    assert all({a, b} == {"dark", "cleaned"} for a, b in zip(order[::2], order[1::2], strict=True))


def test_what_cannot_be_undone_comes_last() -> None:
    rows = contacts(planned(replace(REQUEST, assignment=BEFORE_AND_AFTER))[1])
    conditions = [r.condition for r in rows]
    assert conditions == sorted(conditions, key=("dark", "cleaned").index)


@pytest.mark.parametrize(
    ("days", "operators"), [(1, ()), (2, ()), (3, ("Ann", "Bob")), (1, ("Ann", "Bob", "Cem"))]
)
def test_days_and_operators_share_the_conditions_evenly(days: int, operators: tuple[str, ...]) -> None:
    rows = contacts(planned(replace(REQUEST, days=days, operators=operators))[1])
    share = Counter((r.day, r.operator, r.condition) for r in rows)
    assert {r.day for r in rows} == set(range(1, days + 1))
    assert {r.operator for r in rows} == set(operators or ("",))
    for day in range(1, days + 1):
        for operator in operators or ("",):
            assert share[day, operator, "dark"] == share[day, operator, "cleaned"] > 0
    assert [r.day for r in rows] == sorted(r.day for r in rows)


@pytest.mark.parametrize("days", [1, 2, 3])
def test_the_check_standard_is_first_in_the_middle_and_last_of_every_day(days: int) -> None:
    rows = planned(replace(REQUEST, days=days))[1]
    for day in range(1, days + 1):
        own = [r for r in rows if r.day == day]
        checks = [i for i, r in enumerate(own) if r.condition == "bar"]
        assert checks[:2] == [0, 1]
        assert checks[-2:] == [len(own) - 2, len(own) - 1]
        assert len(checks) == 6
        assert abs(checks[2] - len(own) / 2) <= 6
    matings = [(r.mating, r.polarity) for r in rows if r.condition == "bar"]
    assert matings == [(m, p) for m in range(1, 3 * days + 1) for p in "+-"]


def test_a_specimen_stays_with_its_operator_before_and_after() -> None:
    request = replace(REQUEST, assignment=BEFORE_AND_AFTER, operators=("Ann", "Bob"), days=2)
    rows = contacts(planned(request)[1])
    hands = defaultdict(set)
    for row in rows:
        hands[row.specimen].add(row.operator)
    assert all(len(names) == 1 for names in hands.values())
    share = Counter((r.operator, r.condition) for r in rows)
    assert len(share) == 4
    assert len(set(share.values())) == 1
    assert [r.condition for r in rows] == sorted((r.condition for r in rows), key=("dark", "cleaned").index)


def test_without_a_plan_there_is_no_sheet() -> None:
    study = Study("?", reference="cleaned", plan=replace(REQUEST, most_specimens=2))
    answer = plan_study(study)
    assert answer.best is None
    assert answer.most is not None
    with pytest.raises(InputRefused, match="no plan"):
        draw_sheet(study, answer)
