"""A circuit out of a form: read as a file is, and every fault by its key."""

import dataclasses

import pytest

from ohmsworth.adapters.files import filled_use
from ohmsworth.errors import InputRefused
from ohmsworth.materials import CONSTRUCTIONS


def test_what_is_filled_in_is_read() -> None:
    use = filled_use("loudspeaker", {"length": "20 m", "contacts_near": "2", "plating": "gold"})
    assert (use.kind, use.values) == (
        "loudspeaker",
        {"length": 20.0, "contacts_near": 2.0, "plating": "gold"},
    )
    assert filled_use("video", {}).values == {}


def test_the_shops_own_cables_can_be_named() -> None:
    own = dataclasses.replace(next(c for c in CONSTRUCTIONS if c.family == "two-core"), name="ours")
    assert filled_use("loudspeaker", {"cable": "ours"}, [own]).cables == (own,)
    with pytest.raises(InputRefused, match="ours"):
        filled_use("loudspeaker", {"cable": "ours"})


@pytest.mark.parametrize(
    ("kind", "values", "where"),
    [
        ("loudspaeker", {}, ["the circuit"]),
        (
            "video",
            {"length": "20", "lenght": "1 m"},
            ["the circuit, key 'length'", "the circuit, key 'lenght'"],
        ),
        ("video", {"kind": "headphone"}, []),  # the kind is what it is asked for
        ("video", {"length": "1e9 m"}, ["the circuit, key 'length'"]),
    ],
)
def test_every_fault_is_told_by_its_key(kind: str, values: dict[str, str], where: list[str]) -> None:
    if not where:
        assert filled_use(kind, values).kind == kind
        return
    with pytest.raises(InputRefused) as refused:
        filled_use(kind, values)
    assert [fault.where for fault in refused.value.faults] == where
