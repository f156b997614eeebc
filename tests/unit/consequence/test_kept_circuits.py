"""Solved circuits are kept, and never taken for another."""

import numpy as np

from ohmsworth.consequence import effects, make_use, thresholds
from ohmsworth.consequence.kinds import curves_of, rules_of
from ohmsworth.readings.lead import MeasuredLead


def lead(factor: float) -> MeasuredLead:
    """One ohm times `factor` in series, over frequency."""
    frequency = np.geomspace(10.0, 1e5, 20)
    chain = np.tile(np.array([[1.0, factor], [0.0, 1.0]], dtype=complex), (20, 1, 1))
    return MeasuredLead(frequency, chain)


def test_the_same_circuit_is_solved_once() -> None:
    first, again = (make_use("loudspeaker", values={"length": 20.0}) for _ in range(2))
    assert rules_of(first) is rules_of(again)
    assert curves_of(first) is curves_of(again)
    assert thresholds(first) is thresholds(again)


def test_another_value_name_or_kind_is_another_circuit() -> None:
    uses = [
        make_use("loudspeaker"),
        make_use("loudspeaker", values={"length": 20.0}),
        make_use("loudspeaker", "the hall"),
        make_use("headphone"),
    ]
    assert len({id(rules_of(use)) for use in uses}) == 4
    assert thresholds(uses[2])[0].use == "the hall"
    at = [effects(use, 0.1)[0].value for use in uses[:2]]
    assert at[0] != at[1]


def test_a_lead_is_told_from_another_that_was_measured() -> None:
    one, other = lead(1.0), lead(2.0)
    uses = [make_use("measured lead", lead=each) for each in (one, other, one)]
    assert rules_of(uses[0]) is rules_of(uses[2])
    assert rules_of(uses[0]) is not rules_of(uses[1])
