"""From wishes to a plan."""

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import drive, peak
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for

CIRCUIT = Circuit(Shunt(0.1), 47.0, 1.4, 0.82)


def same(one: TonePlan, other: TonePlan) -> bool:
    return all(
        np.array_equal(getattr(one, name), getattr(other, name)) for name in TonePlan.__dataclass_fields__
    )


def test_the_same_wishes_give_the_same_plan() -> None:
    assert same(plan_for(Wishes(CIRCUIT, 0.01, 0.02)), plan_for(Wishes(CIRCUIT, 0.01, 0.02)))


def test_the_time_is_that_of_all_tones() -> None:
    together = plan_for(Wishes(CIRCUIT, 0.01, 0.02, seconds=30.0))
    assert sum(len(part) for part in together.main) == 30 * 48_000
    in_turn = plan_for(Wishes(CIRCUIT, 0.01, 0.02, tones=5, seconds=30.0, way="in turn"))
    assert sum(len(part) for part in in_turn.main) == 30 * 48_000
    assert len(in_turn.main) == 5


def test_a_longer_period_is_taken_where_the_short_one_has_no_tones() -> None:
    assert plan_for(Wishes(CIRCUIT, 0.01, 0.02, tones=11)).period == 48_000
    assert plan_for(Wishes(CIRCUIT, 0.01, 0.02, tones=31)).period == 96_000
    with pytest.raises(ArgumentFault, match="longer period"):
        plan_for(Wishes(CIRCUIT, 0.01, 0.02, tones=31, period=0.5))


def test_too_little_time_is_refused() -> None:
    with pytest.raises(ArgumentFault) as refused:
        plan_for(Wishes(CIRCUIT, 0.01, 0.02, tones=5, seconds=2.0, way="in turn"))
    assert refused.value.name == "seconds"


@pytest.mark.parametrize("way", ["together", "in turn"])
def test_nothing_that_is_played_is_louder_than_the_plan_says(way: str) -> None:
    plan = plan_for(Wishes(CIRCUIT, 0.01, 0.02, tones=3, seconds=6.0, way=way))  # type: ignore[arg-type]
    assert np.abs(drive(plan, 0, plan.length)).max() <= peak(plan) * (1 + 1e-9)
    assert peak(plan) < 0.9
