"""A condition that does not settle is told so, and no average of its readings passes or clears anything."""

from __future__ import annotations

import json
from dataclasses import dataclass

import numpy as np
import pytest

import ohmsworth as ow
from ohmsworth.report.heading import heading
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.report_study import Told, report_study

LIMIT = 3e-3
STILL = np.zeros(6)
RESTLESS = np.log([1.0, 2.8, 0.9, 1.9, 2.4, 1.2])


@dataclass
class Condition:
    """A condition of three specimens with three matings each: its middle in ohm and the course of each mating."""

    ohm: float
    course: np.ndarray
    moving: int = 9
    turns: bool = True


def told(
    conditions: dict[str, Condition], *, paired: bool = False, reference: str = "new", **study: object
) -> Told:
    rng = np.random.default_rng(5)
    specimen, condition, mating, ohm = [], [], [], []
    for name, one in conditions.items():
        for number in range(9):
            order = rng.permutation(6) if one.turns else np.arange(6)
            moved = one.course[order] if number < one.moving else STILL
            values = one.ohm * np.exp(0.03 * rng.standard_normal() + moved + 0.002 * rng.standard_normal(6))
            specimen += [f"S{number // 3}" if paired else f"{name} {number // 3}"] * 6
            condition += [name] * 6
            mating += [str(number % 3)] * 6
            ohm += list(values)
    sign = np.tile([1.0, -1.0], len(ohm) // 2)
    asked = ow.Study(
        "?",
        reference=reference if len(conditions) > 1 else None,
        limit=ow.Limit(LIMIT, "datasheet"),
        **study,  # type: ignore[arg-type]
    )
    loaded = ow.from_arrays(
        asked,
        specimen=specimen,
        condition=condition,
        mating=mating,
        voltage=0.1 * np.array(ohm) * sign,
        current=0.1 * sign,
    )
    return report_study(loaded)


NEW = Condition(2.4e-3, STILL)


def test_it_leads_the_answer_the_findings_the_steps_and_the_warnings() -> None:
    answer = told({"new": NEW, "dirty": Condition(2.0e-3, RESTLESS)}, margin=1.0).answer
    assert answer.sentence.startswith(
        "'dirty' contacts do not settle: within one mating the readings change by a factor of"
    )
    assert answer.findings[0] == answer.sentence[: len(answer.findings[0])]
    assert answer.actions[0].words.startswith("Let 'dirty' contacts settle")
    (doubt,) = [w for w in answer.warnings if w.code == "CONDITION_MOVING"]
    assert doubt.rows == tuple(range(56, 110))
    assert not doubt.set_aside
    assert answer.rows_used == answer.rows


def test_no_average_makes_it_within_or_too_small_to_matter() -> None:
    """Settled, the same averages are both: the margin is an ohm, and the limit ten times as high."""
    settled, moving = (
        told({"new": NEW, "dirty": Condition(2.0e-4, course)}, margin=1.0).answer
        for course in (STILL, RESTLESS)
    )
    assert (settled.conditions[1].verdict, settled.comparisons[0].verdict) == (
        "within",
        "too small to matter",
    )
    dirty = moving.conditions[1]
    assert (dirty.state, dirty.verdict, moving.comparisons[0].verdict) == (
        "still moving",
        "too close to call",
        "cannot tell yet",
    )
    assert dirty.probability_within is dirty.probability_next_over is dirty.tolerance_bound is None
    assert moving.comparisons[0].settle == ()
    assert {(s.verdict, s.state) for s in moving.specimens if s.condition == "dirty"} == {
        ("too close to call", "still moving")
    }
    assert "too small" not in moving.sentence
    assert "within" not in heading(moving)[0].replace("within the limit", "")
    assert not any(a.words.startswith("Leave") for a in moving.actions)
    assert [(s.of, s.against) for s in moving.sensitivity] == [("new", None)]
    # The settled condition beside it keeps its verdicts.
    assert moving.conditions[0].verdict == "within"


def test_what_even_its_lowest_readings_show_is_said() -> None:
    answer = told({"new": NEW, "dirty": Condition(40e-3, RESTLESS)}, margin=2e-3).answer
    dirty = answer.conditions[1]
    assert dirty.lowest_reading is not None
    assert dirty.movement is not None
    assert dirty.lowest_reading / dirty.movement > LIMIT
    assert (dirty.verdict, answer.comparisons[0].verdict) == ("over", "enough to matter")
    assert "Even the lowest readings" in answer.sentence


@pytest.mark.parametrize("ohm", [4e-3, 7e-3])
def test_lowest_readings_near_the_limit_show_nothing(ohm: float) -> None:
    answer = told({"new": NEW, "dirty": Condition(ohm, RESTLESS)}, margin=2e-3).answer
    assert (answer.conditions[1].verdict, answer.comparisons[0].verdict) == (
        "too close to call",
        "cannot tell yet",
    )


def test_a_reference_that_moves_leaves_nothing_to_compare_with() -> None:
    conditions = {"new": NEW, "dirty": Condition(2.0e-3, RESTLESS), "cleaned": NEW}
    answer = told(conditions, margin=1.0, reference="dirty").answer
    assert {c.verdict for c in answer.comparisons} == {"cannot tell yet"}
    assert "cannot be told before they settle" in answer.sentence


def test_a_comparison_of_settled_conditions_is_still_told() -> None:
    conditions = {"new": NEW, "dirty": Condition(2.0e-3, RESTLESS), "cleaned": Condition(2.5e-3, STILL)}
    answer = told(conditions, margin=1e-3).answer
    assert [c.verdict for c in answer.comparisons] == ["cannot tell yet", "too small to matter"]
    assert "That is too small to matter" in answer.sentence
    leave = [a.words for a in answer.actions if a.words.startswith("Leave")]
    assert leave
    assert not any("all these" in words for words in leave)


def test_a_study_with_nothing_else_is_told_too() -> None:
    answer = told({"dirty": Condition(2.0e-3, RESTLESS)}).answer
    assert answer.conditions[0].state == "still moving"
    assert "passed by no average" in answer.sentence
    assert answer.actions[0].words.startswith("Let 'dirty' contacts settle")


@pytest.mark.parametrize(("drift", "state"), [(0.05, "settled"), (0.25, "still moving")])
def test_a_drift_in_every_mating_is_the_conditions_own_from_a_tenth_on(drift: float, state: str) -> None:
    """Below that each mating is told to drift, and its average counts."""
    answer = told({"new": NEW, "dirty": Condition(2.4e-3, np.linspace(0, drift, 6), turns=False)}).answer
    assert [c.state for c in answer.conditions] == ["settled", state]
    assert {s.state for s in answer.specimens if s.condition == "dirty"} == {"still moving"}


def test_few_moving_matings_are_left_out_as_before() -> None:
    answer = told({"new": NEW, "dirty": Condition(2.4e-3, RESTLESS, moving=2)}, margin=1.0).answer
    assert {c.state for c in answer.conditions} == {"settled"}
    assert answer.rows - answer.rows_used == 12
    assert [c.verdict for c in answer.comparisons] == ["too small to matter"]


def test_contacts_that_are_no_longer_so_are_judged_as_they_are_now() -> None:
    conditions = {"dirty": Condition(2.0e-3, RESTLESS), "new": NEW}
    answer = told(conditions, paired=True, reference="dirty", margin=1.0).answer
    assert "still moving" not in heading(answer)[0]
    assert answer.actions[0].words.startswith("Let others that are still 'dirty' settle")


def test_no_average_over_factors_hides_what_moves() -> None:
    """Plugs and sockets, new and worn; only the worn plugs in worn sockets move."""
    rng = np.random.default_rng(8)
    specimen, plug, socket, mating, ohm = [], [], [], [], []
    for number, (p, s) in enumerate([("new", "new"), ("new", "worn"), ("worn", "new"), ("worn", "worn")] * 3):
        for m in range(3):
            moved = rng.permutation(RESTLESS) if (p, s) == ("worn", "worn") else STILL
            specimen += [f"S{number}"] * 6
            plug += [p] * 6
            socket += [s] * 6
            mating += [str(m)] * 6
            ohm += list(
                2.4e-3 * np.exp(0.03 * rng.standard_normal() + moved + 0.002 * rng.standard_normal(6))
            )
    sign = np.tile([1.0, -1.0], len(ohm) // 2)
    verdicts = {}
    for name, values in (("moving", np.array(ohm)), ("settled", 2.4e-3 * (np.array(ohm) / 2.4e-3) ** 0.01)):
        answer = answer_study(
            ow.from_arrays(
                ow.Study("?", reference="new plug, new socket", margin=1.0, factors=("plug condition", "socket condition")),
                specimen=specimen, mating=mating, voltage=0.1 * values * sign, current=0.1 * sign,
                further={"plug condition": plug, "socket condition": socket},
            )
        )  # fmt: skip
        verdicts[name] = {c.verdict for factor in answer.factors for c in factor.comparisons}
    assert verdicts == {"moving": {"cannot tell yet"}, "settled": {"too small to matter"}}


def test_it_stands_in_the_json_and_in_the_tables() -> None:
    found = told({"new": NEW, "dirty": Condition(2.0e-3, RESTLESS)}, margin=1.0)
    plain = json.loads(json.dumps(ow.as_json(found.answer)))["conditions"]
    assert [c["state"] for c in plain] == ["settled", "still moving"]
    assert plain[0]["movement"] is None
    assert plain[1]["movement"] > 2
    (table,) = [
        b for s in found.report.sections for b in s.blocks if getattr(b, "caption", "") == "Conditions"
    ]
    assert "Still moving: 'dirty'" in table.note  # type: ignore[union-attr]
