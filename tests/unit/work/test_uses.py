"""Circuits as they are asked for: by kind, as a study has them, or made already; each with a name of its own."""

import pytest

from ohmsworth.consequence import make_use
from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.readings.study import UseRequest
from ohmsworth.work.uses import made_uses


def test_a_kind_a_request_and_a_use_are_the_same_circuit() -> None:
    request = UseRequest("headphone", "", {"length": 3.0})
    use = make_use("headphone", "", {"length": 3.0})
    assert made_uses(["headphone"]) == (make_use("headphone"),)
    assert made_uses([request]) == made_uses([use]) == (use,)


def test_names_are_numbered_where_they_would_be_alike() -> None:
    asked = [
        "video",
        UseRequest("video", "video 2"),
        "video",
        UseRequest("headphone", "video"),
        make_use("video", "feed"),
    ]
    names = [use.name for use in made_uses(asked)]
    assert names == ["video", "video 2", "video 3", "video 4", "feed"]
    assert [use.kind for use in made_uses(asked)] == ["video", "video", "video", "headphone", "video"]


def test_names_that_differ_stay_as_they_are() -> None:
    asked = [UseRequest("video", "left"), UseRequest("video", "right")]
    assert [use.name for use in made_uses(asked)] == ["left", "right"]
    assert made_uses([]) == ()


def test_what_is_no_circuit_is_refused() -> None:
    with pytest.raises(UnknownName, match="toaster"):
        made_uses(["toaster"])
    with pytest.raises(ArgumentFault, match="length"):
        made_uses([UseRequest("video", "", {"length": -1.0})])
