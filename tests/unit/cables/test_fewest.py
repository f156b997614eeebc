"""The fewest measurements: all touches are found, and a sound cable takes ceil(log2 n) of them."""

import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.cables.fewest import (
    Asked,
    Question,
    contradicting,
    left_open,
    next_question,
    separating,
    touching,
    unexplained,
)
from ohmsworth.cables.nets import joined


def measured(nets: int, pairs: list[tuple[int, int]]) -> tuple[set[frozenset[int]], int]:
    """The groups that touch as the guided measurements find them, and how many measurements that took."""
    groups = joined(range(nets), pairs)
    group = {net: number for number, one in enumerate(groups) for net in one}
    asked: list[Asked] = []
    while (question := next_question(nets, asked)) is not None:
        sides = [{group[net] for net in side} for side in (question.one, question.other)]
        # What is joined by hand on one side may pass through a touch on the other only by way of nets that are on it.
        asked.append(Asked(question, bool(sides[0] & sides[1])))
        assert len(asked) <= nets * nets
    found = joined(range(nets), touching(asked))
    return {frozenset(one) for one in found if len(one) > 1}, len(asked)


@pytest.mark.parametrize("nets", [1, 2, 3, 8, 48, 144])
def test_a_sound_cable_takes_one_a_binary_digit(nets: int) -> None:
    found, took = measured(nets, [])
    assert not found
    assert took == math.ceil(math.log2(nets))


@pytest.mark.parametrize("nets", [2, 5, 48, 97])
def test_any_two_nets_are_told_apart(nets: int) -> None:
    """Every pair stands across in at least one question: the property of a separating system."""
    across = {
        frozenset((a, b)) for question in separating(nets) for a in question.one for b in question.other
    }
    assert across == {frozenset(pair) for pair in combinations(range(nets), 2)}


@given(st.data())
def test_every_touch_is_found(data: st.DataObject) -> None:
    nets = data.draw(st.integers(2, 24))
    net = st.integers(0, nets - 1)
    pairs = data.draw(st.lists(st.tuples(net, net).filter(lambda pair: pair[0] != pair[1]), max_size=4))
    found, _ = measured(nets, pairs)
    assert found == {frozenset(one) for one in joined(range(nets), pairs) if len(one) > 1}


def test_one_touch_takes_few_more() -> None:
    """Halving: about twice as many questions again as a sound cable of 48 nets takes, not 1,128."""
    took = max(measured(48, [pair])[1] for pair in list(combinations(range(48), 2))[::47])
    assert took <= 3 * 6 + 12


def test_a_path_that_all_others_rule_out_is_named_and_not_halved() -> None:
    asked = [Asked(Question((0, 1), (2, 3)), path=True)]
    asked += [Asked(Question((a,), (b,)), path=False) for a, b in combinations(range(4), 2)]
    assert contradicting(asked) == (0,)
    assert unexplained(asked) == (0,)
    assert next_question(4, asked) is None
    assert left_open(4, asked) == 0


def test_what_is_left_open_is_counted() -> None:
    """Of 6 pairs of 4 nets one question rules 4 out."""
    assert left_open(4, []) == 6
    assert left_open(4, [Asked(Question((0, 1), (2, 3)), path=False)]) == 2
    assert left_open(4, [Asked(Question((0,), (1,)), path=True)]) == 5
