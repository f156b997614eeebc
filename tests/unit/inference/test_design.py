"""Which levels a study has, which are merged, which cannot be estimated."""

import numpy as np
import pytest
from tests.tables import design_of

from ohmsworth.inference.design import Design, build_design
from ohmsworth.inference.reml import fit_reml
from ohmsworth.readings import Labels


def chain(design: Design) -> list[str]:
    return [level.name for level in design.chain]


def test_separate_specimens_with_matings_and_readings() -> None:
    design = design_of(
        range(8), "aaaabbbb", "xxxxyyyy", mating="11221122"
    )  # one specimen a condition: its own scatter cannot be told from the condition
    assert chain(design) == ["mating", "reading"]
    design = design_of(range(16), "aaaabbbbccccdddd", "x" * 8 + "y" * 8, mating="1122" * 4)
    assert chain(design) == ["specimen", "mating", "reading"]
    assert [level.size for level in design.chain] == [4, 8, 16]
    assert not design.paired


def test_one_reading_a_specimen_leaves_one_level() -> None:
    design = design_of([1, 2, 3], "abc")
    assert chain(design) == ["specimen"]
    assert design.residual.merged == ("reading",)


def test_the_same_specimens_before_and_after_have_a_response() -> None:
    design = design_of(range(12), "aabbcc" * 2, "x" * 6 + "y" * 6)
    assert design.paired
    assert chain(design) == ["specimen", "response", "reading"]


def test_response_and_reading_are_one_where_each_was_read_once() -> None:
    design = design_of(range(6), "abc" * 2, "xxxyyy")
    assert chain(design) == ["specimen", "reading"]
    assert design.paired


def test_response_gives_way_to_a_name_of_the_bench() -> None:
    design = design_of(range(12), "aabbcc" * 2, "x" * 6 + "y" * 6, mating="1" * 12)
    assert "mating" in chain(design)
    assert "response" not in chain(design)


def test_conditions_keep_the_order_of_their_labels_whichever_comes_first() -> None:
    """Condition numbers are label numbers, also where the first label's first rows were set aside."""
    whole = design_of([1, 2, 3, 4], "aabb", "xyxy")
    assert whole.condition.tolist() == [0, 1, 0, 1]
    labels = np.array([1, 0, 1])  # what is left when the first row is set aside
    left = build_design(
        np.array([2.0, 3.0, 4.0]), Labels(labels, ("x", "y")), Labels(np.array([0, 1, 1]), ("a", "b"))
    )
    assert left.condition.tolist() == [1, 0, 1]


def test_re_paired_plugs_and_sockets_are_crossed() -> None:
    pairs = [(p, s) for p in "abc" for s in "123"]
    design = design_of(
        range(18), [p + s for p, s in pairs for _ in "xx"], plug=[p for p, _ in pairs for _ in "xx"],
        socket=[s for _, s in pairs for _ in "xx"],
    )  # fmt: skip
    assert [(level.name, level.size) for level in design.crossed] == [("plug", 3), ("socket", 3)]
    assert chain(design) == ["specimen", "reading"]


def test_plugs_that_always_meet_the_same_socket_are_the_specimen() -> None:
    design = design_of(range(6), "aabbcc", plug="ppqqrr", socket="sstttt"[:6])
    assert [level.name for level in design.crossed] == ["socket"]
    assert design_of(range(6), "aabbcc", plug="ppqqrr", socket="ssttuu").crossed == ()


def test_a_specimen_that_is_the_plug_is_crossed_with_the_sockets_it_meets() -> None:
    pairs = [(p, s) for p in "abc" for s in "123"]
    design = design_of(
        range(18), [p for p, _ in pairs for _ in "xx"], socket=[s for _, s in pairs for _ in "xx"]
    )
    assert [(level.name, level.size) for level in design.crossed] == [("plug", 3), ("socket", 3)]
    assert [(level.name, level.size) for level in design.chain] == [("specimen", 9), ("reading", 18)]


@pytest.mark.parametrize("level", ["contact", "mating"])
def test_names_used_again_in_another_specimen_are_other_groups(level: str) -> None:
    design = design_of(range(8), "aaaabbbb", **{level: "11221122"})
    assert [part.size for part in design.chain] == [2, 4, 8]


def test_pairs_read_once_each_are_crossed_all_the_same() -> None:
    """No level lies inside the pair then; each reading still belongs to its own plug and socket."""
    pairs = [(p, s) for p in "abc" for s in "123"]
    y = np.array([1.0, 1.1, 0.9, 3.0, 3.2, 2.8, 5.1, 5.0, 4.9])
    fit = fit_reml(design_of(y, range(9), plug=[p for p, _ in pairs], socket=[s for _, s in pairs]))
    square = y.reshape(3, 3)
    plug = 3 * square.mean(1).var(ddof=1)
    socket = 3 * square.mean(0).var(ddof=1)
    total = ((y - y.mean()) ** 2).sum()
    error = (total - 2 * plug - 2 * socket) / 4
    if socket < error:  # the sockets' scatter is at its bound: pooled with the error
        assert fit.of("socket", 0) == 0
        error = (total - 2 * plug) / 6
    assert fit.of("specimen", 0) == pytest.approx(error, rel=1e-6)
    assert fit.of("plug", 0) == pytest.approx((plug - error) / 3, rel=1e-6)
