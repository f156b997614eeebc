"""How the contacts were read: which state is the last, at which current, and whether any was mated again."""

from __future__ import annotations

import pytest
from tests.journeys.kinds import METERS, asking, contacts, in_ohm, told

from ohmsworth.report.answer import Answer

STATES = {"before": 5e-3, "after": 2.4e-3}


def answered(states: dict[str, float], paired: bool = True) -> Answer:
    return told(asking("before", 'margin = "1 mΩ"') + METERS, contacts(states, paired=paired)).answer


@pytest.mark.parametrize("states", [STATES, dict(reversed(STATES.items()))])
def test_without_times_the_state_whose_rows_come_later_is_the_last(states: dict[str, float]) -> None:
    found = answered(states)
    last = list(states)[-1]
    assert found.comparisons[0].read_last == last
    assert {s.condition for s in found.specimens if s.latest} == {last}


def test_times_come_before_the_order_of_the_rows() -> None:
    rows = contacts(dict(reversed(STATES.items())), paired=True)
    clock = {"before": "2024-05-01T10:00", "after": "2024-05-02T10:00"}
    timed = [row | {"time": clock[str(row["condition"])]} for row in rows]
    found = told(asking("before", 'margin = "1 mΩ"') + METERS, timed).answer
    assert found.comparisons[0].read_last == "after"


def test_specimens_read_by_turns_have_no_last_state() -> None:
    rows = sorted(contacts(STATES, paired=True), key=lambda r: (str(r["specimen"]), str(r["mating"])))
    found = told(asking("before", 'margin = "1 mΩ"') + METERS, rows).answer
    assert found.comparisons[0].paired
    assert found.comparisons[0].read_last is None
    assert all(s.latest for s in found.specimens)


def test_specimens_read_in_different_orders_have_none_either() -> None:
    rows = contacts(STATES, paired=True)
    turned = [r for r in rows if r["specimen"] != "P1"]
    first = [r for r in rows if r["specimen"] == "P1"]
    turned += first[len(first) // 2 :] + first[: len(first) // 2]
    found = told(asking("before", 'margin = "1 mΩ"') + METERS, turned).answer
    assert found.comparisons[0].read_last is None
    assert all(s.latest for s in found.specimens)


def test_separate_specimens_are_all_as_they_were_read() -> None:
    found = answered(STATES, paired=False)
    assert found.comparisons[0].read_last is None
    assert all(s.latest for s in found.specimens)


def test_a_contact_that_was_not_read_again_is_still_as_it_was() -> None:
    rows = contacts(STATES, specimens=5, paired=True)
    kept = [r for r in rows if not (r["condition"] == "after" and r["specimen"] == "P1")]
    found = told(asking("before", 'margin = "1 mΩ"') + METERS, kept).answer
    assert {(s.id, s.condition) for s in found.specimens if s.latest and s.condition == "before"} == {
        ("P1", "before")
    }
    assert found.comparisons[0].read_last == "after"


def test_the_largest_current_is_that_of_any_row() -> None:
    rows = contacts({"new": 2.4e-3}, paired=True)
    found = told(asking() + METERS, rows).answer
    assert found.largest_current == pytest.approx(max(abs(float(str(r["current [mA]"]))) for r in rows) / 1e3)
    assert told(asking(), in_ohm(rows)).answer.largest_current is None


@pytest.mark.parametrize(("matings", "said"), [(1, True), (2, False)])
def test_contacts_mated_once_are_said_to_be(matings: int, said: bool) -> None:
    rows = contacts({"new": 2.4e-3, "worn": 3e-3}, matings=matings)
    for given in (rows, [{k: v for k, v in r.items() if k != "mating"} for r in rows]):
        found = told(asking("new") + METERS, given).answer
        once = said or "mating" not in given[0]
        assert ("ONE_MATING" in {w.code for w in found.warnings}) is once


def test_one_contact_mated_twice_is_enough() -> None:
    rows = contacts({"new": 2.4e-3}, matings=2)
    few = [r for r in rows if r["mating"] == 1 or r["specimen"] == rows[0]["specimen"]]
    found = told(asking() + METERS, few).answer
    assert "ONE_MATING" not in {w.code for w in found.warnings}
