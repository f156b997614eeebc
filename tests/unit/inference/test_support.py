"""Which designs can bear a verdict: what one specimen, or one plug, of a kind cannot tell."""

import numpy as np
import pytest
from tests.tables import design_of

from ohmsworth.inference.design import Design
from ohmsworth.inference.support import lonely, supported

#: Specimen and condition of each reading, and whether condition 1 can be judged against condition 0.
DESIGNS = {
    "two each": ([0, 1, 2, 3], [0, 0, 1, 1], True),
    "one beside two": ([0, 1, 2], [0, 0, 1], False),
    "two under both": ([0, 1, 0, 1], [0, 0, 1, 1], True),
    "one under both": ([0, 0], [0, 1], False),
    "one shared, one more each": ([0, 1, 0, 2], [0, 0, 1, 1], True),
    "two, of which one again": ([0, 1, 0], [0, 0, 1], False),
}


def design(specimen: list[int], condition: list[int], **parts: np.ndarray) -> Design:
    y = np.random.default_rng(1).normal(0, 1, 2 * len(specimen))
    return design_of(y, np.repeat(specimen, 2), np.repeat(condition, 2), **parts)


@pytest.mark.parametrize("name", DESIGNS)
def test_specimens(name: str) -> None:
    specimen, condition, expected = DESIGNS[name]
    first, second = np.eye(2)
    assert supported(design(specimen, condition), second, first) == expected


def pairs(plugs: list[int], sockets: int) -> Design:
    """Plugs of the conditions given, each on every socket."""
    plug = np.repeat(np.arange(len(plugs)), sockets)
    socket = np.tile(np.arange(sockets), len(plugs))
    return design(
        (10 * plug + socket).tolist(),
        np.repeat(plugs, sockets).tolist(),
        plug=np.repeat(plug, 2),
        socket=np.repeat(socket, 2),
    )


@pytest.mark.parametrize(("plugs", "expected"), [([0, 1], False), ([0, 0, 1], False), ([0, 0, 1, 1], True)])
def test_one_plug_is_no_kind_of_plug_however_many_its_sockets(plugs: list[int], expected: bool) -> None:
    first, second = np.eye(2)
    assert supported(pairs(plugs, 4), second, first) == expected
    assert (not lonely(pairs(plugs, 4)).any()) == expected


def test_several_factors_need_two_specimens_in_every_combination() -> None:
    """One specimen a kind, each under three phases: neither the kind nor the phases can be judged."""
    specimen = [0, 0, 0, 1, 1, 1]
    whole = design(specimen, [0, 1, 2, 3, 4, 5])
    kinds = np.array([[1, 1, 1, 0, 0, 0], [0, 0, 0, 1, 1, 1]]) / 3
    phases = np.array([[1, 0, 0, 1, 0, 0], [0, 1, 0, 0, 1, 0]]) / 2
    assert not supported(whole, kinds[1], kinds[0])
    assert not supported(whole, phases[1], phases[0])
